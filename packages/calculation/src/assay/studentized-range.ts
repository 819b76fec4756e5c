import { requireDomain } from '../quantity/domain.ts';
import { turningPoint } from '../quantity/halving.ts';
import { normalDensity, normalDistribution } from '../quantity/normal.ts';
import { compensatedSum } from '../quantity/sum.ts';

/** Nodes per unit of z of the trapezoidal rule, which converges faster than any power here. */
const nodesPerUnit = 32;
const reach = 9;

/**
 * Probability that the range of n independent normal results, in units of their standard
 * deviation, is at or below q.
 *
 * Formula: n·∫ φ(z)·(Φ(z) − Φ(z − q))^(n−1) dz over all z, by the trapezoidal rule.
 *
 * @param q range in standard deviations, 0 or more
 * @param count number of results, 2 to 100
 * @returns probability in [0, 1], not rounded
 * @throws DomainError when an argument is outside its range
 * Validity: absolute accuracy 1e-12 or better for q above 0.3. See reference/iso-5725-6.
 * Source: Tippett (1925), Biometrika 17, 364; the studentized range with infinite degrees of freedom
 * @example rangeDistribution(2.7718, 2) // 0.9500
 */
export function rangeDistribution(q: number, count: number): number {
  requireDomain(q >= 0, { field: 'q', value: q, accepted: 'a range of 0 or more' });
  requireDomain(Number.isInteger(count) && count >= 2 && count <= 100, {
    field: 'count',
    value: count,
    accepted: 'a whole number of results from 2 to 100',
  });
  const terms: number[] = [];
  for (let i = -reach * nodesPerUnit; i <= (reach + q) * nodesPerUnit; i += 1) {
    const z = i / nodesPerUnit;
    const between = normalDistribution(z, 0, 1) - normalDistribution(z - q, 0, 1);
    terms.push(normalDensity(z, 0, 1) * between ** (count - 1));
  }
  return (count * compensatedSum(terms)) / nodesPerUnit;
}

/**
 * Range that n independent normal results stay within with a given probability, in units of their
 * standard deviation: the exact critical range factor f(n) of repeatability checks.
 *
 * Formula: inverse of `rangeDistribution` by halving.
 *
 * @param probability open range (0, 1), at least 0.01
 * @param count number of results, 2 to 100
 * @returns range in standard deviations, not rounded
 * @throws DomainError when an argument is outside its range
 * Validity: accurate to 1e-10. See reference/iso-5725-6.
 * Source: as `rangeDistribution`; use in ISO 5725-6:1994, Table 1
 * @example rangeQuantile(0.95, 2) // 2.7718
 */
export function rangeQuantile(probability: number, count: number): number {
  requireDomain(probability >= 0.01 && probability < 1, {
    field: 'probability',
    value: probability,
    accepted: 'a probability of at least 0.01 and below 1',
  });
  return turningPoint((q) => rangeDistribution(q, count) < probability, 0, 20);
}
