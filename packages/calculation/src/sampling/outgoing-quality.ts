import { type PlanBasis, percentAtAcceptance, qualityOfPercent } from './plan-curve.ts';
import { type PlanOutcome, planOutcome } from './plan-outcome.ts';
import type { SamplingPlan } from './sampling-plan.ts';

/** A plan at work: the distribution it is judged by, and its lots where their size is known. */
export interface PlanAtWork {
  readonly plan: SamplingPlan;
  readonly basis: PlanBasis;
  readonly lotSizePieces: number | null;
}

/**
 * Average outgoing quality: what is left nonconforming when rejected lots are examined piece by piece
 * and every nonconforming piece found is replaced by a good one.
 *
 * Formula: p·(Pa₁·(N − n₁) + Pa₂·(N − n₁ − n₂))/N with the probabilities of acceptance on the first and
 * on the second sample; p·Pa for lots of unknown size, large against the samples. For one lot the
 * mean of the nonconforming pieces that accepted lots take along, divided by N.
 *
 * @param work plan, basis, lot size or null
 * @param percent incoming quality, percent nonconforming or nonconformities per hundred pieces
 * @param outcome what `planOutcome` says of that quality
 * @returns percent of the outgoing pieces, or nonconformities per hundred of them, not rounded
 * Validity: screening finds every nonconforming piece.
 * Source: H. F. Dodge and H. G. Romig (1959), Sampling Inspection Tables, 2nd edition; MIL-STD-105E
 * (1989), 4.12 (average outgoing quality)
 */
export function outgoingPercent(work: PlanAtWork, percent: number, outcome: PlanOutcome): number {
  const { first, second } = work.plan;
  const lot = work.lotSizePieces;
  if (lot === null) return percent * outcome.accepted;
  if (outcome.passedNonconformingPieces !== null) {
    return (100 * outcome.passedNonconformingPieces) / lot;
  }
  const leftOfFirst = (lot - first.sampleSizePieces) / lot;
  const leftOfBoth = leftOfFirst - (second?.sampleSizePieces ?? 0) / lot;
  return percent * (outcome.acceptedOnFirst * leftOfFirst + outcome.acceptedOnSecond * leftOfBoth);
}

/**
 * Average total inspection: pieces examined for each lot when rejected lots are examined piece by
 * piece.
 *
 * Formula: n₁·Pa₁ + (n₁ + n₂)·Pa₂ + N·(1 − Pa).
 *
 * @param work plan, basis, lot size or null
 * @param outcome what `planOutcome` says of the quality
 * @returns pieces, not rounded; null for lots of unknown size
 * Validity: as `outgoingPercent`.
 * Source: H. F. Dodge and H. G. Romig (1959), Sampling Inspection Tables, 2nd edition
 */
export function totalInspectionPieces(work: PlanAtWork, outcome: PlanOutcome): number | null {
  const { first, second } = work.plan;
  if (work.lotSizePieces === null) return null;
  const both = first.sampleSizePieces + (second?.sampleSizePieces ?? 0);
  const rejected = 1 - outcome.accepted;
  return (
    first.sampleSizePieces * outcome.acceptedOnFirst +
    both * outcome.acceptedOnSecond +
    work.lotSizePieces * rejected
  );
}

/** The worst that can go out, and the incoming quality at which it does. */
export interface OutgoingLimit {
  readonly outgoingPercent: number;
  readonly incomingPercent: number;
}

/** Points of the first look at the curve, and of each closer one. */
const firstLook = 100;
const closerLook = 16;

/** Looks after which the place of the peak is known as well as doubles allow. */
const greatestLooks = 40;

/** At this probability of acceptance the curve is past its peak by far. */
const pastPeak = 1e-6;

/**
 * Average outgoing quality limit: the greatest average outgoing quality over all incoming qualities.
 *
 * Formula: the curve is looked at on a grid, then more closely about its highest point, until the
 * grid is as fine as doubles allow, or one piece for one lot.
 *
 * @param work plan, basis, lot size or null; the hypergeometric basis needs the lot
 * @returns the limit and where it lies, percent, not rounded
 * Validity: one peak, as the plans of the tables have; limit to about 1e-12, place to about 1e-7.
 * Source: H. F. Dodge and H. G. Romig (1959), Sampling Inspection Tables, 2nd edition
 * @example outgoingLimit({
 *   plan: { first: { sampleSizePieces: 52, acceptanceNumber: 3, rejectionNumber: 4 } },
 *   basis: 'binomial', lotSizePieces: 10000 }).outgoingPercent // 3.72
 */
export function outgoingLimit(work: PlanAtWork): OutgoingLimit {
  const lot = work.lotSizePieces ?? 1;
  const isWhole = work.basis === 'hypergeometric';
  // One lot is searched in whole nonconforming pieces, all else in percent.
  const percentOf = (x: number): number => (isWhole ? (100 * x) / lot : x);
  const height = (x: number): number => {
    const percent = percentOf(x);
    const outcome = planOutcome(work.plan, qualityOfPercent(work.basis, percent, lot));
    return outgoingPercent(work, percent, outcome);
  };
  const end = percentAtAcceptance(work.plan, pastPeak, work.basis, lot) ?? 100;
  let [left, right] = [0, isWhole ? Math.ceil((end * lot) / 100) : end];
  let best = { x: 0, y: 0 };
  for (let look = 0; look < greatestLooks && right > left; look += 1) {
    const points = look === 0 ? firstLook : closerLook;
    const step = isWhole
      ? Math.max(1, Math.floor((right - left) / points))
      : (right - left) / points;
    for (let x = left; x <= right; x += step) {
      const y = height(x);
      if (y > best.y) best = { x, y };
    }
    if (step <= (isWhole ? 1 : best.x * 1e-9)) break;
    [left, right] = [Math.max(left, best.x - step), Math.min(right, best.x + step)];
  }
  return { outgoingPercent: best.y, incomingPercent: percentOf(best.x) };
}
