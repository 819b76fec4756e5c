import { requireDomain } from '../../quantity/domain.ts';
import { medianOfAscending } from '../../quantity/median.ts';
import { normalDensity, normalDistribution } from '../../quantity/normal.ts';
import { compensatedSum } from '../../quantity/sum.ts';

/** Robust mean and standard deviation of results, in their unit. */
export interface RobustEstimate {
  readonly mean: number;
  readonly standardDeviation: number;
}

const limit = 1.5;
/** Scales the median absolute deviation to the standard deviation of normal results. */
const medianDeviationFactor = 1.483;
/** Scales the standard deviation of results cut at 1.5: 1.134 as printed. */
const cutFactor = 1.134;
const mostRounds = 2000;

/** Number of ascending values that are below a bound, or at it too. */
function countBelow(ascending: Float64Array, bound: number, inclusive: boolean): number {
  let [from, to] = [0, ascending.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    const value = ascending[middle] as number;
    if (value < bound || (inclusive && value === bound)) from = middle + 1;
    else to = middle;
  }
  return from;
}

/** Running sums of values and of squares, so that a round costs two searches and no pass. */
function runningSums(ascending: Float64Array): { sums: Float64Array; squares: Float64Array } {
  const sums = new Float64Array(ascending.length + 1);
  const squares = new Float64Array(ascending.length + 1);
  for (let index = 0; index < ascending.length; index += 1) {
    const value = ascending[index] as number;
    sums[index + 1] = (sums[index] as number) + value;
    squares[index + 1] = (squares[index] as number) + value * value;
  }
  return { sums, squares };
}

/** Where the rounds start: median and scaled median absolute deviation, or a plain one if that is 0. */
function startOf(deviations: Float64Array): RobustEstimate {
  const absolute = deviations.map(Math.abs).sort();
  const median = medianDeviationFactor * medianOfAscending(absolute);
  if (median > 0) return { mean: 0, standardDeviation: median };
  const squares = compensatedSum(Array.from(deviations, (one) => one * one));
  return { mean: 0, standardDeviation: Math.sqrt(squares / (deviations.length - 1)) };
}

/**
 * Robust mean and standard deviation by Algorithm A: results beyond 1.5 standard deviations from
 * the mean are drawn in to that distance, again and again until nothing changes.
 *
 * Formula: start at the median and 1.483 times the median absolute deviation (the plain deviation from the
 * median where that is 0); δ = 1.5 s*; results outside x* ± δ are replaced by the nearer end; x* is
 * their mean, s* = 1.134·√(Σ(xᵢ* − x*)²/(p − 1)).
 *
 * @param results 2 or more finite numbers of one unit, in any order
 * @returns mean and standard deviation, not rounded; the deviation is 0 where most results are equal
 * @throws DomainError for fewer than 2 results
 * Validity: up to about a fifth of the results may be gross; converged to 1e-13, where the standard
 * stops at the third figure. See reference/robust-means.
 * Source: ISO 13528:2022, C.3.1; ISO 5725-5:1998, 6.2; Analytical Methods Committee (1989), Analyst 114, 1693-1697
 * @example algorithmA([9.8, 10.0, 10.1, 10.2, 14.0]).mean // 10.2282
 */
export function algorithmA(results: readonly number[]): RobustEstimate {
  const count = results.length;
  requireDomain(count >= 2, {
    field: 'results',
    value: count,
    accepted: 'at least 2 results',
  });
  const ascending = Float64Array.from(results).sort();
  const centre = medianOfAscending(ascending);
  const deviations = ascending.map((value) => value - centre);
  const { sums, squares } = runningSums(deviations);
  let { mean, standardDeviation } = startOf(deviations);
  for (let round = 0; round < mostRounds && standardDeviation > 0; round += 1) {
    const [low, high] = [mean - limit * standardDeviation, mean + limit * standardDeviation];
    const below = countBelow(deviations, low, false);
    const within = countBelow(deviations, high, true);
    const above = count - within;
    const sum = below * low + ((sums[within] as number) - (sums[below] as number)) + above * high;
    const next = sum / count;
    const inside = (squares[within] as number) - (squares[below] as number);
    const square = below * low * low + inside + above * high * high - count * next * next;
    const spread = cutFactor * Math.sqrt(Math.max(0, square) / (count - 1));
    const change = Math.abs(next - mean) + Math.abs(spread - standardDeviation);
    const isSettled = change <= 1e-14 * spread;
    mean = next;
    standardDeviation = spread;
    // Most results equal: the deviation halves for ever and means nothing.
    if (standardDeviation < 1e-12 * Math.max(Math.abs(centre), Number.MIN_VALUE)) {
      standardDeviation = 0;
    }
    if (isSettled) break;
  }
  return { mean: centre + mean, standardDeviation };
}

/**
 * What makes the standard deviation of results cut at ±c standard deviations right for normal
 * results. At 1.5 it is 1.1334; the standards print 1.134 for it, so that the robust deviation of many
 * normal results comes out about 0.1 % large.
 *
 * Formula: 1/√(1 − 2Q + 2Q·c² − 2c·φ(c)) with Q = 1 − Φ(c).
 *
 * @param cut distance c in standard deviations, above 0
 * @returns factor above 1
 * Validity: exact for normal results without limit in number, at one round.
 * Source: P. J. Huber (1981), Robust Statistics, 6.4
 * @example cutDeviationFactor(1.5) // 1.133393
 */
export function cutDeviationFactor(cut: number): number {
  const beyond = normalDistribution(-cut, 0, 1);
  const square = 1 - 2 * beyond + 2 * beyond * cut * cut - 2 * cut * normalDensity(cut, 0, 1);
  return 1 / Math.sqrt(square);
}
