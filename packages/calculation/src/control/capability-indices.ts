import { upperChiSquareQuantile } from '../quantity/chi-square.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';

/** Limits that a piece must keep; one of them may be absent. */
export interface ToleranceLimits {
  readonly lowerLimit: number | null;
  readonly upperLimit: number | null;
}

/** A capability index with its interval; bounds are null where none is known. */
export interface CapabilityIndex {
  readonly value: number;
  /** Two-sided interval. */
  readonly lowerBound: number | null;
  readonly upperBound: number | null;
  /** One-sided lower bound at the same confidence. */
  readonly leastAtConfidence: number | null;
}

/** How well a mean and a standard deviation are known. */
export interface SpreadKnowledge {
  readonly count: number;
  /** Degrees of freedom of the standard deviation. */
  readonly degreesOfFreedom: number;
  readonly confidence: number;
}

/** A value of an index of which no interval is known. */
export const withoutInterval = (value: number): CapabilityIndex => ({
  value,
  lowerBound: null,
  upperBound: null,
  leastAtConfidence: null,
});

/**
 * Interval of a ratio of a known width to an estimated standard deviation, as Cp is.
 *
 * Formula: value·√(χ²/ν), χ² the quantiles of ν degrees of freedom at (1 ∓ confidence)/2, or at
 * 1 − confidence for the one-sided bound.
 *
 * @param value the index
 * @param knowledge degrees of freedom ν above 0; confidence above 0 and below 1
 * @returns value with exact bounds
 * @throws DomainError for degrees of freedom or a confidence outside their range
 * Validity: exact for normal readings. See reference/capability.
 * Source: K. Chou, D. B. Owen and S. A. Borrego (1990), Journal of Quality Technology 22, 223-229;
 * NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6
 * @example potentialIndex(2.29, { count: 20, degreesOfFreedom: 19, confidence: 0.95 }).lowerBound // 1.57
 */
export function potentialIndex(value: number, knowledge: SpreadKnowledge): CapabilityIndex {
  const { degreesOfFreedom, confidence } = knowledge;
  const bound = (upperProbability: number): number =>
    value *
    Math.sqrt(upperChiSquareQuantile(upperProbability, degreesOfFreedom) / degreesOfFreedom);
  return {
    value,
    lowerBound: bound((1 + confidence) / 2),
    upperBound: bound((1 - confidence) / 2),
    leastAtConfidence: bound(confidence),
  };
}

/**
 * Interval of a one-sided index or of the smaller of two, as Cpk is, after Bissell.
 *
 * Formula: value ∓ z·√(1/(9n) + value²/(2ν)), z the normal quantile for two sides or one.
 *
 * @param value the index, any sign
 * @param knowledge number of readings n, degrees of freedom ν, confidence
 * @returns value with approximate bounds
 * Validity: an approximation for normal readings, good from about 30 readings on; where the process
 * stands in the middle between both limits the bounds of Cpk are a little cautious. See laws/control.
 * Source: A. F. Bissell (1990), Applied Statistics 39, 331-340
 * @example oneSidedIndex(1.33, { count: 20, degreesOfFreedom: 19, confidence: 0.95 }).lowerBound // 0.8826
 */
export function oneSidedIndex(value: number, knowledge: SpreadKnowledge): CapabilityIndex {
  const { count, degreesOfFreedom, confidence } = knowledge;
  const deviation = Math.sqrt(1 / (9 * count) + value ** 2 / (2 * degreesOfFreedom));
  const z = normalQuantile((1 + confidence) / 2);
  return {
    value,
    lowerBound: value - z * deviation,
    upperBound: value + z * deviation,
    leastAtConfidence: value - normalQuantile(confidence) * deviation,
  };
}

/** Values of the indices of one spread; null where a limit is missing. */
export interface IndexValues {
  readonly potential: number | null;
  readonly toLowerLimit: number | null;
  readonly toUpperLimit: number | null;
  /** The smaller of the two. */
  readonly actual: number;
}

/**
 * Capability indices of a process from its middle and the widths of its two halves.
 *
 * Formula: potential (U − L)/(w₋ + w₊), to the lower limit (m − L)/w₋, to the upper (U − m)/w₊, actual
 * the smaller one; w₋ = w₊ = 3s for normal readings, distances of the 0.135 % and 99.865 % points from
 * the median for others.
 *
 * @param limits lower and upper limit, at least one
 * @param process middle, widths below and above it, both above 0
 * @returns values, not rounded
 * @throws DomainError when both limits are missing, are in the wrong order, or a width is not above 0
 * Validity: a stable process. See reference/capability.
 * Source: ISO 22514-2:2017, 5; NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6
 * @example indexValues({ lowerLimit: 8, upperLimit: 20 }, { middle: 16, widthBelow: 6, widthAbove: 6 }).actual // 0.66667
 */
