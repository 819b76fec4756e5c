import t from '@stdlib/stats-base-dists-t';
import { DomainError, requireDomain } from '../quantity/domain.ts';
import { normalQuantile } from '../quantity/normal.ts';

/** A part of a combined standard uncertainty with the degrees of freedom it rests on. */
export interface UncertaintyPart {
  /** Standard uncertainty of the result from this part alone; the sign does not matter. */
  readonly contribution: number;
  /** Null where the part is taken as known exactly. */
  readonly degreesOfFreedom: number | null;
}

/**
 * Effective degrees of freedom of a combined standard uncertainty.
 *
 * Formula: u⁴ / Σ (uᵢ⁴/νᵢ), u² = Σ uᵢ²; parts known exactly add nothing to the lower sum.
 *
 * @param parts independent parts in one unit, degrees of freedom above 0 or null
 * @returns degrees of freedom, not rounded; null for infinite
 * @throws DomainError for degrees of freedom that are not above 0
 * Validity: independent parts; correlated ones are to be joined to one part first.
 * Source: JCGM 100:2008, G.4.1, equation (G.2b)
 * @example welchSatterthwaite([{ contribution: 0.25, degreesOfFreedom: 9 },
 *   { contribution: 0.57, degreesOfFreedom: 4 }, { contribution: 0.82, degreesOfFreedom: 14 }])
 *   // 19.0
 */
export function welchSatterthwaite(parts: readonly UncertaintyPart[]): number | null {
  let largest = 0;
  for (const { contribution } of parts) largest = Math.max(largest, Math.abs(contribution));
  let variance = 0;
  let lower = 0;
  for (const { contribution, degreesOfFreedom } of parts) {
    // Relative to the largest part, so that fourth powers neither overflow nor vanish.
    const square = largest > 0 ? (contribution / largest) ** 2 : 0;
    variance += square;
    if (degreesOfFreedom === null) continue;
    if (!(degreesOfFreedom > 0)) {
      const accepted = 'degrees of freedom above 0, or none';
      throw new DomainError({ field: 'degreesOfFreedom', value: degreesOfFreedom, accepted });
    }
    lower += (square * square) / degreesOfFreedom;
  }
  return lower > 0 ? (variance * variance) / lower : null;
}

/**
 * Coverage factor for a coverage probability.
 *
 * Formula: the (1 + p)/2 quantile of Student's t, or of the normal distribution for null.
 *
 * @param coverageProbability p, open range (0, 1)
 * @param degreesOfFreedom above 0; null for infinite
 * @returns k, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: a result whose distribution is about t. See reference/gum.
 * Source: JCGM 100:2008, G.3 and Table G.2
 * @example coverageFactor(0.99, 16) // 2.9208
 */
export function coverageFactor(
  coverageProbability: number,
  degreesOfFreedom: number | null,
): number {
  requireDomain(coverageProbability > 0 && coverageProbability < 1, {
    field: 'coverageProbability',
    value: coverageProbability,
    accepted: 'a probability above 0 and below 1',
  });
  const probability = (1 + coverageProbability) / 2;
  if (degreesOfFreedom === null) return normalQuantile(probability);
  requireDomain(degreesOfFreedom > 0, {
    field: 'degreesOfFreedom',
    value: degreesOfFreedom,
    accepted: 'degrees of freedom above 0, or none',
  });
  return t.quantile(probability, degreesOfFreedom);
}
