import { compensatedSum } from '../quantity/sum.ts';
import { seriesStatistics } from './series-statistics.ts';

/** Standard deviation within subgroups or between neighbours, and how well it is known. */
export interface WithinSpread {
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
}

/** Pooled standard deviation within subgroups of two or more readings. */
export function pooledSpread(subgroups: readonly (readonly number[])[]): WithinSpread {
  let squares = 0;
  let degreesOfFreedom = 0;
  for (const readings of subgroups) {
    squares += (readings.length - 1) * seriesStatistics(readings).standardDeviation ** 2;
    degreesOfFreedom += readings.length - 1;
  }
  return { standardDeviation: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom };
}

/** Mean of |d| for the difference d of two normal readings of standard deviation 1. */
const meanRange = 2 / Math.sqrt(Math.PI);
/** Variance of |d|, and covariance of two neighbouring ones, whose differences correlate by −1/2. */
const rangeVariance = 2 - meanRange ** 2;
const neighbourCovariance =
  (4 / Math.PI) * (Math.sqrt(0.75) + 0.5 * Math.asin(0.5)) - meanRange ** 2;

/**
 * Standard deviation of single readings from their moving ranges, blind to slow drift.
 *
 * Formula: mean |xᵢ − xᵢ₋₁| over 2/√π; degrees of freedom 1/(2·CV²) from the exact variance of the
 * mean moving range, whose neighbours share a reading.
 *
 * @param values 2 or more readings in the order of time
 * @returns standard deviation and effective degrees of freedom, about 0.605 for each reading
 * Validity: independent normal readings; the degrees of freedom match the variance, not the shape.
 * Source: J. D. Cryer and T. P. Ryan (1990), Journal of Quality Technology 22, 187-192
 * @example movingRangeSpread([1, 2, 1, 2]).standardDeviation // 0.88623
 */
export function movingRangeSpread(values: readonly number[]): WithinSpread {
  const ranges = values.slice(1).map((value, index) => Math.abs(value - (values[index] as number)));
  const count = ranges.length;
  const variance =
    (count * rangeVariance + 2 * (count - 1) * neighbourCovariance) / (count * meanRange) ** 2;
  return {
    standardDeviation: compensatedSum(ranges) / count / meanRange,
    degreesOfFreedom: 1 / (2 * variance),
  };
}
