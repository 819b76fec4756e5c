import type { RunState } from '../books.ts';

/** What can be done with a run. */
export type RunAct = 'record strike' | 'set rejects aside' | 'close run' | 'send pieces';

/** A run as far as it decides what comes next. */
export interface RunInHand {
  readonly state: RunState;
  readonly lastOccasion: string | null;
  readonly piecesDeliverable: number;
}

/** What comes next for a run by itself; nothing once all its pieces are on their way. */
export function nextActOf(run: RunInHand): RunAct | null {
  if (run.state === 'closed') return run.piecesDeliverable > 0 ? 'send pieces' : null;
  return run.lastOccasion === 'last' ? 'close run' : 'record strike';
}

/** Everything that can be done with a run as it stands, what comes next first. */
export function actsOf(run: RunInHand): readonly RunAct[] {
  const open: readonly RunAct[] = [
    'record strike',
    'send pieces',
    'set rejects aside',
    'close run',
  ];
  const closed: readonly RunAct[] = ['send pieces', 'set rejects aside'];
  const possible = run.state === 'closed' ? closed : open;
  const next = nextActOf(run);
  return [...possible.filter((act) => act === next), ...possible.filter((act) => act !== next)];
}

/** What comes next for a run in words, as a desk says it. */
export function nextWordsOf(run: RunInHand, isHeld: boolean): string {
  if (isHeld) return 'a ruling on the hold';
  const next = nextActOf(run);
  if (next === null) return 'nothing: all judged pieces have left';
  if (next !== 'record strike') return next;
  return run.state === 'waiting for first strike' ? 'record the first strike' : 'record a strike';
}
