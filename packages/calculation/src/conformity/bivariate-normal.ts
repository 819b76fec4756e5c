import erfc from '@stdlib/math-base-special-erfc';
import { DomainError } from '../quantity/domain.ts';
import { gaussLegendre } from '../quantity/gauss-legendre.ts';

/** Nodes with which the error is that of rounding, 3e-16, for slopes up to 0.4 and up to 1. */
const shortRule = gaussLegendre(8, 0, 1);
const longRule = gaussLegendre(14, 0, 1);

/** Beyond this distance T is below 1e-18. */
const farthest = 8.9;

function lower(z: number): number {
  return 0.5 * erfc(-z * Math.SQRT1_2);
}

/** A standardised limit with the probabilities of one quantity on its sides. */
export interface Bound {
  readonly z: number;
  /** Probability beyond it on the side away from 0. */
  readonly tail: number;
  /** Probability at or below it. */
  readonly below: number;
}

/** Limits so near to 0 that their products vanish are 0: no probability changes by it. */
export function bound(limit: number): Bound {
  const z = Math.abs(limit) < 1e-150 ? 0 : limit;
  const tail = lower(-Math.abs(z));
  return { z, tail, below: z < 0 ? tail : 1 - tail };
}

/** The same limit seen from the other side. */
export function mirroredBound({ z, tail }: Bound): Bound {
  return { z: -z, tail, below: z > 0 ? tail : 1 - tail };
}

/** Up to this distance the series needs the fewest operations and loses no more than 1e-17. */
const farthestOfSeries = 4;
const mostTerms = 60;
const inverses = Float64Array.from({ length: 2 * mostTerms + 2 }, (_, n) => 1 / n);

/**
 * The integral as arctan a − Σ (−1)ʲ·P(N > j)·a²ʲ⁺¹/(2j + 1), N a Poisson number of mean h²/2: no
 * exponential in its terms. For 0 ≤ a ≤ 1 and short distances.
 */
function owensSeries(h: number, a: number): number {
  const mean = 0.5 * h * h;
  const square = -a * a;
  let exactly = Math.exp(-mean);
  let more = -Math.expm1(-mean);
  let power = a;
  let sum = 0;
  for (let j = 0; j < mostTerms; j += 1) {
    sum += power * more * (inverses[2 * j + 1] as number);
    exactly *= mean * (inverses[j + 1] as number);
    more -= exactly;
    power *= square;
    if (j > mean && exactly * Math.abs(power) < 1e-18) break;
  }
  return (Math.atan(a) - sum) / (2 * Math.PI);
}

/** The integral itself, for 0 ≤ a ≤ 1, where it is smooth. */
function owensIntegral(h: number, a: number): number {
  if (h <= farthestOfSeries) return owensSeries(h, a);
  if (h > farthest) return 0;
  const { nodes, weights } = a <= 0.4 ? shortRule : longRule;
  const half = -0.5 * h * h;
  let sum = 0;
  for (let index = 0; index < nodes.length; index += 1) {
    const x = a * (nodes[index] as number);
    const square = 1 + x * x;
    sum += ((weights[index] as number) * Math.exp(half * square)) / square;
  }
  return (a * sum) / (2 * Math.PI);
}

/**
 * Owen's function T: the probability that a standard normal X exceeds h while a second,
 * independent one lies between 0 and a·X. Bivariate normal probabilities are made of it.
 *
 * Formula: T(h, a) = ∫₀ᵃ exp(−h²(1 + x²)/2)/(1 + x²) dx / 2π; for a above 1 by
 * T(h, a) = (Φ(h) + Φ(ah))/2 − Φ(h)Φ(ah) − T(ah, 1/a), h ≥ 0.
 *
 * @param h any number
 * @param a any number, also infinite
 * @returns T, between −1/4 and 1/4, odd in a and even in h, not rounded
 * @throws DomainError when an argument is not a number
 * Validity: absolute accuracy 5e-16. See reference/generated/conformity.
 * Source: D. B. Owen (1956), Tables for computing bivariate normal probabilities, Annals of
 * Mathematical Statistics 27, 1075-1090
 * @example owensT(0, 1) // 0.125
 */
