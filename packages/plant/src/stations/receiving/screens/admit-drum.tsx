import {
  FieldRow,
  MainAct,
  Part,
  State,
  TextField,
  ThingLink,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { ConsignmentFrame } from './consignment-frame.tsx';
import type { ConsignmentAnswer } from './desk-answer.ts';
import { OtherActs } from './other-acts.tsx';

/** Deciding on stopped drums: admitted with the seal that they bear now, or sent back. */
export function AdmitDrum({ answer }: { readonly answer: ConsignmentAnswer }) {
  const stopped = answer.drums.filter(({ state }) => state === 'stopped');
  const [draft, change, clear] = useDraft(`admit drum ${answer.consignment}`, {
    drum: stopped.length === 1 ? (stopped[0]?.drum ?? '') : '',
    sealAdmitted: '',
    reason: '',
  });
  const admit = useCommand('admit-drum', { onRecorded: clear });
  const isComplete = Object.values(draft).every((text) => text !== '');
  return (
    <ConsignmentFrame
      answer={answer}
      others={<OtherActs answer={answer} drum={draft.drum} />}
      act={
        <MainAct
          label="Admit drum"
          command={admit}
          input={() => draft}
          notYet={
            isComplete
              ? undefined
              : 'State the seal it bears now and why it may go on, or send it back.'
          }
        />
      }
    >
      <Part title="Stopped">
        <ul className="plain-list">
          {stopped.map(({ drum, melt, stopReason }) => (
            <li key={drum}>
              <State word="stopped" tone="stopped" /> <ThingLink thing="drum" id={drum} /> of melt{' '}
              {melt}
              <p>{stopReason}</p>
            </li>
          ))}
        </ul>
      </Part>
      <Part title="Admit drum">
        <p className="faint">
          An admitted drum is counted piece by piece, whatever its weight says.
        </p>
        <FieldRow>
          <TextField
            label="Drum"
            kind="code"
            value={draft.drum}
            onChange={(drum) => change({ drum })}
            refusal={admit.refusalAt('drum')}
          />
          <TextField
            label="Seal it bears now"
            kind="code"
            value={draft.sealAdmitted}
            onChange={(sealAdmitted) => change({ sealAdmitted })}
            refusal={admit.refusalAt('sealAdmitted')}
          />
        </FieldRow>
        <TextField
          label="Why it may go on"
          kind="long"
          value={draft.reason}
          onChange={(reason) => change({ reason })}
          refusal={admit.refusalAt('reason')}
        />
      </Part>
    </ConsignmentFrame>
  );
}
