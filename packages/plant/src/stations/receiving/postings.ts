import { fineMicrograms } from '@cupel/calculation';
import type { Posting } from '../../journal/posting.ts';
import type {
  DrumReturnedBody,
  DrumTalliedBody,
  DrumWeighedBody,
  SampleDrawnBody,
} from './bodies.ts';

/** The fine mass that the account holds for a gross mass, at the declared fineness. */
export function fineOf(grossMicrograms: number, finenessDeclaredPartsPerMillion: number): number {
  const fine = fineMicrograms(
    BigInt(grossMicrograms),
    BigInt(finenessDeclaredPartsPerMillion),
    'half-even',
  );
  return Number(fine);
}

/** A drum comes in with its documented pieces and its weighed metal once a weighing is accepted. */
export function postingsOfWeighing(body: DrumWeighedBody): readonly Posting[] {
  if (body.state === 'weigh again') return [];
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: body.drum,
      from: 'with-supplier',
      to: 'receiving',
      pieces: body.pieces,
      grossMicrograms: body.netMicrograms,
      fineMicrograms: fineOf(body.netMicrograms, body.finenessDeclaredPartsPerMillion),
      estimated: false,
    },
  ];
}

/** Pieces that a tally finds beyond or below those booked; their grams were weighed with the drum. */
export function postingsOfTally(body: DrumTalliedBody): readonly Posting[] {
  const over = body.piecesFound - body.piecesBooked;
  if (over === 0) return [];
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: body.drum,
      from: over > 0 ? 'with-supplier' : 'receiving',
      to: over > 0 ? 'receiving' : 'with-supplier',
      pieces: Math.abs(over),
      grossMicrograms: 0,
      fineMicrograms: 0,
      estimated: false,
    },
  ];
}

/** A drum goes back with exactly what came in under its name. */
export function postingsOfReturn(body: DrumReturnedBody): readonly Posting[] {
  if (body.pieces === 0 && body.grossMicrograms === 0) return [];
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: body.drum,
      from: 'receiving',
      to: 'with-supplier',
      pieces: body.pieces,
      grossMicrograms: body.grossMicrograms,
      fineMicrograms: body.fineMicrograms,
      estimated: false,
    },
  ];
}

/** The sample of a melt goes to the laboratory. */
export function postingsOfDraw(body: SampleDrawnBody): readonly Posting[] {
  return [
    {
      metal: body.metal,
      pieceStandard: body.pieceStandard,
      melt: body.melt,
      container: null,
      from: 'receiving',
      to: 'laboratory',
      pieces: body.pieces,
      grossMicrograms: body.grossMicrograms,
      fineMicrograms: fineOf(body.grossMicrograms, body.finenessDeclaredPartsPerMillion),
      estimated: false,
    },
  ];
}
