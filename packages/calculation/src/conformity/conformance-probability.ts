import t from '@stdlib/stats-base-dists-t';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';

/** A measured value with its uncertainty beside one or two limits, all in one unit. */
export interface MeasuredAgainstLimits {
  /** Measured value. */
  readonly value: number;
  /** Standard uncertainty of the value, above 0. */
  readonly standardUncertainty: number;
  /** Lower limit of what conforms; absent when there is none. */
  readonly lowerLimit?: number | undefined;
  /** Upper limit of what conforms; absent when there is none. */
  readonly upperLimit?: number | undefined;
  /** Degrees of freedom of the standard uncertainty, above 0; absent for the normal distribution. */
  readonly degreesOfFreedom?: number | undefined;
}

function requireDegreesOfFreedom(degreesOfFreedom: number | undefined): void {
  requireDomain(degreesOfFreedom === undefined || degreesOfFreedom > 0, {
    field: 'degreesOfFreedom',
    value: degreesOfFreedom,
    accepted: 'degrees of freedom above 0, or none for the normal distribution',
  });
}

/**
 * Probability that a standardised quantity is at or below z: normal, or Student's t where degrees
 * of freedom are given.
 *
 * @param z any number
 * @param degreesOfFreedom above 0; absent for the normal distribution
 * @returns probability in [0, 1], not rounded
 * @throws DomainError when degrees of freedom are not above 0
 * @example lowerTail(-1.959963984540054) // 0.025
 */
export function lowerTail(z: number, degreesOfFreedom?: number): number {
  requireDegreesOfFreedom(degreesOfFreedom);
  if (degreesOfFreedom === undefined || degreesOfFreedom === Number.POSITIVE_INFINITY) {
    return normalDistribution(z, 0, 1);
  }
  return t.cdf(z, degreesOfFreedom);
}

/**
 * The z that a standardised quantity stays at or below with a given probability.
 *
 * @param probability open range (0, 1)
 * @param degreesOfFreedom above 0; absent for the normal distribution
 * @returns z, not rounded
 * @throws DomainError when an argument is outside its range
 * @example lowerTailQuantile(0.95) // 1.6448536269514722
 */
export function lowerTailQuantile(probability: number, degreesOfFreedom?: number): number {
  requireDegreesOfFreedom(degreesOfFreedom);
  requireDomain(probability > 0 && probability < 1, {
    field: 'probability',
    value: probability,
    accepted: 'a probability above 0 and below 1',
  });
  if (degreesOfFreedom === undefined || degreesOfFreedom === Number.POSITIVE_INFINITY) {
    return normalQuantile(probability);
  }
  return t.quantile(probability, degreesOfFreedom);
}

/** Limits in units of the standard uncertainty, infinite where there is none. */
function standardisedLimits(measured: MeasuredAgainstLimits): { lower: number; upper: number } {
  const { value, standardUncertainty, lowerLimit, upperLimit } = measured;
  requireDomain(Number.isFinite(value), { field: 'value', value, accepted: 'a finite number' });
  requireDomain(standardUncertainty > 0 && Number.isFinite(standardUncertainty), {
    field: 'standardUncertainty',
    value: standardUncertainty,
    accepted: 'a standard uncertainty above 0',
  });
  requireDomain(lowerLimit !== undefined || upperLimit !== undefined, {
    field: 'lowerLimit',
    value: lowerLimit,
    accepted: 'at least one of a lower and an upper limit',
  });
  const { lower = -Infinity, upper = Infinity } = { lower: lowerLimit, upper: upperLimit };
  requireDomain(lower < upper, {
    field: 'lowerLimit',
    value: lowerLimit,
    accepted: `a lower limit below the upper limit ${upperLimit}`,
  });
  return {
    lower: (lower - value) / standardUncertainty,
    upper: (upper - value) / standardUncertainty,
  };
}

/** Tail below z, with infinite z allowed. */
function tailBelow(z: number, degreesOfFreedom: number | undefined): number {
  if (z === -Infinity) return 0;
  return z === Infinity ? 1 : lowerTail(z, degreesOfFreedom);
}

