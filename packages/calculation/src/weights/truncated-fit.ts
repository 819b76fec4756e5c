import { normalDistribution } from '../quantity/normal.ts';
import { type FamilyMoments, familyMoments, type Selection } from './quadratic-family.ts';

/** What a sample of masses says to a normal distribution: its number, mean and variance. */
export interface SampleSummary {
  readonly count: number;
  readonly mean: number;
  /** With divisor n. */
  readonly variance: number;
}

/** Which masses a sorter lets pass; each side may be open. In the unit of the masses. */
export interface SorterWindow {
  readonly lightEdge?: number;
  readonly heavyEdge?: number;
  /** Standard deviation with which the sorter blurs its light edge; absent or 0 for a sharp cut. */
  readonly lightEdgeBlur?: number;
}

/** A fitted normal distribution of the unsorted masses, or why there is none. */
export type TruncatedFit =
  | {
      readonly outcome: 'interior';
      readonly mean: number;
      readonly standardDeviation: number;
      readonly meanVariance: number;
      readonly standardDeviationVariance: number;
      readonly covariance: number;
      /** For a blurred edge without the terms of the single masses, see `blurredLogLikelihood`. */
      readonly logLikelihood: number;
      readonly steps: number;
    }
  | { readonly outcome: 'no-maximum'; readonly reason: string };

/** Standard deviations of the sample beyond which the fitted one is taken as run away. */
const runawayFactor = 50;
const greatestSteps = 200;

/**
 * Variance of the exponential distribution between the same edges that has the mean of the sample:
 * no normal distribution spreads wider than that. In units in which the mean is 0.
 */
function boundaryVariance(lower: number, upper: number): number {
  if (!Number.isFinite(upper)) return lower ** 2;
  if (!Number.isFinite(lower)) return upper ** 2;
  let below = -1e6 / (upper - lower);
  let above = -below;
  for (let turn = 0; turn < 200 && above - below > 1e-13 * (1 + Math.abs(above)); turn += 1) {
    const middle = (below + above) / 2;
    if (familyMoments(middle, 0, { lower, upper }).first < 0) below = middle;
    else above = middle;
  }
  return familyMoments((below + above) / 2, 0, { lower, upper }).varianceFirst;
}

function requireInterior(lower: number, upper: number): string | null {
  if (!(lower < 0 && upper > 0)) return 'all masses lie on an edge';
  if (!Number.isFinite(lower) && !Number.isFinite(upper)) return null;
  return boundaryVariance(lower, upper) > 1
    ? null
    : 'the masses spread as wide as the exponential distribution between these edges, or wider; the likelihood rises without end as the normal distribution flattens';
}

/** Newton's method on the convex function A(t) − t₂ with steps halved until it falls. */
function solve(selection: Selection): { t1: number; t2: number; at: FamilyMoments; steps: number } {
  let t1 = 0;
  let t2 = -0.5;
  let at = familyMoments(t1, t2, selection);
  for (let step = 1; step <= greatestSteps; step += 1) {
    const g1 = at.first;
    const g2 = at.second - 1;
    const determinant = at.varianceFirst * at.varianceSecond - at.covariance ** 2;
    const d1 = (at.covariance * g2 - at.varianceSecond * g1) / determinant;
    const d2 = (at.covariance * g1 - at.varianceFirst * g2) / determinant;
    const decrease = -(d1 * g1 + d2 * g2);
    if (decrease < 1e-26 || !Number.isFinite(decrease)) return { t1, t2, at, steps: step };
    let share = 1;
    const value = at.logIntegral - t2;
    for (;;) {
      const next = t2 + share * d2;
      if (next < t2 / 20) {
        const moments = familyMoments(t1 + share * d1, next, selection);
        if (moments.logIntegral - next <= value - 1e-4 * share * decrease || share < 1e-6) {
          at = moments;
          break;
        }
        // Near the maximum the fall drowns in rounding; the full step is then the right one.
        if (decrease < 1e-12) {
          at = moments;
          break;
        }
      }
      share /= 2;
    }
    t1 += share * d1;
    t2 += share * d2;
    if (t2 > -0.5 / runawayFactor ** 2) return { t1, t2, at, steps: step };
  }
  return { t1, t2, at, steps: greatestSteps };
}

