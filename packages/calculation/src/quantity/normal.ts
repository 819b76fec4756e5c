import erfc from '@stdlib/math-base-special-erfc';
import erfcinv from '@stdlib/math-base-special-erfcinv';
import { requireDomain } from './domain.ts';

const halfLogTwoPi = 0.5 * Math.log(2 * Math.PI);

function requireParameters(x: number, mean: number, standardDeviation: number): void {
  requireDomain(!Number.isNaN(x), { field: 'x', value: x, accepted: 'a number' });
  requireDomain(Number.isFinite(mean), { field: 'mean', value: mean, accepted: 'a finite number' });
  requireDomain(standardDeviation > 0 && Number.isFinite(standardDeviation), {
    field: 'standardDeviation',
    value: standardDeviation,
    accepted: 'a finite number above 0',
  });
}

/**
 * Natural logarithm of the density of the normal distribution, for products of densities that
 * would underflow.
 *
 * Formula: −z²/2 − ln(standardDeviation·√(2π)), with z = (x − mean) / standardDeviation.
 *
 * @param x any number, in the unit of the mean
 * @param mean finite
 * @param standardDeviation above 0, in the unit of the mean
 * @returns the logarithm, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: exact formula; accuracy that of doubles.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 26.2.1
 * @example normalLogDensity(0, 0, 1) // -0.9189385332046727
 */
export function normalLogDensity(x: number, mean: number, standardDeviation: number): number {
  requireParameters(x, mean, standardDeviation);
  const z = (x - mean) / standardDeviation;
  return -0.5 * z * z - Math.log(standardDeviation) - halfLogTwoPi;
}

/**
 * Density of the normal distribution.
 *
 * Formula: exp(−z²/2) / (standardDeviation·√(2π)), with z = (x − mean) / standardDeviation.
 *
 * @param x any number, in the unit of the mean
 * @param mean finite
 * @param standardDeviation above 0, in the unit of the mean
 * @returns density per unit of x, 0 or more, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: exact formula; relative accuracy 1e-14 up to |z| = 10.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 26.2.1
 * @example normalDensity(0, 0, 1) // 0.3989422804014327
 */
export function normalDensity(x: number, mean: number, standardDeviation: number): number {
  requireParameters(x, mean, standardDeviation);
  const z = (x - mean) / standardDeviation;
  return Math.exp(-0.5 * z * z) / (standardDeviation * Math.sqrt(2 * Math.PI));
}

/**
 * Probability that a normal quantity is at or below x. For the upper tail mirror the argument,
 * `normalDistribution(-x, -mean, standardDeviation)`, instead of subtracting from one: both tails
 * then keep their relative accuracy.
 *
 * Formula: erfc(−z/√2)/2, with z = (x − mean) / standardDeviation.
 *
 * @param x any number, in the unit of the mean
 * @param mean finite
 * @param standardDeviation above 0, in the unit of the mean
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for an argument outside its range
 * Validity: relative accuracy about 1e-13 down to probabilities of 1e-300.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 26.2.29
 * @example normalDistribution(0, 0, 1) // 0.5
 */
export function normalDistribution(x: number, mean: number, standardDeviation: number): number {
  requireParameters(x, mean, standardDeviation);
  return 0.5 * erfc((mean - x) / (standardDeviation * Math.SQRT2));
}

/**
 * Quantile of the standard normal distribution: the z with lower probability p.
 *
 * Formula: −√2·erfcinv(2p). The inverse complementary error function keeps the far lower tail;
 * above one half the upper tail is as accurate as p itself can state it.
 *
 * @param probability lower probability, open range (0, 1)
 * @returns z, not rounded
 * @throws DomainError for a probability outside (0, 1)
 * Validity: relative accuracy about 1e-14 for p between 1e-300 and 1/2.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 26.2.29 inverted
 * @example normalQuantile(0.975) // 1.959963984540054
 */
export function normalQuantile(probability: number): number {
  requireDomain(probability > 0 && probability < 1, {
    field: 'probability',
    value: probability,
    accepted: 'a number above 0 and below 1',
  });
  return -Math.SQRT2 * erfcinv(2 * probability);
}
