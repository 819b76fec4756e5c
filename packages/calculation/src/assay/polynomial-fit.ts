import { requireDomain } from '../quantity/domain.ts';

/**
 * A polynomial of degree 1 or 2 about a centre: value = Σ c_k·t^k, t = (x − centre)/scale, with
 * the covariance of the c_k. About their centre the powers hardly depend on each other, so that
 * plain doubles keep their digits.
 */
export interface PolynomialFit {
  readonly degree: 1 | 2;
  readonly centre: number;
  readonly scale: number;
  readonly coefficients: readonly number[];
  /** Per unit variance of weight 1, or as it is where the weights are reciprocal variances. */
  readonly covariance: readonly (readonly number[])[];
  /** Weighted sum of squares of observed less fitted. */
  readonly sumOfSquares: number;
}

/** Value of the polynomial. */
export function polynomialValue(fit: PolynomialFit, x: number): number {
  const t = (x - fit.centre) / fit.scale;
  const [c0 = 0, c1 = 0, c2 = 0] = fit.coefficients;
  return c0 + t * (c1 + t * c2);
}

/** Slope of the polynomial, per unit of x. */
export function polynomialSlope(fit: PolynomialFit, x: number): number {
  const t = (x - fit.centre) / fit.scale;
  const [, c1 = 0, c2 = 0] = fit.coefficients;
  return (c1 + 2 * t * c2) / fit.scale;
}

/** Variance of the fitted value at x. */
export function polynomialVariance(fit: PolynomialFit, x: number): number {
  const t = (x - fit.centre) / fit.scale;
  const powers = [1, t, t * t].slice(0, fit.degree + 1);
  return powers.reduce(
    (sum, left, i) =>
      sum + powers.reduce((row, right, j) => row + left * right * (fit.covariance[i]?.[j] ?? 0), 0),
    0,
  );
}

/** Coefficients of the powers of x itself, with their covariance. */
export function powersOfX(fit: PolynomialFit): {
  readonly coefficients: readonly number[];
  readonly covariance: readonly (readonly number[])[];
} {
  const { centre: m, scale: h, degree } = fit;
  // t = (x − m)/h written out: row k holds what each c_j gives to the power k of x.
  const rows = [
    [1, -m / h, (m / h) ** 2],
    [0, 1 / h, (-2 * m) / h ** 2],
    [0, 0, 1 / h ** 2],
  ]
    .slice(0, degree + 1)
    .map((row) => row.slice(0, degree + 1));
  const dot = (left: readonly number[], right: readonly number[]): number =>
    left.reduce((sum, value, i) => sum + value * (right[i] ?? 0), 0);
  return {
    coefficients: rows.map((row) => dot(row, fit.coefficients)),
    covariance: rows.map((left) =>
      rows.map((right) =>
        dot(
          left,
          fit.covariance.map((row) => dot(row, right)),
        ),
      ),
    ),
  };
}

/** Inverse of a symmetric positive 2 × 2 or 3 × 3 matrix by cofactors. */
export function invertSymmetric(matrix: readonly (readonly number[])[]): number[][] {
  const [[a = 0, b = 0, c = 0] = [], [, d = 0, e = 0] = [], [, , f = 0] = []] = matrix;
  if (matrix.length === 2) {
    const determinant = a * d - b * b;
    return [
      [d / determinant, -b / determinant],
      [-b / determinant, a / determinant],
    ];
  }
  const A = d * f - e * e;
  const B = c * e - b * f;
  const C = b * e - c * d;
  const determinant = a * A + b * B + c * C;
  const D = a * f - c * c;
  const E = b * c - a * e;
  const F = a * d - b * b;
  return [
    [A / determinant, B / determinant, C / determinant],
    [B / determinant, D / determinant, E / determinant],
    [C / determinant, E / determinant, F / determinant],
  ];
}

/** A list as an array of doubles, which the loops below run through fastest. */
const doubles = (values: ArrayLike<number>): Float64Array =>
  values instanceof Float64Array ? values : new Float64Array(values);