/**
 * Probability that the true value conforms to one or two limits, given a measured value and its
 * uncertainty, when nothing else is known about the true value. The verdict on a melt and the
 * consumer's risk rest on it.
 *
 * Formula: F((upper − value)/u) − F((lower − value)/u), F the standard normal distribution, or
 * Student's t with the stated degrees of freedom; a limit that is absent is infinitely far away.
 *
 * @param measured value, standard uncertainty above 0, at least one limit, all in one unit; lower
 *   limit below upper limit; degrees of freedom above 0 or absent
 * @returns probability in [0, 1], not rounded
 * @throws DomainError when a value is outside its range or no limit is given
 * Validity: normal (or scaled t) state of knowledge and no prior knowledge of the process. Both
 * tails keep their relative accuracy. See reference/conformity.
 * Source: JCGM 106:2012, 7.3 (one limit) and 7.4 (two limits); t after JCGM 100:2008, G.3
 * @example conformanceProbability({ value: -5.47, standardUncertainty: 0.05, upperLimit: -5.4 })
 *   // 0.9192
 */
export function conformanceProbability(measured: MeasuredAgainstLimits): number {
  const { lower, upper } = standardisedLimits(measured);
  const { degreesOfFreedom } = measured;
  // When both limits lie above the value, the difference is taken between the small upper tails.
  return lower > 0
    ? tailBelow(-lower, degreesOfFreedom) - tailBelow(-upper, degreesOfFreedom)
    : tailBelow(upper, degreesOfFreedom) - tailBelow(lower, degreesOfFreedom);
}

/**
 * Probability that the true value lies outside the limits: the specific consumer's risk when the
 * piece or melt is accepted. It is computed from the tails and stays accurate where it is tiny.
 *
 * Formula: F((lower − value)/u) + F(−(upper − value)/u), as in `conformanceProbability`.
 *
 * @param measured as for `conformanceProbability`
 * @returns probability in [0, 1], not rounded
 * @throws DomainError as `conformanceProbability`
 * Validity: as `conformanceProbability`. Source: JCGM 106:2012, 9.3.2
 * @example nonconformanceProbability({ value: 2, standardUncertainty: 1, lowerLimit: 0 }) // 0.02275
 */
export function nonconformanceProbability(measured: MeasuredAgainstLimits): number {
  const { lower, upper } = standardisedLimits(measured);
  const { degreesOfFreedom } = measured;
  return tailBelow(lower, degreesOfFreedom) + tailBelow(-upper, degreesOfFreedom);
}

/** Direction from a limit towards what conforms. */
export type ConformingSide = 'above' | 'below';

/**
 * Limit moved so that a value lying on it conforms with a required probability: the acceptance
 * limit of a guarded acceptance, or, with the side turned, the limit of a guarded rejection.
 *
 * Formula: limit ± z·u with z the quantile of the required probability. Where the uncertainty is
 * proportional to the measured value, limit / (1 ∓ z·w), w the relative standard uncertainty.
 *
 * @param options limit; exactly one of standardUncertainty (above 0, unit of the limit) and
 *   relativeStandardUncertainty (above 0, unit 1); required probability in (0, 1); side on which
 *   values are to lie; degrees of freedom above 0 or absent
 * @returns the guarded limit, in the unit of the limit, not rounded
 * @throws DomainError when a value is outside its range, or z·w reaches 1
 * Validity: as `conformanceProbability`.
 * Source: JCGM 106:2012, 8.3.2 (guarded acceptance) and 8.3.3 (guarded rejection)
 * @example guardedLimit({ limit: 999.9, standardUncertainty: 0.02, requiredProbability: 0.95,
 *   conforms: 'above' }) // 999.9329
 */
export function guardedLimit(options: {
  readonly limit: number;
  readonly standardUncertainty?: number;
  readonly relativeStandardUncertainty?: number;
  readonly requiredProbability: number;
  readonly conforms: ConformingSide;
  readonly degreesOfFreedom?: number;
}): number {
  const { limit, standardUncertainty, relativeStandardUncertainty, conforms } = options;
  const z = lowerTailQuantile(options.requiredProbability, options.degreesOfFreedom);
  const sign = conforms === 'above' ? 1 : -1;
  if (relativeStandardUncertainty === undefined) {
    requireDomain(standardUncertainty !== undefined && standardUncertainty > 0, {
      field: 'standardUncertainty',
      value: standardUncertainty,
      accepted: 'a standard uncertainty above 0, or a relative one',
    });
    return limit + sign * z * standardUncertainty;
  }
  const share = 1 - sign * z * relativeStandardUncertainty;
  requireDomain(relativeStandardUncertainty > 0 && standardUncertainty === undefined && share > 0, {
    field: 'relativeStandardUncertainty',
    value: relativeStandardUncertainty,
    accepted: `one uncertainty only, above 0 and below ${1 / Math.abs(z)}`,
  });
  return limit / share;
}
