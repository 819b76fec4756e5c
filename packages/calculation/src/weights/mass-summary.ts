import type { SampleSummary } from './truncated-fit.ts';

/**
 * Number, mean and variance of masses, in two passes without lists of deviations.
 *
 * Formula: mean from the sum of differences from the first mass, variance with divisor n from the
 * deviations, less the square of their mean, which takes the rounding of the mean out again.
 *
 * @param masses 1 or more finite numbers of one unit, in any order
 * @returns number, mean and variance, not rounded
 * Validity: relative error of the variance about n·1e-16. Held against compensated sums in
 * sorted-blanks.test.
 * Source: T. F. Chan, G. H. Golub and R. J. LeVeque (1983), The American Statistician 37, 242-247, corrected
 * two-pass algorithm
 * @example massSummary([1, 2, 3, 4]).variance // 1.25
 */
export function massSummary(masses: ArrayLike<number>): SampleSummary {
  const count = masses.length;
  const first = masses[0] as number;
  let sum = 0;
  for (let index = 0; index < count; index += 1) sum += (masses[index] as number) - first;
  const mean = first + sum / count;
  let deviations = 0;
  let squares = 0;
  for (let index = 0; index < count; index += 1) {
    const deviation = (masses[index] as number) - mean;
    deviations += deviation;
    squares += deviation * deviation;
  }
  return { count, mean, variance: Math.max(0, (squares - deviations ** 2 / count) / count) };
}
