import { State, type StateTone } from '../../../workbench/index.ts';
import type { DrumState } from '../bodies.ts';

const tones: Readonly<Record<DrumState, StateTone>> = {
  announced: 'waits',
  'weigh again': 'look',
  'needs tally': 'look',
  counted: 'done',
  tallied: 'done',
  stopped: 'stopped',
  returned: 'plain',
};

/** The state of a drum by word and mark. */
export function DrumStateShown({ state }: { readonly state: DrumState }) {
  return <State word={state} tone={tones[state]} />;
}
