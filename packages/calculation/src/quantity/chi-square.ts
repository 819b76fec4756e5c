import gammaln from '@stdlib/math-base-special-gammaln';
import { requireDomain } from './domain.ts';
import { normalQuantile } from './normal.ts';

/** Terms of a series or of a continued fraction; √(degrees of freedom) of them are needed. */
const mostTerms = 200_000;
const precision = 1e-17;

/** Logarithm of x^a·e^(−x)/Γ(a), without the cancellation that large a and x near it would bring. */
function logPrefactor(a: number, x: number): number {
  if (a < 30) return a * Math.log(x) - x - gammaln(a);
  const excess = (x - a) / a;
  const correction = 1 / (12 * a) - 1 / (360 * a ** 3) + 1 / (1260 * a ** 5);
  return (
    a * (Math.log1p(excess) - excess) + 0.5 * Math.log(a) - 0.5 * Math.log(2 * Math.PI) - correction
  );
}

/** P(a, x)·a divided by the prefactor, by the power series; for x below a + 1. */
function lowerSeries(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let n = 1; n < mostTerms && term > precision * sum; n += 1) {
    term *= x / (a + n);
    sum += term;
  }
  return sum / a;
}

/** Q(a, x) divided by the prefactor, by the continued fraction of Legendre; for x from a + 1 on. */
function upperFraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = Number.MAX_VALUE;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < mostTerms; n += 1) {
    const numerator = n * (a - n);
    b += 2;
    d = 1 / (numerator * d + b);
    c = b + numerator / c;
    const step = c * d;
    fraction *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return fraction;
}

/**
 * Both tails of the chi-square distribution, each to its own relative accuracy.
 *
 * Formula: regularised incomplete gamma functions of degrees of freedom/2 and x/2, by the power
 * series below the mean and by the continued fraction above it.
 *
 * @param x above 0
 * @param degreesOfFreedom above 0
 * @returns probabilities below and above x, and the density at x
 * Validity: relative accuracy about 1e-14 up to 100 and 1e-12 up to a million degrees of freedom.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 6.5.29 and 6.5.31
 * @example chiSquareTails(3.841458820694124, 1).upper // 0.05
 */
export function chiSquareTails(
  x: number,
  degreesOfFreedom: number,
): { readonly lower: number; readonly upper: number; readonly density: number } {
  requireDomain(degreesOfFreedom > 0 && Number.isFinite(degreesOfFreedom), {
    field: 'degreesOfFreedom',
    value: degreesOfFreedom,
    accepted: 'degrees of freedom above 0',
  });
  requireDomain(x > 0, { field: 'x', value: x, accepted: 'a number above 0' });
  const a = degreesOfFreedom / 2;
  const half = x / 2;
  const prefactor = Math.exp(logPrefactor(a, half));
  const density = prefactor / x;
  if (half < a + 1) {
    const lower = prefactor * lowerSeries(a, half);
    return { lower, upper: 1 - lower, density };
  }
  const upper = prefactor * upperFraction(a, half);
  return { lower: 1 - upper, upper, density };
}

/**
 * Probability that a chi-square quantity is at least as large as a given one.
 *
 * Formula: upper regularised incomplete gamma function, Q(ν/2, x/2), by `chiSquareTails`.
 *
 * @param chiSquare 0 or more
 * @param degreesOfFreedom above 0
 * @returns probability in [0, 1], not rounded, accurate also where it is small
 * @throws DomainError for an argument outside its range
 * Validity: relative accuracy about 1e-14 up to 100 and 1e-12 up to a million degrees of freedom.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 26.4.19
 * @example upperChiSquareProbability(3.841458820694124, 1) // 0.05
 */
export function upperChiSquareProbability(chiSquare: number, degreesOfFreedom: number): number {
  requireDomain(chiSquare >= 0, {
    field: 'chiSquare',
    value: chiSquare,
    accepted: 'a number of 0 or more',
  });
  requireDomain(degreesOfFreedom > 0, {
    field: 'degreesOfFreedom',
    value: degreesOfFreedom,
    accepted: 'a number above 0',
  });
  if (chiSquare === 0) return 1;
  if (chiSquare === Number.POSITIVE_INFINITY) return 0;
  return chiSquareTails(chiSquare, degreesOfFreedom).upper;
}

/**
 * Quantile of the chi-square distribution: the x that is exceeded with a given probability.
 *
 * Formula: start of Wilson and Hilferty, then Newton's method on the logarithm of the smaller tail
 * as a function of the logarithm of x, which is concave, so that the method cannot run away.
 *
 * @param upperProbability probability above x, open range (0, 1)
 * @param degreesOfFreedom above 0
 * @returns x, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: relative accuracy about 1e-14 up to 100 and 1e-12 up to a million degrees of freedom.
 * Source: E. B. Wilson and M. M. Hilferty (1931), Proceedings of the National Academy of Sciences
 * 17, 684-688, for the start
 * @example upperChiSquareQuantile(0.05, 10) // 18.307038053275146
 */
export function upperChiSquareQuantile(upperProbability: number, degreesOfFreedom: number): number {
  requireDomain(upperProbability > 0 && upperProbability < 1, {
    field: 'upperProbability',
    value: upperProbability,
    accepted: 'a probability above 0 and below 1',
  });
  const isUpper = upperProbability <= 0.5;
  const goal = isUpper ? upperProbability : 1 - upperProbability;
  const z = isUpper ? -normalQuantile(goal) : normalQuantile(goal);
  const share = 2 / (9 * degreesOfFreedom);
  const cubeRoot = Math.max(0.05, 1 - share + z * Math.sqrt(share));
  let logX = Math.log(degreesOfFreedom * cubeRoot ** 3);
  for (let step = 0; step < 60; step += 1) {
    const x = Math.exp(logX);
    const tails = chiSquareTails(x, degreesOfFreedom);
    const tail = isUpper ? tails.upper : tails.lower;
    const slope = ((isUpper ? -1 : 1) * x * tails.density) / tail;
    const change = (Math.log(goal) - Math.log(tail)) / slope;
    logX += Math.max(-2, Math.min(2, change));
    if (Math.abs(change) < 1e-15 * Math.max(1, Math.abs(logX))) break;
  }
  return Math.exp(logX);
}
