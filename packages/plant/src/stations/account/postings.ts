import type { Posting } from '../../journal/posting.ts';
import type { DifferenceExplained, DifferenceSigned } from './bodies.ts';

type Moved = Omit<DifferenceSigned, 'tally' | 'explanation' | 'gross'>;

function postingOf(moved: Moved, reversed: boolean): Posting {
  const leaves = (moved.direction === 'missing') !== reversed;
  return {
    metal: moved.metal,
    pieceStandard: moved.pieceStandard,
    melt: moved.melt,
    container: null,
    from: leaves ? moved.place : 'difference',
    to: leaves ? 'difference' : moved.place,
    pieces: moved.pieces,
    grossMicrograms: moved.grossMicrograms,
    fineMicrograms: moved.fineMicrograms,
    estimated: false,
  };
}

/** Missing metal leaves the place for the signed differences; a surplus comes from them. */
export function postingsOfSignedDifference(body: DifferenceSigned): readonly Posting[] {
  return [postingOf(body, false)];
}

/** Metal that was found, or whose true move is booked, goes back the way it came. */
export function postingsOfExplanation(body: DifferenceExplained): readonly Posting[] {
  return body.putBack ? [postingOf(body.putBack, true)] : [];
}
