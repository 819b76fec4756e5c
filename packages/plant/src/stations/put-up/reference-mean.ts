import type { PieceStandard } from '../registers/index.ts';
import type { ReferenceMean } from './bodies.ts';
import type { Balance } from './instrument-check.ts';

/** Pieces that two people counted and weighed when they came to put-up. */
export interface CountedDelivery {
  readonly entry: number;
  readonly pieces: number;
  readonly grossMicrograms: number;
  /** The balance that weighed them; nothing where it is no longer registered. */
  readonly balance: Balance | undefined;
}

/**
 * A delivery has to be at least this many times the tube: then one piece miscounted in it moves the
 * expected mass of a tube by at most a twentieth of a piece, a tenth of the half piece at which a
 * tube is rejected. A smaller one would make the tube prove its own miscount.
 */
const tubesInDelivery = 20;

/**
 * Where the mean piece mass of a tube's count comes from. The pieces of the melt as delivered, if
 * they are many enough, counted by two people and within the limits of the piece; else the declared
 * mass with the reference pieces behind it. Tubes never feed the mean: what they hold is what the
 * mean is to prove.
 */
export function referenceMeanOf(
  standard: PieceStandard,
  deliveries: readonly CountedDelivery[],
  tubePieces: number,
): ReferenceMean {
  const delivered = deliveredMean(standard, deliveries);
  if (delivered && delivered.referencePieces >= tubesInDelivery * tubePieces) return delivered;
  return {
    origin: 'declared mass',
    referencePieces: standard.referencePieces,
    meanGrams: standard.massDeclaredMilligrams / 1000,
    meanStandardUncertaintyGrams: null,
    deliveries: [],
  };
}

/**
 * Mean of the delivered pieces with its standard uncertainty: piece to piece N·sp², repeatability
 * and rounding of each weighing, the span of the balances, shared by all (added linearly), and the
 * chance p of one piece too few or too many in each count, 2·p·μ²; the root of the sum over N.
 */
function deliveredMean(
  standard: PieceStandard,
  deliveries: readonly CountedDelivery[],
): ReferenceMean | undefined {
  const pieces = deliveries.reduce((sum, delivery) => sum + delivery.pieces, 0);
  if (pieces === 0 || deliveries.some((delivery) => !delivery.balance)) return undefined;
  const massMicrograms = deliveries.reduce((sum, delivery) => sum + delivery.grossMicrograms, 0);
  const meanGrams = massMicrograms / 1e6 / pieces;
  const isWithinLimits =
    meanGrams * 1000 >= standard.massLeastMilligrams &&
    meanGrams * 1000 <= standard.massGreatestMilligrams;
  if (!isWithinLimits) return undefined;
  const pieceDeviationGrams = standard.pieceStandardDeviationMilligrams / 1000;
  const miscountVariance = 2 * standard.priorMiscountProbability * meanGrams ** 2;
  let variance = pieces * pieceDeviationGrams ** 2;
  let sharedGrams = 0;
  for (const { balance, grossMicrograms } of deliveries) {
    if (!balance) continue;
    variance += balance.repeatabilityGrams ** 2 + balance.divisionGrams ** 2 / 12;
    variance += miscountVariance;
    sharedGrams += (grossMicrograms / 1e6) * balance.gainRelative;
  }
  return {
    origin: 'delivered pieces',
    referencePieces: pieces,
    meanGrams,
    meanStandardUncertaintyGrams: Math.sqrt(variance + sharedGrams ** 2) / pieces,
    deliveries: deliveries.map((delivery) => delivery.entry),
  };
}
