import { requireDomain } from './domain.ts';
import { compensatedSum } from './sum.ts';

/** Moments of a sample; what one value or equal values cannot give is null. */
export interface SampleMoments {
  readonly mean: number;
  readonly standardDeviation: number | null;
  readonly skewness: number | null;
  readonly kurtosis: number | null;
}

/**
 * Mean, standard deviation and shape of a sample of masses.
 *
 * Formula: the mean is the sum divided by n; the standard deviation has divisor n − 1; skewness is
 * m₃/m₂^1.5 and kurtosis m₄/m₂² with central moments of divisor n, so that a normal distribution
 * has kurtosis 3. Deviations are taken from the mean in a second pass, sums are compensated.
 *
 * @param values 1 or more finite numbers of one unit, in any order
 * @returns the moments, not rounded; the standard deviation is null for a single value, skewness
 * and kurtosis are null where all values are equal
 * @throws DomainError for an empty list
 * Validity: relative accuracy of the standard deviation about 1e-15 times the ratio of mean to
 * standard deviation. Shown in reference/euro-coin-weights.
 * Source: definitions; R. A. Fisher (1930) for the shape coefficients
 * @example sampleMoments([1, 2, 3, 4]).mean // 2.5
 */
export function sampleMoments(values: readonly number[]): SampleMoments {
  const count = values.length;
  requireDomain(count >= 1, { field: 'values', value: values, accepted: 'at least one value' });
  const mean = compensatedSum(values) / count;
  const deviations = values.map((value) => value - mean);
  const power = (exponent: number): number =>
    compensatedSum(deviations.map((deviation) => deviation ** exponent)) / count;
  const second = power(2);
  // The mean of equal values may differ from them in the last place.
  const spread = values.some((value) => value !== values[0]);
  return {
    mean,
    standardDeviation: count < 2 ? null : spread ? Math.sqrt((second * count) / (count - 1)) : 0,
    skewness: spread ? power(3) / second ** 1.5 : null,
    kurtosis: spread ? power(4) / second ** 2 : null,
  };
}

/**
 * Quantile of a sample by linear interpolation between neighbouring values.
 *
 * Formula: with the n values in ascending order the place is h = (n − 1)·probability, counted from
 * 0; the quantile lies between the values at the whole part of h and the next one, in proportion
 * to the fraction of h. This is rule 7 of Hyndman and Fan.
 *
 * @param ascending 1 or more values in ascending order
 * @param probability closed range [0, 1]; 0 gives the least value, 1 the greatest
 * @returns quantile in the unit of the values, not rounded
 * @throws DomainError for an empty list or a probability outside [0, 1]
 * Validity: any distribution. Shown in reference/euro-coin-weights.
 * Source: R. J. Hyndman and Y. Fan (1996), Sample quantiles in statistical packages, The American
 * Statistician 50(4), 361-365, definition 7
 * @example sampleQuantile([1, 2, 3, 4], 0.25) // 1.75
 */
export function sampleQuantile(ascending: readonly number[], probability: number): number {
  requireDomain(ascending.length >= 1, {
    field: 'ascending',
    value: ascending,
    accepted: 'at least one value',
  });
  requireDomain(probability >= 0 && probability <= 1, {
    field: 'probability',
    value: probability,
    accepted: 'a number from 0 to 1',
  });
  const place = (ascending.length - 1) * probability;
  const whole = Math.floor(place);
  const lower = ascending[whole] as number;
  const upper = ascending[Math.min(whole + 1, ascending.length - 1)] as number;
  return lower + (place - whole) * (upper - lower);
}
