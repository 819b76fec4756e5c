import { State, type StateTone } from '../../../workbench/index.ts';
import type { RunState } from '../books.ts';

const tones: Readonly<Record<RunState, StateTone>> = {
  'waiting for first strike': 'waits',
  running: 'plain',
  stopped: 'stopped',
  closed: 'done',
};

/** Where a run stands. */
export function RunStateShown({ state }: { readonly state: RunState }) {
  return <State word={state} tone={tones[state]} />;
}
