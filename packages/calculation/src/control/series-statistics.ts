import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';

/** Mean, spread and dependence of a series of readings in the order of time. */
export interface SeriesStatistics {
  readonly count: number;
  readonly mean: number;
  /** Divisor n − 1; 0 for equal readings. */
  readonly standardDeviation: number;
  /** Null where all readings are equal. */
  readonly lagOneAutocorrelation: number | null;
}

/** Σ aᵢ·aᵢ₊lag, compensated, without building a list of the products. */
function sumOfProducts(values: Float64Array, lag: number): number {
  let sum = 0;
  let correction = 0;
  for (let index = lag; index < values.length; index += 1) {
    const term = (values[index] as number) * (values[index - lag] as number);
    const next = sum + term;
    correction += Math.abs(sum) >= Math.abs(term) ? sum - next + term : term - next + sum;
    sum = next;
  }
  return sum + correction;
}

/**
 * Mean, standard deviation and lag-1 autocorrelation of a series. The last says whether a reading
 * still remembers the one before it; limits from moving ranges are then too narrow or too wide.
 *
 * Formula: deviations from the mean in a second pass, s² = (Σd² − (Σd)²/n)/(n − 1), r = Σ dᵢ·dᵢ₊₁ / Σ d²;
 * sums compensated.
 *
 * @param values 2 or more finite numbers in the order of time
 * @returns figures in the unit of the values, not rounded
 * @throws DomainError for fewer than 2 values
 * Validity: as accurate as the readings, stored as doubles, allow. See reference/nist-strd-univariate.
 * Source: G. E. P. Box and G. M. Jenkins (1976), Time Series Analysis, 2.1.5; NIST Statistical
 * Reference Datasets, definitions of the univariate certificates
 * @example seriesStatistics([10000001, 10000003, 10000002]).lagOneAutocorrelation // -0.5
 */
export function seriesStatistics(values: readonly number[]): SeriesStatistics {
  const count = values.length;
  requireDomain(count >= 2, {
    field: 'values',
    value: `${count} values`,
    accepted: 'at least two values',
  });
  const mean = compensatedSum(values) / count;
  const deviations = new Float64Array(count);
  let remainder = 0;
  for (let index = 0; index < count; index += 1) {
    deviations[index] = (values[index] as number) - mean;
    remainder += deviations[index] as number;
  }
  // What the rounding of the mean left over; without it the last digits of a flat series are lost.
  remainder /= count;
  let spread = false;
  for (let index = 0; index < count; index += 1) {
    deviations[index] = (deviations[index] as number) - remainder;
    spread ||= values[index] !== values[0];
  }
  const squares = sumOfProducts(deviations, 0);
  return {
    count,
    mean,
    standardDeviation: spread ? Math.sqrt(squares / (count - 1)) : 0,
    lagOneAutocorrelation: spread ? sumOfProducts(deviations, 1) / squares : null,
  };
}
