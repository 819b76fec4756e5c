import t from '@stdlib/stats-base-dists-t';
import { compensatedSum } from '../quantity/sum.ts';
import { fitStraightLine, type StraightLine } from './straight-line.ts';

/** A step in a drifting history: between which values, how large, how likely by chance. */
export interface WeightJump {
  /** Index of the first value after the jump. */
  readonly index: number;
  readonly size: number;
  /** Probability of so clear a step anywhere by chance, at most 1 (Bonferroni's bound). */
  readonly probability: number;
}

/** Fewest values with which a step and a line can be told apart. */
const fewestValues = 5;

/** Below this share of its own spread a step cannot be told from the line. */
const leastShare = 1e-9;

/**
 * Steps at all places on top of a straight line, each with its own spread and its gain in the sum
 * of squares. The residuals stand upright on the line already, so that a step gains only by the
 * part of it that the line cannot follow: suffix sums give all of them in one pass.
 */
function stepsAt(places: readonly number[], line: StraightLine, x: readonly number[]): Step[] {
  const count = x.length;
  const steps: Step[] = [];
  let residual = 0;
  let deviation = 0;
  let next = count - 1;
  for (const index of places.toReversed()) {
    for (; next >= index; next -= 1) {
      residual += line.residuals[next] ?? 0;
      deviation += (x[next] ?? 0) - line.meanX;
    }
    const after = count - index;
    const spread = (after * index) / count - deviation ** 2 / line.spreadX;
    steps.push({ index, size: residual / spread, spread, gain: residual ** 2 / spread });
  }
  return steps.toReversed();
}

interface Step {
  readonly index: number;
  readonly size: number;
  readonly spread: number;
  readonly gain: number;
}

/**
 * The likeliest step in a history that otherwise drifts along a straight line.
 *
 * Formula: at each place between two different times a step is added to the least-squares line;
 * the one that lowers the sum of squares most is judged by Student's t with n − 3 degrees of
 * freedom, its probability multiplied by the number of places looked at, at most 1.
 *
 * @param x times in rising order
 * @param y values, paired with the times
 * @returns the step with its probability; null for fewer than five values or places
 * Validity: independent normal residuals; Bonferroni's bound is on the safe side.
 * Source: general linear hypothesis, e.g. JCGM 100:2008, H.3 (line); Bonferroni's inequality
 * @example likeliestJump([0, 1, 2, 3, 4, 5], [0, 0.1, 0, 5.1, 5, 5.1]).index // 3
 */
export function likeliestJump(x: readonly number[], y: readonly number[]): WeightJump | null {
  const places = x.flatMap((value, at) => (at > 0 && value > (x[at - 1] ?? 0) ? [at] : []));
  if (x.length < fewestValues || places.length < 3) return null;
  const line = fitStraightLine(x, y);
  const total = compensatedSum(line.residuals.map((value) => value * value));
  // A step that the line itself follows has no spread left of its own.
  const steps = stepsAt(places, line, x).filter((step) => step.spread > leastShare * x.length);
  const [first, ...rest] = steps;
  if (!first || total === 0) return null;
  const best = rest.reduce((most, next) => (next.gain > most.gain ? next : most), first);
  const degreesOfFreedom = x.length - 3;
  const left = Math.max(0, total - best.gain) / degreesOfFreedom;
  const statistic = left === 0 ? Number.POSITIVE_INFINITY : Math.sqrt(best.gain / left);
  const tail = left === 0 ? 0 : 2 * t.cdf(-statistic, degreesOfFreedom);
  return {
    index: best.index,
    size: best.size,
    probability: Math.min(1, tail * steps.length),
  };
}
