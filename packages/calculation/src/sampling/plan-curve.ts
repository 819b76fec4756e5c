import { firstWhole, turningPoint } from '../quantity/halving.ts';
import type { LotQuality } from './count-distribution.ts';
import { planOutcome } from './plan-outcome.ts';
import type { SamplingPlan } from './sampling-plan.ts';

/** The distribution by which a plan is judged. */
export const planBases = ['binomial', 'poisson', 'hypergeometric'] as const;

export type PlanBasis = (typeof planBases)[number];

/**
 * Lots of a percent nonconforming, or of so many nonconformities per hundred pieces. One lot has a
 * whole number of nonconforming pieces: the nearest to the percentage.
 */
export function qualityOfPercent(
  basis: PlanBasis,
  percent: number,
  lotSizePieces: number,
): LotQuality {
  if (basis === 'binomial') return { basis, fractionNonconforming: percent / 100 };
  if (basis === 'poisson') return { basis, nonconformitiesPerPiece: percent / 100 };
  return { basis, lotSizePieces, nonconformingPieces: Math.round((percent * lotSizePieces) / 100) };
}

/** Fewest nonconforming pieces of one lot that make acceptance no more probable than a level. */
function fewestNonconforming(
  plan: SamplingPlan,
  probability: number,
  lotSizePieces: number,
): number | null {
  const accepted = (nonconformingPieces: number) =>
    planOutcome(plan, { basis: 'hypergeometric', lotSizePieces, nonconformingPieces }).accepted;
  if (accepted(lotSizePieces) > probability) return null;
  return firstWhole((pieces) => accepted(pieces) <= probability, -1, lotSizePieces);
}

/**
 * Quality at which a plan accepts with a given probability: the inverse of its operating
 * characteristic, as in Table X of MIL-STD-105E. For one lot, whose nonconforming pieces are whole,
 * it is the least quality at which acceptance is no more probable than that.
 *
 * @param plan single or double
 * @param probability open range (0, 1)
 * @param basis binomial, poisson or hypergeometric
 * @param lotSizePieces used for the hypergeometric basis only
 * @returns percent nonconforming or nonconformities per hundred pieces; null where the plan accepts
 * every lot with a greater probability
 * @throws DomainError for a plan that does not fit the lot
 * Validity: to the last digits of the curve, about 1e-12 relative. Shown in
 * reference/operating-characteristics for 165 plans at nine probabilities.
 * Source: MIL-STD-105E (1989), Table X
 * @example percentAtAcceptance({
 *   first: { sampleSizePieces: 2, acceptanceNumber: 0, rejectionNumber: 1 },
 * }, 0.5, 'binomial', 1) // 29.289321881345254
 */
export function percentAtAcceptance(
  plan: SamplingPlan,
  probability: number,
  basis: PlanBasis,
  lotSizePieces: number,
): number | null {
  if (basis === 'hypergeometric') {
    const pieces = fewestNonconforming(plan, probability, lotSizePieces);
    return pieces === null ? null : (100 * pieces) / lotSizePieces;
  }
  const accepted = (percent: number) =>
    planOutcome(plan, qualityOfPercent(basis, percent, lotSizePieces)).accepted;
  let greatest = 100;
  if (basis === 'binomial') {
    if (accepted(greatest) > probability) return null;
  } else {
    while (accepted(greatest) > probability) greatest *= 2;
  }
  return turningPoint((percent) => accepted(percent) > probability, 0, greatest);
}