export function indexValues(
  limits: ToleranceLimits,
  process: { readonly middle: number; readonly widthBelow: number; readonly widthAbove: number },
): IndexValues {
  const { lowerLimit, upperLimit } = limits;
  const { middle, widthBelow, widthAbove } = process;
  requireDomain(lowerLimit !== null || upperLimit !== null, {
    field: 'lowerLimit',
    value: 'no limit',
    accepted: 'a lower limit, an upper limit, or both',
  });
  requireDomain(lowerLimit === null || upperLimit === null || lowerLimit < upperLimit, {
    field: 'lowerLimit',
    value: lowerLimit,
    accepted: `a lower limit below the upper limit ${upperLimit}`,
  });
  requireDomain(widthBelow > 0 && widthAbove > 0, {
    field: 'data',
    value: 'no spread',
    accepted: 'readings fine enough to show a spread on both sides of their middle',
  });
  const toLowerLimit = lowerLimit === null ? null : (middle - lowerLimit) / widthBelow;
  const toUpperLimit = upperLimit === null ? null : (upperLimit - middle) / widthAbove;
  return {
    potential:
      lowerLimit === null || upperLimit === null
        ? null
        : (upperLimit - lowerLimit) / (widthBelow + widthAbove),
    toLowerLimit,
    toUpperLimit,
    actual: Math.min(
      toLowerLimit ?? Number.POSITIVE_INFINITY,
      toUpperLimit ?? Number.POSITIVE_INFINITY,
    ),
  };
}

/**
 * Pieces expected outside the limits when the readings are normal.
 *
 * Formula: 10⁶·(Φ((L − m)/s) + Φ((m − U)/s)).
 *
 * @param limits lower and upper limit, either may be missing
 * @param mean of the process
 * @param standardDeviation above 0
 * @returns pieces in a million
 * @throws DomainError for a standard deviation not above 0
 * Validity: normal readings far into the tails, which no data prove.
 * Source: normal distribution; ISO 22514-2:2017
 * @example expectedOutsidePartsPerMillion({ lowerLimit: -3, upperLimit: 3 }, 0, 1) // 2699.796
 */
export function expectedOutsidePartsPerMillion(
  limits: ToleranceLimits,
  mean: number,
  standardDeviation: number,
): number {
  const { lowerLimit, upperLimit } = limits;
  const below = lowerLimit === null ? 0 : normalDistribution(lowerLimit, mean, standardDeviation);
  const above = upperLimit === null ? 0 : normalDistribution(-upperLimit, -mean, standardDeviation);
  return 1e6 * (below + above);
}

/**
 * Index about a target, which falls when the mean leaves the target.
 *
 * Formula: Cpm = (U − L)/(6·√(s² + (m − T)²)); interval as Cp with ν = n·(1 + ξ²)²/(1 + 2ξ²) degrees of
 * freedom, ξ = (m − T)/s.
 *
 * @param width U − L, above 0
 * @param process mean, standard deviation above 0, target
 * @param knowledge number of readings and confidence
 * @returns value with approximate bounds
 * Validity: normal readings; bounds approximate.
 * Source: L. K. Chan, S. W. Cheng and F. A. Spiring (1988), Journal of Quality Technology 20, 162-175;
 * R. A. Boyles (1991), Journal of Quality Technology 23, 17-26
 * @example targetIndex(12, { mean: 16, standardDeviation: 2, target: 14 },
 *   { count: 30, degreesOfFreedom: 29, confidence: 0.95 }).value // 0.70711
 */
export function targetIndex(
  width: number,
  process: { readonly mean: number; readonly standardDeviation: number; readonly target: number },
  knowledge: SpreadKnowledge,
): CapabilityIndex {
  const { mean, standardDeviation, target } = process;
  const offset = ((mean - target) / standardDeviation) ** 2;
  const value = width / (6 * standardDeviation * Math.sqrt(1 + offset));
  const degreesOfFreedom = (knowledge.count * (1 + offset) ** 2) / (1 + 2 * offset);
  return potentialIndex(value, { ...knowledge, degreesOfFreedom });
}
