import { andersonDarling, andersonDarlingProbability } from '../quantity/anderson-darling.ts';
import { seriesStatistics } from './series-statistics.ts';

/** Outcome of a test of readings against the normal distribution. */
export interface NormalityTest {
  /** Anderson–Darling statistic with the factor for small samples. */
  readonly statistic: number;
  /** Probability that normal readings give a statistic at least this large. */
  readonly probability: number;
}

/**
 * Test of readings against a normal distribution with their own mean and standard deviation
 * (Anderson and Darling), which watches the tails that capability speaks about.
 *
 * Formula: mean and standard deviation by `seriesStatistics`, then `andersonDarling` and
 * `andersonDarlingProbability`.
 *
 * @param values 8 or more readings in any order, not all equal
 * @returns statistic and probability, not rounded
 * @throws DomainError for fewer than 8 readings or equal ones
 * Validity: mean and standard deviation from the same readings; the probability is good to about two
 * digits between 0.001 and 0.5 and a measure of degree below. Coarse readings look less normal than
 * they are. See reference/generated/control.
 * Source: M. A. Stephens (1974), Journal of the American Statistical Association 69, 730-737;
 * R. B. D'Agostino and M. A. Stephens (1986), Goodness-of-Fit Techniques, tables 4.7 and 4.9, case 3
 * @example normalityTest([1, 2, 3, 4, 5, 6, 7, 8]).probability // 0.9615
 */
export function normalityTest(values: readonly number[]): NormalityTest {
  const ascending = new Float64Array(values).sort();
  const statistic = andersonDarling(ascending, seriesStatistics(values));
  return { statistic, probability: andersonDarlingProbability(statistic) };
}
