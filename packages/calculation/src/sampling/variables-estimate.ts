import betainc from '@stdlib/math-base-special-betainc';
import betaincinv from '@stdlib/math-base-special-betaincinv';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';

/** Whether the standard deviation is that of the sample, or known from many lots. */
export type DeviationMethod = 's' | 'sigma';

function requireSize(sampleSizePieces: number, method: DeviationMethod): void {
  const least = method === 's' ? 3 : 2;
  requireDomain(Number.isInteger(sampleSizePieces) && sampleSizePieces >= least, {
    field: 'sampleSizePieces',
    value: sampleSizePieces,
    accepted: `a whole number of ${least} pieces or more`,
  });
}

/** Known deviation: the estimate widens the distance by this factor, √(n/(n − 1)). */
const widening = (n: number): number => Math.sqrt(n / (n - 1));

/**
 * Estimated fraction of a lot beyond one limit, from the distance of the sample mean to that limit: the
 * unbiased estimate of least variance.
 *
 * Formula: Q = distance in standard deviations. Method s: the regularised incomplete beta function
 * I_x(n/2 − 1, n/2 − 1) at x = max(0, ½ − ½·Q·√n/(n − 1)). Method sigma: Φ(−Q·√(n/(n − 1))).
 *
 * @param qualityIndex Q, any number; negative when the mean lies beyond the limit
 * @param sampleSizePieces n, 3 or more; 2 or more with known deviation
 * @param method s or sigma
 * @returns fraction in [0, 1], not rounded
 * @throws DomainError for a sample too small
 * Validity: normal measurements, drawn at random. Accuracy 1e-14. See reference/variables-plans.
 * Source: MIL-STD-414 (1957), Tables B-5 and D-5 and their formulas; G. J. Lieberman and G. J.
 * Resnikoff (1955), Journal of the American Statistical Association 50, 457-516
 * @example estimatedFraction(1.5903, 5, 's') // 0.02182
 */
export function estimatedFraction(
  qualityIndex: number,
  sampleSizePieces: number,
  method: DeviationMethod,
): number {
  requireSize(sampleSizePieces, method);
  const n = sampleSizePieces;
  if (method === 'sigma') return normalDistribution(-qualityIndex * widening(n), 0, 1);
  const x = 0.5 - (0.5 * qualityIndex * Math.sqrt(n)) / (n - 1);
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  return betainc(x, n / 2 - 1, n / 2 - 1, true, false);
}

/**
 * Acceptability constant that asks for the same as a greatest allowable fraction: the inverse of
 * `estimatedFraction`.
 *
 * Formula: method s, Q = (1 − 2x)·(n − 1)/√n with I_x(n/2 − 1, n/2 − 1) the fraction; method sigma,
 * Q = −Φ⁻¹(fraction)/√(n/(n − 1)).
 *
 * @param fraction open range (0, 1)
 * @param sampleSizePieces n, 3 or more; 2 or more with known deviation
 * @param method s or sigma
 * @returns k, not rounded
 * @throws DomainError for a fraction outside (0, 1) or a sample too small
 * Validity: undoes `estimatedFraction` within 1e-12.
 * Source: as `estimatedFraction`
 * @example acceptabilityConstant(0.026304551, 42, 's') // 1.905285
 */
export function acceptabilityConstant(
  fraction: number,
  sampleSizePieces: number,
  method: DeviationMethod,
): number {
  requireSize(sampleSizePieces, method);
  requireDomain(fraction > 0 && fraction < 1, {
    field: 'fraction',
    value: fraction,
    accepted: 'a fraction above 0 and below 1',
  });
  const n = sampleSizePieces;
  if (method === 'sigma') return -normalQuantile(fraction) / widening(n);
  const x = betaincinv(fraction, n / 2 - 1, n / 2 - 1);
  return ((1 - 2 * x) * (n - 1)) / Math.sqrt(n);
}
