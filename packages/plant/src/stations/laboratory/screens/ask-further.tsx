import {
  MainAct,
  printNumber,
  TextField,
  useCommand,
  useDraft,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import { FurtherRounds } from './further-rounds.tsx';
import { MeltFrame, type MeltWork } from './melt-frame.tsx';
import { determinationsLeft } from './next-act.ts';

/** An assayer says how many further blanks he needs; which ones is drawn. */
export function AskFurther(work: MeltWork) {
  const { melt, further } = work.answer;
  const [draft, change, clear] = useDraft(`further ${melt}`, { pieces: '2', reason: '' });
  const ask = useCommand('ask-further-blanks', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries, 'They are drawn and taken at receiving.');
    },
  });
  return (
    <MeltFrame
      {...work}
      title="Further blanks for assay"
      mainAct={
        <MainAct
          label="Ask for further blanks"
          command={ask}
          input={() => ({ melt, pieces: wholeNumberOf(draft.pieces), reason: draft.reason })}
          notYet={draft.reason.trim().length < 3 ? 'Say why they are needed.' : undefined}
        />
      }
    >
      <p>
        Every blank that was drawn for assay is used, and {further.mayAskSince}. Say how many more
        are needed: which ones follows from this entry, and the inspector takes them from the drums.
      </p>
      <FurtherRounds answer={work.answer} />
      <TextField
        label="Further blanks"
        kind="whole number"
        value={draft.pieces}
        onChange={(pieces) => change({ pieces })}
        hint={`At most ${printNumber(determinationsLeft(work.answer))} more determinations may be added.`}
        refusal={ask.refusalAt('pieces') ?? ask.refusalAt('melt')}
      />
      <TextField
        label="Why they are needed"
        kind="long"
        value={draft.reason}
        onChange={(reason) => change({ reason })}
        refusal={ask.refusalAt('reason')}
      />
    </MeltFrame>
  );
}