/** Weighted mean of x, and half its range, as centre and scale. */
function centreOf(x: Float64Array, weights: Float64Array) {
  let sum = 0;
  let total = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  const first = x[0] as number;
  for (let i = 0; i < x.length; i += 1) {
    const value = x[i] as number;
    const weight = weights[i] as number;
    sum += weight * (value - first);
    total += weight;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return { centre: first + sum / total, scale: (most - least) / 2 };
}

/** Sums of powers of t and of t with y, y taken from its first value so that large offsets stay out. */
function momentsOf(
  x: Float64Array,
  y: Float64Array,
  weights: Float64Array,
  centre: number,
  scale: number,
) {
  const offset = y[0] as number;
  const perScale = 1 / scale;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let y0 = 0;
  let y1 = 0;
  let y2 = 0;
  for (let i = 0; i < x.length; i += 1) {
    const t = ((x[i] as number) - centre) * perScale;
    const w = weights[i] as number;
    const wt = w * t;
    const wtt = wt * t;
    const value = (y[i] as number) - offset;
    s0 += w;
    s1 += wt;
    s2 += wtt;
    s3 += wtt * t;
    s4 += wtt * t * t;
    y0 += w * value;
    y1 += wt * value;
    y2 += wtt * value;
  }
  return { offset, powers: [s0, s1, s2, s3, s4], mixed: [y0, y1, y2] };
}

/** Weighted residuals of a first solution: their sum of squares and their sums with powers of t. */
function residualMoments(
  x: Float64Array,
  y: Float64Array,
  weights: Float64Array,
  place: { readonly centre: number; readonly scale: number; readonly offset: number },
  coefficients: readonly number[],
) {
  const { centre, scale, offset } = place;
  const perScale = 1 / scale;
  const [c0 = 0, c1 = 0, c2 = 0] = coefficients;
  let sumOfSquares = 0;
  let r0 = 0;
  let r1 = 0;
  let r2 = 0;
  for (let i = 0; i < x.length; i += 1) {
    const t = ((x[i] as number) - centre) * perScale;
    const rest = (y[i] as number) - offset - (c0 + t * (c1 + t * c2));
    const weighted = (weights[i] as number) * rest;
    sumOfSquares += weighted * rest;
    r0 += weighted;
    r1 += weighted * t;
    r2 += weighted * t * t;
  }
  return { sumOfSquares, left: [r0, r1, r2] };
}

/**
 * Weighted fit of a straight line or a parabola by centred and scaled moments, with one step of
 * refinement from the residuals.
 */
export function fitPolynomial(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  degree: 1 | 2,
  weights?: ArrayLike<number>,
): PolynomialFit {
  const [xs, ys] = [doubles(x), doubles(y)];
  const ws = weights === undefined ? new Float64Array(xs.length).fill(1) : doubles(weights);
  const { centre, scale } = centreOf(xs, ws);
  requireContents(scale > 0, degree);
  const { offset, powers, mixed } = momentsOf(xs, ys, ws, centre, scale);
  const size = degree + 1;
  const matrix = Array.from({ length: size }, (_, i) => powers.slice(i, i + size));
  const inverse = invertSymmetric(matrix);
  const solve = (right: readonly number[]): number[] =>
    inverse.map((row) => row.reduce((sum, value, j) => sum + value * (right[j] ?? 0), 0));
  const first = solve(mixed);
  const place = { centre, scale, offset };
  const { sumOfSquares, left } = residualMoments(xs, ys, ws, place, first);
  const more = solve(left);
  const coefficients = first.map((value, k) => value + (more[k] ?? 0));
  requireContents(coefficients.every(Number.isFinite), degree);
  coefficients[0] = (coefficients[0] ?? 0) + offset;
  const gained = more.reduce((sum, value, k) => sum + value * (left[k] ?? 0), 0);
  return {
    degree,
    centre,
    scale,
    coefficients,
    covariance: inverse,
    sumOfSquares: Math.max(0, sumOfSquares - gained),
  };
}

/** Fewer different contents than coefficients leave no curve. */
function requireContents(isEnough: boolean, degree: 1 | 2): void {
  requireDomain(isEnough, {
    field: 'points',
    value: 'contents that are too few or too alike',
    accepted: `points at ${degree + 1} different contents or more`,
  });
}
