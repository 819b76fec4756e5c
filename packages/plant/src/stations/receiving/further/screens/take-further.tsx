import type { ReactNode } from 'react';
import {
  emptyReading,
  FieldRow,
  MainAct,
  Part,
  printNumber,
  ReadingField,
  readingOf,
  TextField,
  useCommand,
  useDraft,
} from '../../../../workbench/index.ts';
import { countScanned, forgetScan, nothingScanned } from '../../screens/picks-in-hand.ts';
import { ScanPicks, SubstitutePick } from '../../screens/scan-picks.tsx';
import type { FurtherAnswer } from './further-answer.ts';
import { FurtherFrame } from './further-frame.tsx';

/** The further blanks are scanned at their drums, weighed together and brought to the laboratory. */
export function TakeFurther(props: { readonly answer: FurtherAnswer; readonly trays: ReactNode }) {
  const { answer, trays } = props;
  const { melt, round, drums } = answer;
  const [draft, change, clear] = useDraft(`take further ${melt} ${round.round}`, {
    gross: emptyReading('g'),
    instrument: '',
    reason: '',
    inHand: nothingScanned,
  });
  const take = useCommand('take-further-blanks', { onRecorded: clear });
  const missing = round.pieces - countScanned(drums, draft.inHand);
  const scanned = drums.flatMap(({ picks }) =>
    picks.flatMap(({ blank }) => (draft.inHand.scanned.includes(blank) ? [blank] : [])),
  );
  const isWeighed = draft.gross.text !== '' && draft.instrument !== '';
  const isExplained = missing === 0 || draft.reason.trim().length >= 3;
  const notYet = !isWeighed
    ? 'Take the blanks out, mark them and weigh them together.'
    : isExplained
      ? undefined
      : `${printNumber(missing)} picks are not scanned: scan them, or say why they cannot be.`;
  return (
    <FurtherFrame
      answer={answer}
      trays={trays}
      scanned={new Set(scanned)}
      above={
        <ScanPicks
          drums={drums}
          samplePieces={round.pieces}
          inHand={draft.inHand}
          change={(inHand) => change({ inHand })}
        />
      }
      act={
        <MainAct
          label="Take further blanks"
          command={take}
          input={() => ({
            melt,
            gross: readingOf(draft.gross),
            instrument: draft.instrument,
            verification: { scanned, reason: missing === 0 ? null : draft.reason },
          })}
          notYet={notYet}
        />
      }
    >
      <SubstitutePick
        melt={melt}
        command="substitute-further-pick"
        onSubstituted={(blank) => change({ inHand: forgetScan(draft.inHand, blank) })}
      />
      <Part title="Record what was taken">
        <ReadingField
          label="Mass of the further blanks"
          large
          value={draft.gross}
          onChange={(gross) => change({ gross })}
          onInstrument={(instrument) => change({ instrument })}
          hint="All of them together, without their container."
          refusal={take.refusalAt('gross') ?? take.refusalAt('gross.text')}
        />
        <FieldRow>
          <TextField
            label="Balance"
            kind="code"
            value={draft.instrument}
            onChange={(instrument) => change({ instrument })}
            hint="Scan the label of the balance."
            refusal={take.refusalAt('instrument')}
          />
        </FieldRow>
        {missing === 0 ? null : (
          <TextField
            label="Why picks are not scanned"
            value={draft.reason}
            onChange={(reason) => change({ reason })}
            optional
            hint={`${printNumber(missing)} of ${printNumber(round.pieces)} are not.`}
            refusal={take.refusalAt('verification.reason')}
          />
        )}
      </Part>
    </FurtherFrame>
  );
}
