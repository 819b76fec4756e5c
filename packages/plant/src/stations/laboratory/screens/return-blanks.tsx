import {
  emptyReading,
  MainAct,
  printMicrograms,
  printNumber,
  type ReadingDraft,
  ReadingField,
  readingOf,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { BlankChoice } from './blank-choice.tsx';
import { InstrumentChoice } from './instrument-choice.tsx';
import { readingRefusal, useMeasuringInstruments } from './measure-blanks.tsx';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { isWholeHere } from './next-act.ts';

interface ReturnDraft {
  readonly chosen: readonly string[] | null;
  readonly gross: ReadingDraft;
}

/** Whole, measured blanks go back to the rest of their melt at receiving. */
export function ReturnBlanks(work: MeltWork) {
  const { answer, instruments } = work;
  const { melt } = answer;
  const hand = useMeasuringInstruments(instruments);
  const [draft, change, clear] = useDraft<ReturnDraft>(`return blanks ${melt}`, {
    chosen: null,
    gross: emptyReading('g'),
  });
  const giveBack = useCommand('return-blanks', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  const whole = answer.blanks.filter(isWholeHere);
  const ids = whole.map(({ blank }) => blank);
  const chosen =
    draft.chosen?.filter((blank) => ids.includes(blank)) ??
    whole.filter(({ forAssay }) => !forAssay).map(({ blank }) => blank);
  const measured = whole
    .filter(({ blank }) => chosen.includes(blank))
    .reduce((sum, { measurement }) => sum + (measurement?.massMicrograms ?? 0), 0);
  return (
    <MeltFrame
      {...work}
      title="Return blanks to receiving"
      mainAct={
        <MainAct
          label="Return blanks"
          command={giveBack}
          notYet={chosen.length === 0 ? 'Choose the blanks that go back.' : undefined}
          input={() => ({
            melt,
            blanks: chosen,
            gross: readingOf(draft.gross),
            instrument: hand.balance,
          })}
        />
      }
    >
      <BlankChoice
        title="Blanks that go back"
        blanks={whole}
        chosen={chosen}
        onChange={(now) => change({ chosen: now })}
        refusal={giveBack.refusals.find(({ field }) => field?.startsWith('blanks'))?.message}
      />
      <ReadingField
        label="Mass of the blanks"
        value={draft.gross}
        onChange={(gross) => change({ gross })}
        onInstrument={(balance) => hand.keep({ balance })}
        hint={`${printNumber(chosen.length)} blanks, measured one by one at ${printMicrograms(measured, 'g', 3)} g together.`}
        refusal={readingRefusal(giveBack, 'gross')}
      />
      <InstrumentChoice
        label="Balance"
        instruments={instruments}
        kinds={['balance']}
        value={hand.balance}
        onChange={(balance) => hand.keep({ balance })}
        refusal={giveBack.refusalAt('instrument')}
      />
    </MeltFrame>
  );
}
