import betainc from '@stdlib/math-base-special-betainc';
import gammaln from '@stdlib/math-base-special-gammaln';
import { requireDomain } from './domain.ts';
import { normalQuantile } from './normal.ts';

function requireDegreesOfFreedom(numerator: number, denominator: number): void {
  for (const [field, value] of [
    ['numeratorDegreesOfFreedom', numerator],
    ['denominatorDegreesOfFreedom', denominator],
  ] as const) {
    requireDomain(value > 0 && Number.isFinite(value), {
      field,
      value,
      accepted: 'degrees of freedom above 0',
    });
  }
}

/**
 * Probability that a ratio of two independent mean squares with equal expectation exceeds f.
 *
 * Formula: the regularised incomplete beta function of ν₂/2 and ν₁/2 at ν₂/(ν₂ + ν₁·f).
 *
 * @param f ratio, 0 or more
 * @param numeratorDegreesOfFreedom above 0
 * @param denominatorDegreesOfFreedom above 0
 * @returns probability in [0, 1], not rounded, accurate also where it is small
 * @throws DomainError for an argument outside its range
 * Validity: relative accuracy about 1e-13 up to a thousand, 1e-10 up to a million degrees of freedom.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 26.6.2
 * @example upperFisherProbability(4.964602743730712, 1, 10) // 0.05
 */
export function upperFisherProbability(
  f: number,
  numeratorDegreesOfFreedom: number,
  denominatorDegreesOfFreedom: number,
): number {
  requireDegreesOfFreedom(numeratorDegreesOfFreedom, denominatorDegreesOfFreedom);
  requireDomain(f >= 0, { field: 'f', value: f, accepted: 'a ratio of 0 or more' });
  if (f === Number.POSITIVE_INFINITY) return 0;
  const share =
    denominatorDegreesOfFreedom / (denominatorDegreesOfFreedom + numeratorDegreesOfFreedom * f);
  return betainc(share, denominatorDegreesOfFreedom / 2, numeratorDegreesOfFreedom / 2);
}

/** Start of Paulson: the cube root of the ratio is nearly normal. */
function startingRatio(upperProbability: number, numerator: number, denominator: number): number {
  const z = -normalQuantile(upperProbability);
  const [p, q] = [2 / (9 * numerator), 2 / (9 * denominator)];
  const square = (1 - q) ** 2 - z * z * q;
  if (square <= 0) return 1;
  const root = (1 - p) ** 2 - z * z * p;
  const discriminant = Math.max(0, ((1 - p) * (1 - q)) ** 2 - square * root);
  const cubeRoot = ((1 - p) * (1 - q) + Math.sqrt(discriminant)) / square;
  return Math.min(1e6, Math.max(1, cubeRoot ** 3));
}

/** The ratio exceeded with a probability of at most one half, by Newton's method on logarithms. */
function upperRatio(upperProbability: number, numerator: number, denominator: number): number {
  const [a, b] = [denominator / 2, numerator / 2];
  const logBeta = gammaln(a) + gammaln(b) - gammaln(a + b);
  const logGoal = Math.log(upperProbability);
  let logRatio = Math.log(startingRatio(upperProbability, numerator, denominator));
  for (let step = 0; step < 80; step += 1) {
    const odds = (numerator / denominator) * Math.exp(logRatio);
    const share = 1 / (1 + odds);
    const tail = betainc(share, a, b);
    const slope = Math.exp(a * Math.log(share) + b * Math.log(odds * share) - logBeta) / tail;
    const change = (Math.log(tail) - logGoal) / slope;
    logRatio += Math.max(-3, Math.min(3, change));
    if (Math.abs(change) < 4e-16 * Math.max(1, Math.abs(logRatio))) break;
  }
  return Math.exp(logRatio);
}

/**
 * Quantile of Fisher's F: the ratio of two mean squares that is exceeded with a given probability.
 *
 * Formula: start of Paulson, then Newton's method on the logarithm of the tail as a function of the
 * logarithm of the ratio, which is concave; above one half by 1/F with the degrees exchanged.
 *
 * @param upperProbability probability above the ratio, open range (0, 1)
 * @param numeratorDegreesOfFreedom above 0
 * @param denominatorDegreesOfFreedom above 0
 * @returns ratio, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: relative accuracy about 1e-13 up to a thousand, 1e-10 up to a million degrees of freedom.
 * Source: E. Paulson (1942), Annals of Mathematical Statistics 13, 233-235, for the start
 * @example upperFisherQuantile(0.05, 9, 18) // 2.4562811491593
 */
export function upperFisherQuantile(
  upperProbability: number,
  numeratorDegreesOfFreedom: number,
  denominatorDegreesOfFreedom: number,
): number {
  requireDegreesOfFreedom(numeratorDegreesOfFreedom, denominatorDegreesOfFreedom);
  requireDomain(upperProbability > 0 && upperProbability < 1, {
    field: 'upperProbability',
    value: upperProbability,
    accepted: 'a probability above 0 and below 1',
  });
  return upperProbability <= 0.5
    ? upperRatio(upperProbability, numeratorDegreesOfFreedom, denominatorDegreesOfFreedom)
    : 1 / upperRatio(1 - upperProbability, denominatorDegreesOfFreedom, numeratorDegreesOfFreedom);
}
