import type { SeriesState } from '@cupel/calculation';
import type { Consignment, Drum, Melt } from './books.ts';

/** What is next with a consignment, and the command by which it is done. */
export type NextStep = {
  readonly command:
    | 'weigh-drum'
    | 'tally-drum'
    | 'admit-drum'
    | 'order-samples'
    | 'resume-inspection'
    | 'record-draw'
    | null;
  readonly words: string;
  /** Ids of the drums or melts that the step concerns. */
  readonly ids: readonly string[];
};

const list = (ids: readonly string[]) =>
  ids.length > 4 ? `${ids.slice(0, 4).join(', ')} and ${ids.length - 4} more` : ids.join(', ');

/** The step that is due: stopped drums first, then weighing, tallies, the order unless inspection is discontinued, the draws. */
export function nextStepOf(
  consignment: Consignment,
  drums: readonly Drum[],
  melts: readonly Melt[],
  inspection: SeriesState,
): NextStep {
  if (consignment.state === 'samples drawn') {
    return { command: null, words: 'Everything is done here.', ids: [] };
  }
  if (consignment.state === 'samples ordered') {
    const ids = melts.filter(({ state }) => state === 'samples ordered').map(({ melt }) => melt);
    return { command: 'record-draw', words: `Draw the sample of ${list(ids)}.`, ids };
  }
  const inState = (...states: readonly Drum['state'][]) =>
    drums.filter(({ state }) => states.includes(state)).map(({ drum }) => drum);
  const stopped = inState('stopped');
  if (stopped.length > 0) {
    const words = `Decide on ${list(stopped)}: admit or send back.`;
    return { command: 'admit-drum', words, ids: stopped };
  }
  const unweighed = inState('weigh again', 'announced');
  if (unweighed.length > 0) {
    return { command: 'weigh-drum', words: `Weigh ${list(unweighed)}.`, ids: unweighed };
  }
  const uncounted = inState('needs tally');
  if (uncounted.length > 0) {
    const words = `Count ${list(uncounted)} by hand, two people.`;
    return { command: 'tally-drum', words, ids: uncounted };
  }
  if (drums.every(({ state }) => state === 'returned')) {
    return { command: null, words: 'Every drum has gone back.', ids: [] };
  }
  const ids = melts.filter(({ state }) => state !== 'returned').map(({ melt }) => melt);
  if (inspection.severity === 'discontinued') {
    const words = 'Wait: inspection of this supplier is discontinued until it is resumed.';
    return { command: 'resume-inspection', words, ids };
  }
  return { command: 'order-samples', words: `Order the samples of ${list(ids)}.`, ids };
}
