import {
  ChoiceField,
  MainAct,
  Part,
  PathLink,
  pathTo,
  printNumber,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import { ConsignmentFrame } from './consignment-frame.tsx';
import type { ConsignmentAnswer } from './desk-answer.ts';
import { OtherActs } from './other-acts.tsx';
import { SeverityShown } from './severity-shown.tsx';

interface ActProps {
  readonly answer: ConsignmentAnswer;
}

/** Which plan the melts are sampled by and why, and what the draw is made from. */
export function OrderSamples({ answer }: ActProps) {
  const { inspection, seedEntry, consignment } = answer;
  const [draft, change, clear] = useDraft(`order samples ${consignment}`, {
    by: 'attributes' as 'attributes' | 'variables',
  });
  const order = useCommand('order-samples', { onRecorded: clear });
  return (
    <ConsignmentFrame
      answer={answer}
      others={<OtherActs answer={answer} />}
      act={
        <MainAct
          label="Order samples"
          command={order}
          input={() => ({ consignment, inspection: draft.by })}
        />
      }
    >
      <Part title="Order samples" aside={<SeverityShown severity={inspection.severity} />}>
        <p>{answer.next.words}</p>
        <p>{inspection.reason}</p>
        <ChoiceField
          label="Lots are judged by"
          value={draft.by}
          choices={[
            { value: 'attributes', label: 'attributes: blanks at fault are counted' },
            { value: 'variables', label: 'variables: fewer blanks, by their mean and spread' },
          ]}
          onChange={(by) => change({ by })}
          hint="By variables the readings must be normal: blanks that were sorted are counted."
          refusal={order.refusalAt('inspection')}
        />
        {seedEntry === null ? null : (
          <p className="faint">
            The blanks are drawn from the hash of{' '}
            <PathLink to={`/journal/${seedEntry}`}>entry {printNumber(seedEntry)}</PathLink>, the
            last that settled a drum: nobody can choose them, and anybody can draw them again.
          </p>
        )}
      </Part>
    </ConsignmentFrame>
  );
}

/** Nothing is sampled while the inspection of the supplier's pieces is discontinued. */
export function ResumeFirst({ answer }: ActProps) {
  const { supplier, pieceStandard, inspection } = answer;
  const [draft, change, clear] = useDraft(`resume inspection ${supplier} ${pieceStandard}`, {
    reason: '',
  });
  const resume = useCommand('resume-inspection', { onRecorded: clear });
  return (
    <ConsignmentFrame
      answer={answer}
      others={<OtherActs answer={answer} />}
      act={
        <MainAct
          label="Resume inspection"
          command={resume}
          input={() => ({ supplier, pieceStandard, reason: draft.reason })}
          notYet={draft.reason === '' ? 'Say what the supplier corrected.' : undefined}
        />
      }
    >
      <Part title="Resume inspection" aside={<SeverityShown severity={inspection.severity} />}>
        <p>{inspection.reason}</p>
        <TextField
          label="What was corrected, and how the plant knows"
          kind="long"
          value={draft.reason}
          onChange={(reason) => change({ reason })}
          refusal={resume.refusalAt('reason')}
        />
      </Part>
    </ConsignmentFrame>
  );
}

/** Ordered samples wait to be drawn, each by its pick list. */
export function DrawSamples({ answer }: ActProps) {
  const [first = '', ...more] = answer.next.ids;
  const pickList = (melt: string) => pathTo('/receiving/melts/$melt', { melt });
  return (
    <ConsignmentFrame
      answer={answer}
      act={
        <div className="main-act">
          <p className="act-message">
            {more.length === 0
              ? 'The last sample to be drawn.'
              : `${answer.next.ids.length} samples are to be drawn.`}
          </p>
          <PathLink to={pickList(first)} className="act-link">
            Open the pick list of {first}
          </PathLink>
        </div>
      }
    >
      <p>{answer.next.words}</p>
    </ConsignmentFrame>
  );
}
