import { requireDomain } from '../../quantity/domain.ts';
import { medianOf } from '../../quantity/median.ts';
import { normalQuantile } from '../../quantity/normal.ts';
import type { RobustEstimate } from './algorithm-a.ts';

const mostResults = 3000;

/** Differences of all pairs of laboratories, ascending; each pair of laboratories counts the same. */
function pairDifferences(results: readonly number[]): Float64Array {
  const differences = new Float64Array((results.length * (results.length - 1)) / 2);
  let place = 0;
  for (let i = 1; i < results.length; i += 1) {
    for (let j = 0; j < i; j += 1) {
      differences[place] = Math.abs((results[i] as number) - (results[j] as number));
      place += 1;
    }
  }
  return differences.sort();
}

/** Where the smoothed distribution of differences reaches a level: half way up each of its jumps. */
function smoothedQuantile(differences: Float64Array, level: number): number {
  let before = 0;
  let previous = { x: 0, g: 0 };
  for (let index = 0; index < differences.length; ) {
    const x = differences[index] as number;
    let end = index;
    while (end < differences.length && differences[end] === x) end += 1;
    const upTo = end / differences.length;
    if (x > 0) {
      const g = (before + upTo) / 2;
      if (g >= level) {
        return previous.x + ((x - previous.x) * (level - previous.g)) / (g - previous.g);
      }
      previous = { x, g };
    }
    before = upTo;
    index = end;
  }
  return previous.x;
}

/**
 * Robust standard deviation by the Q method: from the differences of all pairs of results, without
 * an estimate of the mean.
 *
 * Formula: H(x) the share of pairs that differ by at most x; G its line through the middles of the
 * jumps, from G(0) = 0; s* = G⁻¹(0.25 + 0.75·H(0))/(√2·Φ⁻¹(0.625 + 0.375·H(0))).
 *
 * @param results 2 to 3000 finite numbers of one unit, in any order
 * @returns standard deviation, not rounded; 0 where all results are equal
 * @throws DomainError for another number of results
 * Validity: half of the results may be gross. One result per laboratory.
 * Source: ISO 13528:2022, C.5.2; C. H. Müller and S. Uhlig (2001), Biometrika 88, 353-366
 * @example qStandardDeviation([1, 2, 3, 4, 5]) // 2.536165
 */
export function qStandardDeviation(results: readonly number[]): number {
  requireDomain(results.length >= 2 && results.length <= mostResults, {
    field: 'results',
    value: results.length,
    accepted: `2 to ${mostResults} results`,
  });
  const differences = pairDifferences(results);
  let equal = 0;
  while (equal < differences.length && differences[equal] === 0) equal += 1;
  const atZero = equal / differences.length;
  if (atZero === 1) return 0;
  const quantile = smoothedQuantile(differences, 0.25 + 0.75 * atZero);
  return quantile / (Math.SQRT2 * normalQuantile(0.625 + 0.375 * atZero));
}

/** Hampel's score: it follows the distance up to 1.5, is level to 3 and gone from 4.5 on. */
function hampelScore(distance: number): number {
  const size = Math.abs(distance);
  const score = size <= 1.5 ? size : size <= 3 ? 1.5 : Math.max(0, 4.5 - size);
  return Math.sign(distance) * score;
}

/** Sum of the scores at a value, in units of the standard deviation. */
function scoreSum(results: readonly number[], value: number, deviation: number): number {
  let sum = 0;
  for (const result of results) sum += hampelScore((result - value) / deviation);
  return sum;
}

/** All values at which the sum of scores, which is a broken line, passes through zero. */
function zeros(results: readonly number[], deviation: number): number[] {
  const breaks = results
    .flatMap((result) => [-4.5, -3, -1.5, 1.5, 3, 4.5].map((step) => result + step * deviation))
    .sort((a, b) => a - b);
  const sums = breaks.map((value) => scoreSum(results, value, deviation));
  const found: number[] = [];
  for (let index = 0; index + 1 < breaks.length; index += 1) {
    const [x0, x1] = [breaks[index] as number, breaks[index + 1] as number];
    const [s0, s1] = [sums[index] as number, sums[index + 1] as number];
    if (s0 === s1) continue;
    const share = s0 / (s0 - s1);
    if (share >= 0 && share <= 1) found.push(x0 + share * (x1 - x0));
  }
  return found;
}

/**
 * Robust mean by Hampel's estimator for a given standard deviation: results far off do not count at
 * all.
 *
 * Formula: zero of Σ ψ((xᵢ − x)/s*), ψ(q) = q up to 1.5, ±1.5 up to 3, falling to 0 at 4.5. The sum is a
 * broken line, so every zero is found exactly; the one nearest the median holds, the median itself
 * where two are equally near.
 *
 * @param results 2 or more finite numbers of one unit
 * @param standardDeviation above 0, in that unit
 * @returns mean, not rounded
 * @throws DomainError for a standard deviation that is not above 0
 * Validity: half of the results may be gross.
 * Source: ISO 13528:2022, C.5.3
 * @example hampelMean([9.8, 10.0, 10.1, 10.2, 14.0], 0.2) // 10.025
 */
export function hampelMean(results: readonly number[], standardDeviation: number): number {
  requireDomain(standardDeviation > 0, {
    field: 'standardDeviation',
    value: standardDeviation,
    accepted: 'a standard deviation above 0',
  });
  const median = medianOf(results);
  const candidates = zeros(results, standardDeviation).sort(
    (a, b) => Math.abs(a - median) - Math.abs(b - median),
  );
  const [first, second] = candidates;
  if (first === undefined) return median;
  const tie =
    second !== undefined &&
    Math.abs(first - second) > 1e-9 * standardDeviation &&
    Math.abs(Math.abs(first - median) - Math.abs(second - median)) < 1e-12 * standardDeviation;
  return tie ? median : first;
}

/** Q method and Hampel's estimator together; the mean is the median where the deviation is 0. */
export function qHampel(results: readonly number[]): RobustEstimate {
  const standardDeviation = qStandardDeviation(results);
  const mean = standardDeviation > 0 ? hampelMean(results, standardDeviation) : medianOf(results);
  return { mean, standardDeviation };
}
