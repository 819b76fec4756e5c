import { fineMicrograms } from '@cupel/calculation';
import type { Place } from '../../journal/place.ts';
import type { Posting } from '../../journal/posting.ts';
import type { BlanksTaken, PiecesDelivered, RejectsSetAside } from './bodies.ts';

function posting(
  body: BlanksTaken | RejectsSetAside | PiecesDelivered,
  way: { from: Place; to: Place },
): Posting {
  const fine = fineMicrograms(
    BigInt(body.grossMicrograms),
    BigInt(body.finenessDeclaredPartsPerMillion),
    'half-even',
  );
  return {
    metal: body.metal,
    pieceStandard: body.pieceStandard,
    melt: body.melt,
    container: null,
    ...way,
    pieces: body.pieces,
    grossMicrograms: body.grossMicrograms,
    fineMicrograms: Number(fine),
    estimated: false,
  };
}

/** Blanks of a ruled melt go from receiving to the press room. */
export function postingsOfBlanksTaken(body: BlanksTaken): readonly Posting[] {
  return [posting(body, { from: 'receiving', to: 'press-room' })];
}

/** Rejects go to the scrap, still known by their melt. */
export function postingsOfRejects(body: RejectsSetAside): readonly Posting[] {
  return [posting(body, { from: 'press-room', to: 'scrap' })];
}

/** Struck pieces leave for put-up; they are in transit until put-up signs that they came. */
export function postingsOfDelivery(body: PiecesDelivered): readonly Posting[] {
  return [posting(body, { from: 'press-room', to: 'in-transit' })];
}