export function owensT(h: number, a: number): number {
  if (Number.isNaN(h) || Number.isNaN(a)) {
    throw new DomainError({ field: 'h', value: `${h}, a ${a}`, accepted: 'numbers' });
  }
  return owensFrom(bound(h), a);
}

function owensFrom({ z, tail }: Bound, a: number): number {
  const distance = Math.abs(z);
  const slope = Math.abs(a);
  const sign = a < 0 ? -1 : 1;
  if (distance === 0) return (sign * Math.atan(slope)) / (2 * Math.PI);
  if (distance === Number.POSITIVE_INFINITY) return 0;
  if (slope <= 1) return sign * owensIntegral(distance, slope);
  // Both tails beyond h and ah: the same identity without a loss by cancellation.
  const far = lower(-distance * slope);
  const inner = slope === Number.POSITIVE_INFINITY ? 0 : owensIntegral(distance * slope, 1 / slope);
  return sign * (0.5 * (tail + far) - tail * far - inner);
}

/** Argument of T for one of the two quantities; infinite where h is 0. */
function slopeOf(h: number, k: number, correlation: number, rest: number): number {
  const numerator = k - correlation * h;
  if (h === 0) return numerator >= 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
  return numerator / (h * rest);
}

/**
 * Probability that two correlated standard normal quantities are at or below h and k.
 *
 * Formula: (Φ(h) + Φ(k))/2 − T(h, (k − ρh)/(h√(1 − ρ²))) − T(k, (h − ρk)/(k√(1 − ρ²))), less 1/2
 * where h and k have opposite signs, or one is 0 and the other below it.
 *
 * @param h any number, also infinite
 * @param k any number, also infinite
 * @param correlation ρ, open range (−1, 1)
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for a correlation outside its range or an argument that is not a number
 * Validity: absolute accuracy 1e-15. See reference/generated/conformity.
 * Source: D. B. Owen (1956), as `owensT`, equation (2.1); Abramowitz and Stegun (1964), 26.3
 * @example bivariateNormal(0, 0, 0.5) // 0.3333333333333333
 */
export function bivariateNormal(h: number, k: number, correlation: number): number {
  if (Number.isNaN(h) || Number.isNaN(k)) {
    throw new DomainError({ field: 'h', value: `${h}, k ${k}`, accepted: 'numbers' });
  }
  if (!(correlation > -1 && correlation < 1)) {
    const accepted = 'a correlation above -1 and below 1';
    throw new DomainError({ field: 'correlation', value: correlation, accepted });
  }
  return bivariateBelow(bound(h), bound(k), correlation);
}

/** The same for limits whose own probabilities are known: several corners share a limit. */
export function bivariateBelow(first: Bound, second: Bound, correlation: number): number {
  const [h, k] = [first.z, second.z];
  if (h === Number.NEGATIVE_INFINITY || k === Number.NEGATIVE_INFINITY) return 0;
  if (h === Number.POSITIVE_INFINITY) return second.below;
  if (k === Number.POSITIVE_INFINITY) return first.below;
  if (h === 0 && k === 0) return 0.25 + Math.asin(correlation) / (2 * Math.PI);
  const rest = Math.sqrt((1 - correlation) * (1 + correlation));
  const signs = Math.sign(h) * Math.sign(k);
  const opposite = signs < 0 || (signs === 0 && h + k < 0);
  const sum =
    0.5 * (first.below + second.below) -
    owensFrom(first, slopeOf(h, k, correlation, rest)) -
    owensFrom(second, slopeOf(k, h, correlation, rest)) -
    (opposite ? 0.5 : 0);
  return Math.min(1, Math.max(0, sum));
}
