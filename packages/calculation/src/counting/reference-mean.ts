import { requireDomain } from '../quantity/domain.ts';
import { misclassificationProbability } from './net-mass-uncertainty.ts';

/** A mean piece mass with the pieces it stands on. */
export interface ReferenceMean {
  readonly referencePieces: number;
  readonly meanGrams: number;
  readonly meanStandardUncertaintyGrams: number;
}

/**
 * Mean piece mass after a container whose count is certain has been added to the reference.
 *
 * Formula: mean (N·μ + W)/(N + c); standard uncertainty the root of
 * (N²·u² + c·sp² + uW²)/(N + c)², with N pieces of the reference, c added ones of net mass W.
 *
 * @param reference pieces 1 or more, mean above 0 g, standard uncertainty 0 or more
 * @param added pieces 1 or more, counted by other means; net mass and its standard uncertainty in
 * grams; piece standard deviation 0 or more
 * @returns the new reference, not rounded
 * @throws DomainError for numbers of pieces below 1
 * Validity: a wrongly counted container shifts the mean by a whole piece mass divided by N + c: add
 * only containers with a snap risk below 1e-6 and without a flag. Shown in reference/counting.
 * Source: weighted mean and its variance, JCGM 100:2008, 5.1.2
 * @example extendReferenceMean({ referencePieces: 10, meanGrams: 31.1, meanStandardUncertaintyGrams: 0.016 },
 *   { pieces: 10, netGrams: 311.2, netStandardUncertaintyGrams: 0.1, pieceStandardDeviationGrams: 0.05,
 * }).meanGrams // 31.11
 */
export function extendReferenceMean(
  reference: ReferenceMean,
  added: {
    readonly pieces: number;
    readonly netGrams: number;
    readonly netStandardUncertaintyGrams: number;
    readonly pieceStandardDeviationGrams: number;
  },
): ReferenceMean {
  for (const [field, value] of [
    ['referencePieces', reference.referencePieces],
    ['pieces', added.pieces],
  ] as const) {
    requireDomain(Number.isSafeInteger(value) && value >= 1, {
      field,
      value,
      accepted: 'a whole number of 1 piece or more',
    });
  }
  const { referencePieces, meanGrams, meanStandardUncertaintyGrams } = reference;
  const total = referencePieces + added.pieces;
  const variance =
    (referencePieces * meanStandardUncertaintyGrams) ** 2 +
    added.pieces * added.pieceStandardDeviationGrams ** 2 +
    added.netStandardUncertaintyGrams ** 2;
  return {
    referencePieces: total,
    meanGrams: (referencePieces * meanGrams + added.netGrams) / total,
    meanStandardUncertaintyGrams: Math.sqrt(variance) / total,
  };
}

/**
 * Risk that a container counted by weight from a hand-counted reference snaps to a wrong count.
 *
 * Formula: 2·Q(μ/(2s)) with s² = c·sp² + c²·sp²/N + s₀², c pieces in the container, N in the reference,
 * s₀ everything else: tare, lot, scale.
 *
 * @param count pieces in the container and in the reference, 1 or more each; piece mass above 0,
 * deviations 0 or more, in grams
 * @returns standard uncertainty of the net mass in grams and the probability, not rounded
 * @throws DomainError for a piece mass or an uncertainty that is not above 0
 * Validity: normal errors; shown in reference/counting with a published simulation.
 * Source: law of propagation of uncertainty, JCGM 100:2008, 5.1.2; normal distribution
 * @example snapRisk({ pieces: 500, referencePieces: 10, pieceMassGrams: 31.1,
 *   pieceStandardDeviationGrams: 0.05 }).probability // 0.0515
 */
export function snapRisk(count: {
  readonly pieces: number;
  readonly referencePieces: number;
  readonly pieceMassGrams: number;
  readonly pieceStandardDeviationGrams: number;
  readonly otherStandardUncertaintyGrams?: number;
}): { readonly standardUncertaintyGrams: number; readonly probability: number } {
  const { pieces, referencePieces, pieceStandardDeviationGrams } = count;
  const standardUncertaintyGrams = Math.sqrt(
    pieceStandardDeviationGrams ** 2 * (pieces + pieces ** 2 / referencePieces) +
      (count.otherStandardUncertaintyGrams ?? 0) ** 2,
  );
  return {
    standardUncertaintyGrams,
    probability: misclassificationProbability(count.pieceMassGrams, standardUncertaintyGrams),
  };
}
