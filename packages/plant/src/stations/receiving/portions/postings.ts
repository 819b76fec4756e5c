import type { InsidePlace, OutsidePlace } from '../../../journal/place.ts';
import type { Posting } from '../../../journal/posting.ts';
import { fineOf } from '../postings.ts';
import type {
  PortionDiscardedBody,
  PortionReturnedBody,
  PortionSentBody,
  PortionTakenBackBody,
} from './bodies.ts';

type Place = InsidePlace | OutsidePlace;

interface Moved {
  readonly metal: Posting['metal'];
  readonly pieceStandard: string;
  readonly finenessDeclaredPartsPerMillion: number;
  readonly melt: string;
  readonly pieces: number;
  readonly grossMicrograms: number;
}

function posting(body: Moved, way: { readonly from: Place; readonly to: Place }): Posting {
  return {
    metal: body.metal,
    pieceStandard: body.pieceStandard,
    melt: body.melt,
    container: null,
    ...way,
    pieces: body.pieces,
    grossMicrograms: body.grossMicrograms,
    fineMicrograms: fineOf(body.grossMicrograms, body.finenessDeclaredPartsPerMillion),
    estimated: false,
  };
}

/** A portion leaves the plant's custody, to the supplier or to the umpire between him and the plant. */
export function postingsOfSending(body: PortionSentBody): readonly Posting[] {
  return [posting(body, { from: 'laboratory', to: 'with-supplier' })];
}

/** What came back of a portion that was sent; what did not stays with the other side. */
export function postingsOfTakingBack(body: PortionTakenBackBody): readonly Posting[] {
  return [posting(body, { from: 'with-supplier', to: 'laboratory' })];
}

/** The whole blanks of a portion go back to the rest of their melt. */
export function postingsOfPortionReturn(body: PortionReturnedBody): readonly Posting[] {
  return [posting(body, { from: 'laboratory', to: 'receiving' })];
}

/** A portion goes to the scrap; one that was used up outside has left already. */
export function postingsOfDiscarding(body: PortionDiscardedBody): readonly Posting[] {
  return body.how === 'used up' ? [] : [posting(body, { from: 'laboratory', to: 'scrap' })];
}
