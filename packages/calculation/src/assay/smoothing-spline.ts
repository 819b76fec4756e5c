import { goldenMinimum } from '../quantity/golden-section.ts';

/**
 * Natural cubic spline that balances closeness to the points against bend:
 * Σ (yᵢ − g(xᵢ))² + λ·∫ g″² is least.
 */
export interface SmoothingSpline {
  readonly smoothing: number;
  readonly values: Float64Array;
  /** Second derivatives at the points; 0 at both ends. */
  readonly bends: Float64Array;
  /** Equivalent number of parameters: trace of the matrix that makes values of observations. */
  readonly parameters: number;
  readonly residualSumOfSquares: number;
  /** Generalised cross-validation score. */
  readonly score: number;
  /** Solves (R + λ·QᵀQ)·z = right, for the influence of each observation on the bends. */
  readonly solve: (right: Float64Array) => Float64Array;
}

interface Bands {
  readonly count: number;
  readonly steps: Float64Array;
  /** Main and first off-diagonal of R; its second is 0. */
  readonly r0: Float64Array;
  readonly r1: Float64Array;
  /** Main and two off-diagonals of QᵀQ. */
  readonly b0: Float64Array;
  readonly b1: Float64Array;
  readonly b2: Float64Array;
}

function bandsOf(x: readonly number[]): Bands {
  const n = x.length;
  const m = n - 2;
  const steps = new Float64Array(n - 1);
  for (let i = 0; i < n - 1; i += 1) steps[i] = (x[i + 1] as number) - (x[i] as number);
  const empty = () => new Float64Array(m);
  const [r0, r1, b0, b1, b2] = [empty(), empty(), empty(), empty(), empty()];
  for (let j = 0; j < m; j += 1) {
    const a = 1 / (steps[j] as number);
    const c = 1 / (steps[j + 1] as number);
    r0[j] = ((steps[j] as number) + (steps[j + 1] as number)) / 3;
    b0[j] = a * a + (a + c) * (a + c) + c * c;
    if (j + 1 < m) {
      const d = 1 / (steps[j + 2] as number);
      r1[j] = (steps[j + 1] as number) / 6;
      b1[j] = -c * (a + c) - c * (c + d);
      if (j + 2 < m) b2[j] = c * d;
    }
  }
  return { count: n, steps, r0, r1, b0, b1, b2 };
}

/** Second divided differences of the observations, each times its own step: Qᵀy. */
function secondDifferences(bands: Bands, y: ArrayLike<number>): Float64Array {
  const { count, steps } = bands;
  const out = new Float64Array(count - 2);
  let before = ((y[1] as number) - (y[0] as number)) / (steps[0] as number);
  for (let j = 0; j < count - 2; j += 1) {
    const after = ((y[j + 2] as number) - (y[j + 1] as number)) / (steps[j + 1] as number);
    out[j] = after - before;
    before = after;
  }
  return out;
}

/** Q·z for a vector over the inner points. */
export function spreadOverPoints(steps: Float64Array, z: Float64Array): Float64Array {
  const n = steps.length + 1;
  const out = new Float64Array(n);
  for (let j = 0; j < z.length; j += 1) {
    const a = (z[j] as number) / (steps[j] as number);
    const c = (z[j] as number) / (steps[j + 1] as number);
    out[j] = (out[j] as number) + a;
    out[j + 1] = (out[j + 1] as number) - a - c;
    out[j + 2] = (out[j + 2] as number) + c;
  }
  return out;
}

interface Factors {
  readonly d: Float64Array;
  readonly l1: Float64Array;
  readonly l2: Float64Array;
}

/** LDLᵀ of the five-banded matrix R + λ·QᵀQ. */
function factorise(bands: Bands, smoothing: number): Factors {
  const { r0, r1, b0, b1, b2 } = bands;
  const m = r0.length;
  const d = new Float64Array(m);
  const l1 = new Float64Array(m);
  const l2 = new Float64Array(m);
  let [d1, d2, k1, k2, e2] = [0, 0, 0, 0, 0];
  // k1 = l1[j−1], k2 = l2[j−2], e2 = l2[j−1]: what the rows before leave to this one.
  for (let j = 0; j < m; j += 1) {
    const main = (r0[j] as number) + smoothing * (b0[j] as number) - k1 * k1 * d1 - k2 * k2 * d2;
    const next = (r1[j] as number) + smoothing * (b1[j] as number) - k1 * e2 * d1;
    const after = smoothing * (b2[j] as number);
    d[j] = main;
    const first = next / main;
    const second = after / main;
    l1[j] = first;
    l2[j] = second;
    d2 = d1;
    d1 = main;
    k2 = e2;
    e2 = second;
    k1 = first;
  }
  return { d, l1, l2 };
}

