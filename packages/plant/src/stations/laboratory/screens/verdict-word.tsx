import { State } from '../../../workbench/index.ts';
import type { ResultFigures } from '../bodies.ts';

const tones = { passes: 'done', undecided: 'look', fails: 'stopped' } as const;

/** A verdict with its mark. */
export function VerdictWord({ verdict }: { readonly verdict: ResultFigures['verdict'] }) {
  return <State word={verdict} tone={tones[verdict]} />;
}