/** Slope of ln Φ: density over distribution, kept finite far below. */
function inverseMills(z: number): number {
  const below = normalDistribution(z, 0, 1);
  return below < 1e-290 ? -z : Math.exp(-0.5 * z * z) / (Math.sqrt(2 * Math.PI) * below);
}

/** Logarithm of Φ, which goes on where Φ itself underflows. */
export function logNormalDistribution(z: number): number {
  if (z > -36) return Math.log(normalDistribution(z, 0, 1));
  return -0.5 * z * z - Math.log(-z) - 0.5 * Math.log(2 * Math.PI) - 1 / z ** 2;
}

function selectionOf(summary: SampleSummary, window: SorterWindow): Selection {
  const scale = Math.sqrt(summary.variance);
  const inUnits = (value: number): number => (value - summary.mean) / scale;
  const blur = (window.lightEdgeBlur ?? 0) / scale;
  const edge = window.lightEdge === undefined ? -Infinity : inUnits(window.lightEdge);
  const upper = window.heavyEdge === undefined ? Infinity : inUnits(window.heavyEdge);
  if (blur === 0 || edge === -Infinity) return { lower: edge, upper };
  const z = (value: number): number => (value - edge) / blur;
  return {
    lower: -Infinity,
    upper,
    kept: {
      logProbability: (value) => logNormalDistribution(z(value)),
      slope: (value) => inverseMills(z(value)) / blur,
      place: edge,
      width: blur,
    },
  };
}

/**
 * Normal distribution of which a sample has been cut at one or both ends, by maximum likelihood.
 *
 * Formula: the density between the edges is proportional to exp(t₁·x + t₂·x²), an exponential family:
 * with the sample's own mean and standard deviation as origin and unit, A(t) − t₂ is convex, A the
 * logarithm of the integral, and Newton's method finds its only minimum; mean −t₁/(2t₂), standard
 * deviation (−2t₂)^(−1/2). An interior maximum exists only where the sample's variance is below that
 * of the exponential distribution between the same edges with the same mean. The covariance is the
 * inverse information n·Cov(u, u²), carried over to mean and standard deviation.
 *
 * @param summary number of 2 or more, mean, variance with divisor n above 0
 * @param window edges about the mean, each may be absent
 * @returns estimates in the unit of the masses, variances, maximum of the logarithm of the
 * likelihood; or the reason why there is no interior maximum
 * Validity: edges known; the fit costs the same for any number of masses. Held against closed-form
 * equations and against scipy in reference/generated/weights.
 * Source: A. C. Cohen (1950), Annals of Mathematical Statistics 21, 557-569; J. del Castillo (1994),
 * Annals of the Institute of Statistical Mathematics 46, 57-66, for the existence of the maximum
 * @example truncatedFit({ count: 100, mean: 5, variance: 4 }, {}).standardDeviation // 2
 */
export function truncatedFit(summary: SampleSummary, window: SorterWindow): TruncatedFit {
  const { count, mean, variance } = summary;
  const selection = selectionOf(summary, window);
  if (!selection.kept) {
    const reason = requireInterior(selection.lower, selection.upper);
    if (reason) return { outcome: 'no-maximum', reason };
  }
  const { t1, t2, at, steps } = solve(selection);
  if (t2 > -0.5 / runawayFactor ** 2) {
    return {
      outcome: 'no-maximum',
      reason: `the fitted standard deviation runs beyond ${runawayFactor} times that of the masses: what was cut cannot be told from these`,
    };
  }
  const scale = Math.sqrt(variance);
  const determinant = at.varianceFirst * at.varianceSecond - at.covariance ** 2;
  const [v11, v12, v22] = [at.varianceSecond, -at.covariance, at.varianceFirst].map(
    (value) => value / (determinant * count),
  ) as [number, number, number];
  const mean1 = -1 / (2 * t2);
  const mean2 = t1 / (2 * t2 ** 2);
  const deviation2 = (-2 * t2) ** -1.5;
  return {
    outcome: 'interior',
    mean: mean - (scale * t1) / (2 * t2),
    standardDeviation: scale / Math.sqrt(-2 * t2),
    meanVariance: variance * (mean1 ** 2 * v11 + 2 * mean1 * mean2 * v12 + mean2 ** 2 * v22),
    standardDeviationVariance: variance * deviation2 ** 2 * v22,
    covariance: variance * deviation2 * (mean1 * v12 + mean2 * v22),
    logLikelihood: count * (t2 - at.logIntegral - Math.log(scale)),
    steps,
  };
}
