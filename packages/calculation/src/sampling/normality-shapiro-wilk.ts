import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';
import { compensatedSum } from '../quantity/sum.ts';

/** Statistic near 1 for normal values, and the probability of one as small. */
export interface ShapiroWilk {
  readonly statistic: number;
  readonly probability: number;
}

const leastValues = 3;
const mostValues = 5000;

/** Royston's polynomials, constant term first. */
const lastWeight = [0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056];
const secondWeight = [0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633];
const smallOffset = [-2.273, 0.459];
const smallMean = [0.544, -0.39978, 0.025054, -6.714e-4];
const smallSpread = [1.3822, -0.77857, 0.062767, -0.0020322];
const largeMean = [-1.5861, -0.31082, -0.083751, 0.0038915];
const largeSpread = [-0.4803, -0.082676, 0.0030302];

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);

/** Weights of the upper half of the ordered values, outermost last; the lower half mirrors them. */
function weightsOf(count: number): Float64Array {
  const half = Math.floor(count / 2);
  if (count === 3) return Float64Array.of(Math.SQRT1_2);
  const scores = Float64Array.from({ length: half }, (_, index) =>
    normalQuantile((count - half + index + 1 - 0.375) / (count + 0.25)),
  );
  const square = 2 * scores.reduce((sum, score) => sum + score * score, 0);
  const last = scores[half - 1] ?? 0;
  const second = scores[half - 2] ?? 0;
  const u = 1 / Math.sqrt(count);
  const outer = polynomial(lastWeight, u) + last / Math.sqrt(square);
  const next = polynomial(secondWeight, u) + second / Math.sqrt(square);
  const corrected = count > 5 ? 2 : 1;
  const rest = square - 2 * last ** 2 - (corrected === 2 ? 2 * second ** 2 : 0);
  const left = 1 - 2 * outer ** 2 - (corrected === 2 ? 2 * next ** 2 : 0);
  const factor = Math.sqrt(rest / left);
  const weights = scores.map((score) => score / factor);
  weights[half - 1] = outer;
  if (corrected === 2) weights[half - 2] = next;
  return weights;
}

function probabilityOf(statistic: number, count: number): number {
  if (count === 3) {
    const angle = Math.asin(Math.sqrt(statistic)) - Math.asin(Math.sqrt(0.75));
    return Math.max(0, (6 / Math.PI) * angle);
  }
  const deficit = Math.log1p(-statistic);
  if (count <= 11) {
    const offset = polynomial(smallOffset, count);
    if (deficit >= offset) return 0;
    const z =
      (-Math.log(offset - deficit) - polynomial(smallMean, count)) /
      Math.exp(polynomial(smallSpread, count));
    return normalDistribution(-z, 0, 1);
  }
  const log = Math.log(count);
  const z = (deficit - polynomial(largeMean, log)) / Math.exp(polynomial(largeSpread, log));
  return normalDistribution(-z, 0, 1);
}

/**
 * Shapiro–Wilk test of whether values can come from a normal distribution.
 *
 * Formula: W = (Σ a·x)²/Σ(x − mean)² over the ordered values, with Royston's approximate weights a; the
 * probability from a normalising transformation of 1 − W.
 *
 * @param values 3 to 5000 values, not all equal, in any order
 * @returns W in (0, 1] and the probability of a W as small when the values are normal
 * @throws DomainError for a number of values outside the range or equal values
 * Validity: probability good to about two digits between 0.001 and 0.5. See
 * reference/generated/variables.
 * Source: S. S. Shapiro and M. B. Wilk (1965), Biometrika 52, 591-611; P. Royston (1995), Applied
 * Statistics 44, 547-551, algorithm AS R94
 * @example shapiroWilk([1, 2, 3, 4, 5, 6, 7, 8]).statistic // 0.97486
 */
export function shapiroWilk(values: readonly number[]): ShapiroWilk {
  const count = values.length;
  requireDomain(count >= leastValues && count <= mostValues, {
    field: 'values',
    value: `${count} values`,
    accepted: `from ${leastValues} to ${mostValues} values`,
  });
  const ascending = [...values].sort((one, other) => one - other);
  const mean = compensatedSum(ascending) / count;
  const square = compensatedSum(ascending.map((value) => (value - mean) ** 2));
  const range = (ascending[count - 1] ?? 0) - (ascending[0] ?? 0);
  requireDomain(range > 0 && square > 0, {
    field: 'values',
    value: 'equal values',
    accepted: 'values that are not all equal',
  });
  const weights = weightsOf(count);
  const half = weights.length;
  let sum = 0;
  for (let index = 0; index < half; index += 1) {
    const high = ascending[count - half + index] ?? 0;
    const low = ascending[half - 1 - index] ?? 0;
    sum += (weights[index] ?? 0) * (high - low);
  }
  const statistic = Math.min(1, (sum * sum) / square);
  return { statistic, probability: probabilityOf(statistic, count) };
}