function solveBands(factors: Factors, right: Float64Array): Float64Array {
  const { d, l1, l2 } = factors;
  const m = d.length;
  const z = right.slice();
  for (let j = 1; j < m; j += 1) {
    const second = j > 1 ? (l2[j - 2] as number) * (z[j - 2] as number) : 0;
    z[j] = (z[j] as number) - (l1[j - 1] as number) * (z[j - 1] as number) - second;
  }
  for (let j = 0; j < m; j += 1) z[j] = (z[j] as number) / (d[j] as number);
  for (let j = m - 2; j >= 0; j -= 1) {
    const second = j + 2 < m ? (l2[j] as number) * (z[j + 2] as number) : 0;
    z[j] = (z[j] as number) - (l1[j] as number) * (z[j + 1] as number) - second;
  }
  return z;
}

/** Trace of QᵀQ times the inverse, from the five middle bands of the inverse alone. */
function traceOfRatio(bands: Bands, factors: Factors): number {
  const { d, l1, l2 } = factors;
  const { b0, b1, b2 } = bands;
  // Bands of the inverse in rows j+1 and j+2, carried upwards.
  let [main1, main2, first1, trace] = [0, 0, 0, 0];
  for (let j = d.length - 1; j >= 0; j -= 1) {
    const p = l1[j] as number;
    const q = l2[j] as number;
    const first = -p * main1 - q * first1;
    const second = -p * first1 - q * main2;
    const main = 1 / (d[j] as number) - p * first - q * second;
    trace += (b0[j] as number) * main;
    trace += 2 * ((b1[j] as number) * first + (b2[j] as number) * second);
    main2 = main1;
    main1 = main;
    first1 = first;
  }
  return trace;
}

/** The spline for one smoothing; one pass of about fifty operations per point. */
function splineAt(bands: Bands, y: ArrayLike<number>, right: Float64Array, smoothing: number) {
  const n = bands.count;
  const factors = factorise(bands, smoothing);
  const inner = solveBands(factors, right);
  const bent = spreadOverPoints(bands.steps, inner);
  let residualSumOfSquares = 0;
  for (let i = 0; i < n; i += 1) {
    residualSumOfSquares += (smoothing * (bent[i] as number)) ** 2;
  }
  const free = smoothing * traceOfRatio(bands, factors);
  const score = (n * residualSumOfSquares) / (free * free);
  return { factors, inner, bent, residualSumOfSquares, free, score, y };
}

const stepsOfSearch = 28;

/** Smoothing with the least score: a coarse walk over sixteen decades, then golden sections. */
function bestSmoothing(score: (logarithm: number) => number, middle: number): number {
  let best = middle;
  let least = Number.POSITIVE_INFINITY;
  for (let shift = -10; shift <= 6; shift += 1) {
    const found = score(middle + shift);
    if (found < least) [least, best] = [found, middle + shift];
  }
  return goldenMinimum(score, best - 1, best + 1, stepsOfSearch);
}

/**
 * Smoothing spline through points with rising x, five at least, after Reinsch; without a stated
 * smoothing the one with the least generalised cross-validation score, whose trace comes from the
 * middle bands of the inverse (Hutchinson and de Hoog 1985, Numerische Mathematik 47, 99).
 */
export function smoothingSpline(
  x: readonly number[],
  y: readonly number[],
  statedSmoothing?: number,
): SmoothingSpline {
  const bands = bandsOf(x);
  const right = secondDifferences(bands, y);
  const sum = (values: Float64Array) => values.reduce((total, one) => total + one, 0);
  // Where both parts of the matrix weigh alike.
  const middle = Math.log10(sum(bands.r0) / sum(bands.b0));
  const smoothing =
    statedSmoothing ??
    10 ** bestSmoothing((power) => splineAt(bands, y, right, 10 ** power).score, middle);
  const fit = splineAt(bands, y, right, smoothing);
  const bends = new Float64Array(x.length);
  bends.set(fit.inner, 1);
  return {
    smoothing,
    values: Float64Array.from(y, (value, i) => value - smoothing * (fit.bent[i] as number)),
    bends,
    parameters: x.length - fit.free,
    residualSumOfSquares: fit.residualSumOfSquares,
    score: fit.score,
    solve: (one) => solveBands(fit.factors, one),
  };
}
