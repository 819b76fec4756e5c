import { requireDomain } from './domain.ts';
import { normalDistribution } from './normal.ts';

/** Fewer values cannot be tested. */
const leastValues = 8;

/** Beyond this statistic the fitted exponential of the probability ends; it is below 1e-30 there. */
const greatestStatistic = 13;

/**
 * Anderson–Darling statistic of values against the normal distribution with their own mean and
 * standard deviation; it watches the tails.
 *
 * Formula: A² = −n − (1/n)·Σ (2i − 1)·(ln Φ(zᵢ) + ln Φ(−zₙ₊₁₋ᵢ)) over the ascending standardised
 * values, times the factor for small samples 1 + 0.75/n + 2.25/n².
 *
 * @param ascending 8 or more values in ascending order
 * @param moments mean of the values and their standard deviation with divisor n − 1, above 0
 * @returns modified statistic, not rounded
 * @throws DomainError for fewer than 8 values or a standard deviation that is not above 0
 * Validity: mean and standard deviation from the same values. Shown in reference/generated/scipy.
 * Source: M. A. Stephens (1974), Journal of the American Statistical Association 69, 730-737;
 * R. B. D'Agostino and M. A. Stephens (1986), Goodness-of-Fit Techniques, table 4.7, case 3
 * @example andersonDarling([1, 2, 3, 4, 5, 6, 7, 8], { mean: 4.5, standardDeviation: Math.sqrt(6) }) // 0.1513
 */
export function andersonDarling(
  ascending: ArrayLike<number>,
  moments: { readonly mean: number; readonly standardDeviation: number },
): number {
  const count = ascending.length;
  const { mean, standardDeviation } = moments;
  requireDomain(count >= leastValues, {
    field: 'values',
    value: `${count} values`,
    accepted: `at least ${leastValues} values`,
  });
  requireDomain(standardDeviation > 0, {
    field: 'values',
    value: 'equal values',
    accepted: 'values that are not all equal',
  });
  const logBelow = new Float64Array(count);
  const logAbove = new Float64Array(count);
  for (let index = 0; index < count; index += 1) {
    const z = ((ascending[index] as number) - mean) / standardDeviation;
    // A probability that underflows is held at the least positive number: its logarithm exists.
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
  return (-count - sum / count) * (1 + 0.75 / count + 2.25 / count ** 2);
}

/**
 * Probability that normal values give an Anderson–Darling statistic at least this large.
 *
 * Formula: four exponentials of quadratics in the modified statistic, joined at 0.2, 0.34 and 0.6.
 *
 * @param statistic modified statistic, 0 or more
 * @returns probability in [0, 1]; 0 for a statistic above 13, where it is below 1e-30
 * Validity: mean and standard deviation from the same values; an approximation good to about two
 * digits between 0.001 and 0.5 and a measure of degree below. Coarse readings look less normal than
 * they are. See reference/generated/control.
 * Source: R. B. D'Agostino and M. A. Stephens (1986), Goodness-of-Fit Techniques, table 4.9, case 3
 * @example andersonDarlingProbability(0.752) // 0.05
 */
export function andersonDarlingProbability(statistic: number): number {
  const square = statistic ** 2;
  if (statistic > greatestStatistic) return 0;
  if (statistic >= 0.6) return Math.exp(1.2937 - 5.709 * statistic + 0.0186 * square);
  if (statistic >= 0.34) return Math.exp(0.9177 - 4.279 * statistic - 1.38 * square);
  if (statistic >= 0.2) return 1 - Math.exp(-8.318 + 42.796 * statistic - 59.938 * square);
  return 1 - Math.exp(-13.436 + 101.14 * statistic - 223.73 * square);
}
