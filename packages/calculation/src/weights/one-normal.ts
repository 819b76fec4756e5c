import { massSummary } from './mass-summary.ts';

/**
 * Greatest logarithm of the likelihood that one normal distribution gives to a sample.
 *
 * Formula: −(n/2)·(ln(2π·s²) + 1), s² the variance with divisor n.
 *
 * @param masses 2 or more finite numbers of one unit, not all equal
 * @returns the logarithm
 * Validity: exact.
 * Source: elementary
 * @example oneNormalLogLikelihood([-1, 1]) // -2.8378770664093453
 */
export function oneNormalLogLikelihood(masses: readonly number[]): number {
  const { count, variance } = massSummary(masses);
  return -0.5 * count * (Math.log(2 * Math.PI * variance) + 1);
}
