import {
  MainAct,
  printNumber,
  TextField,
  useCommand,
  useDraft,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import type { RunShown } from './answers.ts';
import { RunFrame, type RunWork } from './run-frame.tsx';

/** The dies leave the press: the counter is read once more, and two people sign. */
export function CloseRun(work: RunWork) {
  const { run } = work.answer;
  const [draft, change, clear] = useDraft(`close-run ${run.run}`, { counterAfter: '' });
  const close = useCommand('close-run', {
    onRecorded: (_answer, entries) => {
      clear();
      work.onRecorded(entries);
    },
  });
  return (
    <RunFrame
      {...work}
      title="Close the run"
      mainAct={
        <MainAct
          label="Close run"
          command={close}
          input={() => ({ run: run.run, counterAfter: wholeNumberOf(draft.counterAfter) })}
          notYet={draft.counterAfter === '' ? 'Read the counter of the press.' : undefined}
        />
      }
    >
      <TextField
        label="Counter of the press now"
        kind="whole number"
        unit="strokes"
        value={draft.counterAfter}
        onChange={(counterAfter) => change({ counterAfter })}
        hint={strokesWords(run, draft.counterAfter)}
        refusal={close.refusalAt('counterAfter') ?? close.refusalAt('run')}
      />
    </RunFrame>
  );
}

function strokesWords(run: RunShown, typed: string): string {
  const before = `It showed ${printNumber(run.counterBefore)} when the run was opened`;
  const counter = wholeNumberOf(typed);
  if (typeof counter !== 'number') return `${before}.`;
  const strokes = counter - run.counterBefore;
  return `${before}: ${printNumber(strokes)} strokes. The last strike examined is number ${printNumber(run.lastStrike)}.`;
}
