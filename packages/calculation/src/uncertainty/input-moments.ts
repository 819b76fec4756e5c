import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import type { InputDistribution } from './input-quantity-schema.ts';

/** An input quantity as the law of propagation sees it. */
export interface Moments {
  readonly estimate: number;
  readonly standardUncertainty: number;
  /** Null where the standard uncertainty is taken as known exactly. */
  readonly degreesOfFreedom: number | null;
}

/**
 * Mean of independent readings with its standard uncertainty.
 *
 * Formula: u = s/√n, s the standard deviation with divisor n − 1; degrees of freedom n − 1.
 *
 * @param readings at least 2, of one unit
 * @returns mean and standard uncertainty in that unit, degrees of freedom; not rounded
 * @throws DomainError for fewer than 2 readings
 * Validity: independent readings of one quantity.
 * Source: JCGM 100:2008, 4.2
 * @example momentsOfReadings([1, 2, 3]).degreesOfFreedom // 2
 */
export function momentsOfReadings(readings: readonly number[]): Moments {
  const n = readings.length;
  requireDomain(n >= 2, { field: 'readings', value: n, accepted: 'at least 2 readings' });
  const estimate = compensatedSum(readings) / n;
  const squares = compensatedSum(readings.map((reading) => (reading - estimate) ** 2));
  return {
    estimate,
    standardUncertainty: Math.sqrt(squares / (n - 1) / n),
    degreesOfFreedom: n - 1,
  };
}

/**
 * Estimate, standard uncertainty and degrees of freedom of an input quantity.
 *
 * Formula: with a the half-width, rectangular a/√3, triangular a/√6, arc-sine a/√2, trapezoidal
 * a·√((1 + β²)/6) with β the share of the flat top, curvilinear trapezoidal √(a²/3 + d²/9) with d
 * the tolerance of the half-width and degrees of freedom (a/d)²/2; exponential the estimate itself;
 * gamma shape·scale and √shape·scale. For t the standard uncertainty is the scale, as the law of
 * propagation takes it.
 *
 * @param distribution what is known of the input
 * @returns estimate and standard uncertainty in the unit of the input, not rounded
 * @throws DomainError where the tolerance of a half-width is not below the half-width
 * Validity: exact formulas; t with its scale is what JCGM 100 uses, its standard deviation is larger.
 * Source: JCGM 100:2008, 4.2, 4.3.7 to 4.3.9, G.4.2; JCGM 101:2008, 6.4
 * @example momentsOf({ kind: 'rectangular', estimate: 100, halfWidth: 4 }).standardUncertainty
 *   // 2.3094010767585034
 */
export function momentsOf(distribution: InputDistribution): Moments {
  const known = (estimate: number, standardUncertainty: number): Moments => ({
    estimate,
    standardUncertainty,
    degreesOfFreedom: null,
  });
  switch (distribution.kind) {
    case 'normal':
    case 't': {
      const { estimate, standardUncertainty, degreesOfFreedom } = distribution;
      return { estimate, standardUncertainty, degreesOfFreedom };
    }
    case 'readings':
      return momentsOfReadings(distribution.readings);
    case 'rectangular':
      return known(distribution.estimate, distribution.halfWidth / Math.sqrt(3));
    case 'triangular':
      return known(distribution.estimate, distribution.halfWidth / Math.sqrt(6));
    case 'trapezoidal': {
      const { estimate, halfWidth, topShare } = distribution;
      return known(estimate, halfWidth * Math.sqrt((1 + topShare * topShare) / 6));
    }
    case 'curvilinear trapezoidal':
      return momentsOfCurvilinear(distribution);
    case 'arc-sine':
      return known(distribution.estimate, distribution.halfWidth / Math.SQRT2);
    case 'exponential':
      return known(distribution.estimate, distribution.estimate);
    case 'gamma':
      return known(
        distribution.shape * distribution.scale,
        Math.sqrt(distribution.shape) * distribution.scale,
      );
  }
}

function momentsOfCurvilinear(
  distribution: Extract<InputDistribution, { kind: 'curvilinear trapezoidal' }>,
): Moments {
  const { estimate, halfWidth: a, halfWidthTolerance: d } = distribution;
  requireDomain(d < a, {
    field: 'halfWidthTolerance',
    value: d,
    accepted: `a tolerance below the half-width ${a}`,
  });
  return {
    estimate,
    standardUncertainty: Math.sqrt((a * a) / 3 + (d * d) / 9),
    degreesOfFreedom: Math.max(1, 0.5 * (a / d) ** 2),
  };
}
