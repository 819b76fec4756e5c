import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution } from '../quantity/normal.ts';
import { seriesStatistics } from './series-statistics.ts';

/** Outcome of a test of readings against the normal distribution. */
export interface NormalityTest {
  /** Anderson–Darling statistic with the factor for small samples. */
  readonly statistic: number;
  /** Probability that normal readings give a statistic at least this large. */
  readonly probability: number;
}

/** Fewer readings cannot be tested. */
export const leastReadingsForTest = 8;

/** Beyond this statistic the fitted exponential of the probability ends; it is below 1e-30 there. */
const greatestStatistic = 13;

function probabilityOf(statistic: number): number {
  const square = statistic ** 2;
  if (statistic > greatestStatistic) return 0;
  if (statistic >= 0.6) return Math.exp(1.2937 - 5.709 * statistic + 0.0186 * square);
  if (statistic >= 0.34) return Math.exp(0.9177 - 4.279 * statistic - 1.38 * square);
  if (statistic >= 0.2) return 1 - Math.exp(-8.318 + 42.796 * statistic - 59.938 * square);
  return 1 - Math.exp(-13.436 + 101.14 * statistic - 223.73 * square);
}

/**
 * Test of readings against a normal distribution with their own mean and standard deviation
 * (Anderson and Darling), which watches the tails that capability speaks about.
 *
 * Formula: A² = −n − (1/n)·Σ (2i − 1)·(ln Φ(zᵢ) + ln Φ(−zₙ₊₁₋ᵢ)) over the ascending standardised
 * readings, times 1 + 0.75/n + 2.25/n²; its probability by four fitted exponentials.
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
  const count = values.length;
  requireDomain(count >= leastReadingsForTest, {
    field: 'values',
    value: `${count} readings`,
    accepted: `at least ${leastReadingsForTest} readings`,
  });
  const { mean, standardDeviation } = seriesStatistics(values);
  requireDomain(standardDeviation > 0, {
    field: 'values',
    value: 'equal readings',
    accepted: 'readings that are not all equal',
  });
  const ascending = new Float64Array(values).sort();
  const logBelow = new Float64Array(count);
  const logAbove = new Float64Array(count);
  for (let index = 0; index < count; index += 1) {
    const z = ((ascending[index] as number) - mean) / standardDeviation;
    const tail = Math.max(normalDistribution(-Math.abs(z), 0, 1), Number.MIN_VALUE);
    // The logarithm of the larger part comes from the smaller one, whose digits are sure.
    logBelow[index] = z < 0 ? Math.log(tail) : Math.log1p(-tail);
    logAbove[index] = z < 0 ? Math.log1p(-tail) : Math.log(tail);
  }
  let sum = 0;
  for (let index = 0; index < count; index += 1) {
    const pair = (logBelow[index] as number) + (logAbove[count - 1 - index] as number);
    sum += (2 * index + 1) * pair;
  }
  const statistic = (-count - sum / count) * (1 + 0.75 / count + 2.25 / count ** 2);
  return { statistic, probability: probabilityOf(statistic) };
}
