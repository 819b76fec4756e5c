import { type Reading, readingMicrograms } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { PieceStandard } from '../registers/index.ts';
import type { Drum } from './books.ts';
import { receivingRefusals } from './refusals.ts';
import { offWeightRelative } from './weighing-refusals.ts';

/** Standard deviations that blanks and balances may add up to before it is another count. */
const coverage = 4;

/** What a piece of a melt weighs, as far as its drums tell. */
interface PieceMass {
  readonly leastMicrograms: number;
  readonly greatestMicrograms: number;
}

/**
 * The mean mass of a piece as the drums of the melt weighed. Where a drum was counted by hand its
 * weighing may be the wrong one, so that the piece standard speaks as well, with the room that an
 * off-weight melt takes.
 */
function pieceMassOf(own: readonly Drum[], standard: PieceStandard): PieceMass | undefined {
  const weighed = own.filter((drum) => drum.netMicrograms !== null && drum.state !== 'returned');
  const pieces = weighed.reduce((total, drum) => total + drum.pieces, 0);
  if (pieces === 0) return undefined;
  const mean = weighed.reduce((total, drum) => total + (drum.netMicrograms ?? 0), 0) / pieces;
  if (weighed.every(({ state }) => state === 'counted')) {
    return { leastMicrograms: mean, greatestMicrograms: mean };
  }
  const least = 1000 * standard.massLeastMilligrams * (1 - offWeightRelative);
  const greatest = 1000 * standard.massGreatestMilligrams * (1 + offWeightRelative);
  return {
    leastMicrograms: Math.min(mean, least),
    greatestMicrograms: Math.max(mean, greatest),
  };
}

/** Room on each side: half a piece, or what blanks and balances scatter where that is more. */
function roomMicrograms(
  pieces: number,
  piece: PieceMass,
  of: { readonly standard: PieceStandard; readonly gainRelative: number },
): number {
  const scatter = 1000 * of.standard.pieceStandardDeviationMilligrams * Math.sqrt(pieces);
  // Drums and sample may lie on two balances, each with a gain of its own.
  const gain = Math.SQRT2 * of.gainRelative * pieces * piece.greatestMicrograms;
  return Math.max(piece.leastMicrograms / 2, coverage * Math.hypot(scatter, gain));
}

/** A refusal where the mass is that of another count of blanks than were to be taken of the melt. */
export function massOfAnotherCount(of: {
  readonly melt: string;
  readonly reading: Reading;
  readonly pieces: number;
  readonly drums: readonly Drum[];
  readonly standard: PieceStandard;
  readonly gainRelative: number;
}): readonly Refusal[] {
  const { melt, reading, pieces, standard } = of;
  const piece = pieceMassOf(of.drums, standard);
  if (!piece) return [];
  const room = roomMicrograms(pieces, piece, of);
  const micrograms = readingMicrograms(reading);
  const least = pieces * piece.leastMicrograms - room;
  const greatest = pieces * piece.greatestMicrograms + room;
  if (micrograms > least && micrograms < greatest) return [];
  const inGrams = (value: number) => Math.round(value / 1e4) / 100;
  const [leastGrams, greatestGrams] = [inGrams(least), inGrams(greatest)];
  const netGrams = micrograms / 1e6;
  return [
    refuse(receivingRefusals, 'MassOfAnotherCount', {
      message: `${netGrams} g for ${pieces} blanks of melt ${melt}, which weigh ${leastGrams} g to ${greatestGrams} g by their drums.`,
      field: 'gross',
      figures: { reading: reading.text, unit: reading.unit, netGrams, leastGrams, greatestGrams },
    }),
  ];
}
