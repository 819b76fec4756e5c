import { requireDomain } from '../quantity/domain.ts';

/**
 * Variance of the median of n normal results over that of their mean, n = 3 to 10. The value for four
 * is the printed one of Sarhan and Greenberg; the others are integrals of the order statistics.
 */
const ratios: Readonly<Record<number, number>> = {
  3: 1.346,
  4: 1.1928,
  5: 1.4342,
  6: 1.2885,
  7: 1.4731,
  8: 1.3455,
  9: 1.4949,
  10: 1.3833,
};

/**
 * How much more the median of n normal results varies than their mean.
 *
 * Formula: n·var(median)/σ², from the covariances of the order statistics in the middle.
 *
 * @param count number of results, 3 to 10
 * @returns ratio of variances, above 1
 * @throws DomainError for another number of results
 * Validity: independent results of one normal distribution; four decimals.
 * Source: Sarhan and Greenberg (1956), Annals of Mathematical Statistics 27, 427, from memory for
 * four; the test integrates every value anew
 * @example medianVarianceRatio(4) // 1.1928
 */
export function medianVarianceRatio(count: number): number {
  const ratio = ratios[count];
  requireDomain(ratio !== undefined, {
    field: 'count',
    value: count,
    accepted: 'a whole number of results from 3 to 10',
  });
  return ratio;
}
