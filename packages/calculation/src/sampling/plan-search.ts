import { firstWhole } from '../quantity/halving.ts';
import type { LotQuality } from './count-distribution.ts';
import { acceptsAtMost, rejectsAtMost } from './decided-risk.ts';
import { planOutcome } from './plan-outcome.ts';
import type { SamplingPlan } from './sampling-plan.ts';

/** Two points that a plan must keep: good lots rarely rejected, bad lots rarely accepted. */
export interface TwoPoints {
  readonly good: LotQuality;
  readonly producersRisk: number;
  readonly bad: LotQuality;
  readonly consumersRisk: number;
  /** Samples together may not exceed this. */
  readonly greatestSamplePieces: number;
}

/** Beyond this acceptance number the two points are too close to each other for a plan of use. */
const greatestAcceptanceNumber = 2000;

/** The least whole number from `from` on at which a condition that stays true once true is true. */
export function leastWhole(
  from: number,
  greatest: number,
  holds: (value: number) => boolean,
): number | null {
  let below = from - 1;
  let step = 1;
  let least = from;
  while (!holds(least)) {
    if (least >= greatest) return null;
    below = least;
    step *= 2;
    least = Math.min(greatest, least + step);
  }
  return firstWhole(holds, below, least);
}

const single = (sampleSizePieces: number, acceptanceNumber: number): SamplingPlan => ({
  first: { sampleSizePieces, acceptanceNumber, rejectionNumber: acceptanceNumber + 1 },
});

/**
 * The smallest single plan that keeps two points.
 *
 * Formula: for the acceptance numbers 0, 1, 2 … the least sample size with Pa(bad) ≤ β; the first one
 * that also has Pa(good) ≥ 1 − α is the plan, since the sample grows with the acceptance number.
 *
 * @param points qualities of one basis, the good one better; risks between 0 and 1
 * @returns the plan with one stage; null when none of at most the greatest sample keeps both points
 * Validity: exact search. Published plans in reference/operating-characteristics; held against a
 * search of every plan in laws/sampling-search.
 * Source: W. C. Guenther (1969), Use of the binomial, hypergeometric and Poisson tables to obtain
 * sampling plans, Journal of Quality Technology 1(2), 105-109
 * @example smallestSinglePlan({ good: { basis: 'binomial', fractionNonconforming: 0.05 },
 *   producersRisk: 0.05, bad: { basis: 'binomial', fractionNonconforming: 0.15 },
 *   consumersRisk: 0.075, greatestSamplePieces: 1000 }).first.sampleSizePieces // 80
 */
export function smallestSinglePlan(points: TwoPoints): SamplingPlan | null {
  const { good, bad, producersRisk, consumersRisk, greatestSamplePieces } = points;
  let from = 1;
  for (let number = 0; number <= greatestAcceptanceNumber; number += 1) {
    const pieces = leastWhole(from, greatestSamplePieces, (size) =>
      acceptsAtMost(single(size, number).first, bad, consumersRisk),
    );
    if (pieces === null) break;
    const plan = single(pieces, number);
    if (rejectsAtMost(plan.first, good, producersRisk)) return plan;
    from = pieces;
  }
  return null;
}

/** A double plan with its effort for good lots. */
interface Candidate {
  readonly plan: Required<SamplingPlan>;
  readonly averageSamplePieces: number;
}

function double(
  firstPieces: number,
  ratio: number,
  [first, both]: readonly [number, number],
): Required<SamplingPlan> {
  const rejectionNumber = both + 1;
  return {
    first: { sampleSizePieces: firstPieces, acceptanceNumber: first, rejectionNumber },
    second: { sampleSizePieces: ratio * firstPieces, acceptanceNumber: both, rejectionNumber },
  };
}

/** Second acceptance numbers are tried up to this many times that of the single plan, and a few more. */
const reachFactor = 2;
const reachBeyond = 3;

/** Above this acceptance number of the single plan the search among double plans would take too long. */
const greatestSearchedAcceptance = 30;

/** The best double plan with one pair of acceptance numbers; null where none keeps both points. */
function candidateOf(
  points: TwoPoints,
  ratio: number,
  numbers: readonly [number, number],
  from: number,
): { readonly firstPieces: number; readonly candidate: Candidate | null } | null {
  const greatest = Math.floor(points.greatestSamplePieces / (1 + ratio));
  const planOf = (pieces: number) => double(pieces, ratio, numbers);
  const firstPieces = leastWhole(
    from,
    greatest,
    (pieces) => planOutcome(planOf(pieces), points.bad).accepted <= points.consumersRisk,
  );
  if (firstPieces === null) return null;
  const plan = planOf(firstPieces);
  const { accepted, averageSamplePieces } = planOutcome(plan, points.good);
  const keeps = 1 - accepted <= points.producersRisk;
  return { firstPieces, candidate: keeps ? { plan, averageSamplePieces } : null };
}

/**
 * The double plan that keeps two points with the smallest average sample number for good lots.
 *
 * Formula: for each pair of acceptance numbers Ac₁ < Ac₂, with Re₁ = Re₂ = Ac₂ + 1 and n₂ a fixed
 * multiple of n₁, the least n₁ with Pa(bad) ≤ β; among those with Pa(good) ≥ 1 − α the one with the
 * smallest average sample number at the good quality. Ac₂ goes up to twice the acceptance number of
 * the single plan and three more.
 *
 * @param points see `smallestSinglePlan`
 * @param ratio second sample as a multiple of the first, 1 or 2
 * @param singleAcceptanceNumber acceptance number of the smallest single plan
 * @returns the plan with two stages; null where none within that reach keeps both points, or where
 * the single plan has an acceptance number above 30
 * Validity: exact within the reach; held against a search of every plan in laws/sampling-search.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.2.4 (form of the plan and two points);
 * the choice by average sample number is ours
 */
export function leastEffortDoublePlan(
  points: TwoPoints,
  ratio: number,
  singleAcceptanceNumber: number,
): Required<SamplingPlan> | null {
  if (singleAcceptanceNumber > greatestSearchedAcceptance) return null;
  const reach = reachFactor * singleAcceptanceNumber + reachBeyond;
  let best: Candidate | null = null;
  // The first sample grows with either number, so that each search begins where a smaller one ended.
  let fromOfRow = 1;
  for (let both = 1; both <= reach; both += 1) {
    let from = fromOfRow;
    for (let first = 0; first < both; first += 1) {
      const found = candidateOf(points, ratio, [first, both], from);
      if (found === null) break;
      from = found.firstPieces;
      if (first === 0) fromOfRow = from;
      if (best !== null && from >= best.averageSamplePieces) break;
      const { candidate } = found;
      if (candidate && (!best || candidate.averageSamplePieces < best.averageSamplePieces)) {
        best = candidate;
      }
    }
  }
  return best?.plan ?? null;
}
