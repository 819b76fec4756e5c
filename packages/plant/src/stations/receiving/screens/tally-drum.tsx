import {
  FieldRow,
  MainAct,
  Part,
  TextField,
  useCommand,
  useDraft,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import { ConsignmentFrame } from './consignment-frame.tsx';
import type { ConsignmentAnswer } from './desk-answer.ts';
import { OtherActs } from './other-acts.tsx';

/** Counting drums by hand, two people, where weight alone does not prove the count. */
export function TallyDrum({ answer }: { readonly answer: ConsignmentAnswer }) {
  const [draft, change, clear] = useDraft(`tally drum ${answer.consignment}`, {
    drum: '',
    piecesFound: '',
    reason: '',
  });
  const tally = useCommand('tally-drum', { onRecorded: clear });
  const { drum, piecesFound, reason } = draft;
  const isUnborne = tally.refusals.some(({ refusal }) => refusal === 'CountUnborne');
  const isComplete = drum !== '' && piecesFound !== '';
  return (
    <ConsignmentFrame
      answer={answer}
      others={<OtherActs answer={answer} drum={drum} without="tally-drum" />}
      act={
        <MainAct
          label="Record tally"
          command={tally}
          input={() => ({
            drum,
            piecesFound: wholeNumberOf(piecesFound),
            ...(reason === '' ? {} : { reason }),
          })}
          notYet={isComplete ? undefined : 'Scan the drum and count its pieces one by one.'}
        />
      }
    >
      <Part title="Tally drum">
        <p>{answer.next.words}</p>
        <FieldRow>
          <TextField
            label="Drum"
            kind="code"
            value={drum}
            onChange={(value) => change({ drum: value })}
            refusal={tally.refusalAt('drum')}
          />
          <TextField
            label="Pieces found"
            kind="whole number"
            unit="pieces"
            value={piecesFound}
            onChange={(value) => change({ piecesFound: value })}
            refusal={tally.refusalAt('piecesFound')}
          />
        </FieldRow>
        {isUnborne || reason !== '' ? (
          <TextField
            label="Why you are sure of the count"
            kind="long"
            value={reason}
            onChange={(value) => change({ reason: value })}
            hint="Only once the drum has been counted again."
            refusal={tally.refusalAt('reason')}
            optional
          />
        ) : null}
      </Part>
    </ConsignmentFrame>
  );
}
