import { requireDomain } from '../quantity/domain.ts';
import {
  fitPolynomial,
  type PolynomialFit,
  polynomialSlope,
  polynomialValue,
} from './polynomial-fit.ts';

/** A fit with uncertainty in both variables; `adjusted` are the contents moved onto the curve. */
interface DistanceFit {
  readonly fit: PolynomialFit;
  readonly adjusted: Float64Array;
  readonly weights: Float64Array;
  /** Sum over points of ((x − ξ)/u(x))² + ((y − f(ξ))/u(y))². */
  readonly chiSquare: number;
  readonly iterations: number;
}

/** Points with the standard uncertainty of each coordinate. */
export interface UncertainPoints {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly xUncertainty: readonly number[];
  readonly yUncertainty: readonly number[];
}

const mostIterations = 200;
const footSteps = 20;

/** Foot of one point on the curve, by Newton steps on half its squared distance. */
function footOf(fit: PolynomialFit, points: UncertainPoints, index: number, start: number): number {
  const x = points.x[index] as number;
  const y = points.y[index] as number;
  const xVariance = (points.xUncertainty[index] as number) ** 2;
  const yVariance = (points.yUncertainty[index] as number) ** 2;
  if (xVariance === 0) return x;
  const bend = (2 * (fit.coefficients[2] ?? 0)) / fit.scale ** 2;
  let foot = start;
  for (let step = 0; step < footSteps; step += 1) {
    const slope = polynomialSlope(fit, foot);
    const rest = y - polynomialValue(fit, foot);
    const gradient = yVariance * (foot - x) - xVariance * slope * rest;
    // Far from the curve the exact second derivative can turn negative; the part that cannot leads then.
    const steep = yVariance + xVariance * slope * slope;
    const exact = steep - xVariance * bend * rest;
    const move = gradient / (exact > 0.1 * steep ? exact : steep);
    foot -= move;
    // On a straight line one step is exact.
    if (bend === 0 || Math.abs(move) <= 1e-15 * fit.scale) break;
  }
  return foot;
}

/** Greatest change of the curve over the range of the contents, in units of its rise. */
function changeBetween(before: PolynomialFit, after: PolynomialFit): number {
  const places = [-1, 0, 1].map((t) => before.centre + t * before.scale);
  const values = places.map((place) => polynomialValue(before, place));
  const size = Math.max(...values.map(Math.abs), Number.MIN_VALUE);
  return Math.max(
    ...places.map((place, k) => Math.abs(polynomialValue(after, place) - (values[k] ?? 0)) / size),
  );
}

/**
 * Line or parabola through points with uncertainty in both coordinates, by generalised distance
 * regression. Each round drops the points onto the curve, writes the curve as its tangent there,
 * and fits the coefficients with weight 1/(u(y)² + slope²·u(x)²); the fixed point makes the sum of
 * squared distances stationary in all contents and coefficients together.
 */
export function fitByDistance(points: UncertainPoints, degree: 1 | 2): DistanceFit {
  const count = points.x.length;
  const weights = Float64Array.from(points.yUncertainty, (u) => 1 / (u * u));
  const adjusted = Float64Array.from(points.x);
  const moved = new Float64Array(count);
  let fit = fitPolynomial(points.x, points.y, degree, weights);
  let iterations = 0;
  let change = Number.POSITIVE_INFINITY;
  while (change > 1e-14 && iterations < mostIterations) {
    for (let i = 0; i < count; i += 1) {
      const foot = footOf(fit, points, i, adjusted[i] as number);
      const slope = polynomialSlope(fit, foot);
      const u = points.yUncertainty[i] as number;
      const v = slope * (points.xUncertainty[i] as number);
      adjusted[i] = foot;
      weights[i] = 1 / (u * u + v * v);
      moved[i] = (points.y[i] as number) - slope * ((points.x[i] as number) - foot);
    }
    const next = fitPolynomial(adjusted, moved, degree, weights);
    const before = change;
    change = changeBetween(fit, next);
    fit = next;
    iterations += 1;
    // At the last digits the change stops shrinking; that is as far as doubles go.
    if (change < 1e-11 && change >= before) break;
  }
  requireDomain(change < 1e-9, {
    field: 'points',
    value: `a fit that still moves by ${change} after ${iterations} rounds`,
    accepted: 'points whose uncertainties are small beside the range that they cover',
  });
  return { fit, adjusted, weights, chiSquare: distanceSum(points, fit, adjusted), iterations };
}

/** Sum of squared distances in units of the standard uncertainties. */
function distanceSum(points: UncertainPoints, fit: PolynomialFit, adjusted: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < adjusted.length; i += 1) {
    const foot = adjusted[i] as number;
    const u = points.xUncertainty[i] as number;
    const across = u === 0 ? 0 : ((points.x[i] as number) - foot) / u;
    const up =
      ((points.y[i] as number) - polynomialValue(fit, foot)) / (points.yUncertainty[i] as number);
    sum += across * across + up * up;
  }
  return sum;
}
