import {
  ChoiceField,
  MainAct,
  Part,
  TextField,
  useCommand,
  useDraft,
} from '../../../workbench/index.ts';
import type { ChartFinding } from '../bodies.ts';
import type { ChartAnswer } from './chart-answer.ts';
import { ChartFrame } from './chart-frame.tsx';

const findings: readonly { readonly value: ChartFinding; readonly label: string }[] = [
  { value: 'no cause found', label: 'No cause found: the points keep counting' },
  { value: 'cause removed', label: 'Cause found and removed: the points are left out' },
  { value: 'new level', label: 'New level that stays: limits are set anew from here' },
];

/** A chart that signals, with what the chief assayer found about it. */
export function AnswerSignal({ answer }: { readonly answer: ChartAnswer }) {
  const { chart, points } = answer;
  const [draft, change, clear] = useDraft(`answer chart ${chart}`, { finding: '', reason: '' });
  const command = useCommand('answer-chart-signal', { onRecorded: clear });
  return (
    <ChartFrame
      answer={answer}
      act={
        <MainAct
          label="Answer signal"
          command={command}
          notYet={draft.finding === '' ? 'Choose what was found.' : undefined}
          input={() => ({ chart, through: points, ...draft })}
        />
      }
    >
      <Part title="What was found">
        <ChoiceField
          label="Finding"
          value={draft.finding}
          choices={findings}
          onChange={(finding) => change({ finding })}
          refusal={command.refusalAt('finding')}
        />
        <TextField
          label="What was looked at, and what it was"
          kind="long"
          value={draft.reason}
          onChange={(reason) => change({ reason })}
          refusal={command.refusalAt('reason')}
        />
      </Part>
    </ChartFrame>
  );
}
