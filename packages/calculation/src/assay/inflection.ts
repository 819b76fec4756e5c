import { fitLeastSquares, powerColumns } from './least-squares-core.ts';
import { type SmoothingSpline, smoothingSpline, spreadOverPoints } from './smoothing-spline.ts';
import {
  contrastOfJump,
  type EndPointEstimate,
  isClear,
  refuseCurve,
  scatterOfPotentials,
  steepestOf,
  type TitrationCurve,
  uncertaintyOfSteps,
} from './titration-curve.ts';

interface Inflection {
  readonly step: number;
  readonly volume: number;
  readonly slope: number;
}

/** Slope of a natural spline at a place inside step j. */
function splineSlope(
  curve: TitrationCurve,
  spline: SmoothingSpline,
  j: number,
  volume: number,
): number {
  const { values, bends } = spline;
  const left = curve.volumes[j] as number;
  const h = (curve.volumes[j + 1] as number) - left;
  const b = (volume - left) / h;
  const a = 1 - b;
  const chord = ((values[j + 1] as number) - (values[j] as number)) / h;
  const low = (3 * a * a - 1) * (bends[j] as number);
  const high = (3 * b * b - 1) * (bends[j + 1] as number);
  return chord - (h / 6) * (low - high);
}

/** Zero of the second derivative at which the spline is steepest. */
function steepestInflection(curve: TitrationCurve, spline: SmoothingSpline): Inflection {
  const { bends } = spline;
  let best: Inflection | null = null;
  for (let j = 1; j + 2 < bends.length; j += 1) {
    const low = bends[j] as number;
    const high = bends[j + 1] as number;
    if (low === high || low * high > 0) continue;
    const left = curve.volumes[j] as number;
    const volume = left + (((curve.volumes[j + 1] as number) - left) * low) / (low - high);
    const slope = splineSlope(curve, spline, j, volume);
    if (best === null || Math.abs(slope) > Math.abs(best.slope)) best = { step: j, volume, slope };
  }
  return best ?? refuseCurve('a curve whose smoothed form has no inflection inside');
}

/** Steepest step: as read where that is beyond the scatter, else where the smoothed curve is steepest. */
export function steepestStep(curve: TitrationCurve, deviation: number): number {
  const asRead = steepestOf(curve);
  if (isClear(curve, asRead, deviation)) return asRead;
  return steepestInflection(curve, smoothingSpline(curve.volumes, curve.potentials)).step;
}

/** Deviations of its own by which the bend of the cubic must differ from none: scatter fakes less. */
const surelyBent = 4.5;

interface Cubic {
  readonly c1: number;
  readonly c2: number;
  readonly c3: number;
  /** Variances and covariance of c2 and c3. */
  readonly v22: number;
  readonly v23: number;
  readonly v33: number;
}

function cubicThrough(
  places: readonly number[],
  potentials: readonly number[],
  deviation: number,
): Cubic {
  const fit = fitLeastSquares(powerColumns(places, 3, true), potentials);
  const [, c1 = 0, c2 = 0, c3 = 0] = fit.coefficients;
  const variance = (i: number, j: number) => deviation ** 2 * (fit.covarianceFactor[i]?.[j] ?? 0);
  return { c1, c2, c3, v22: variance(2, 2), v23: variance(2, 3), v33: variance(3, 3) };
}

const tooScattered = (): never =>
  refuseCurve(
    'potentials that scatter too much for an inflection among so few points',
    'more points in the window, quieter potentials, or a smoothing spline or precipitation curve over all points',
  );

/** All places at which c2 + 3·c3·x lies within k standard deviations of zero: limits of Fieller. */
function limitsOfZero(cubic: Cubic, factor: number): readonly [number, number] {
  const { c2, c3, v22, v23, v33 } = cubic;
  const k2 = factor * factor;
  const a = 9 * (c3 * c3 - k2 * v33);
  const b = 3 * (c2 * c3 - k2 * v23);
  const c = c2 * c2 - k2 * v22;
  const root = Math.sqrt(Math.max(0, b * b - a * c));
  if (!(a > 0)) return tooScattered();
  return [(-b - root) / a, (-b + root) / a];
}

/**
 * End point where the second derivative of a cubic through the points about the steepest step is
 * zero. Through four points this is the classical rule: zero of the second divided differences,
 * each at the middle of its three volumes, whatever the steps.
 */
export function secondDerivativeEndPoint(
  curve: TitrationCurve,
  windowPoints: number,
  statedDeviation?: number,
): EndPointEstimate {
  const deviation = statedDeviation ?? scatterOfPotentials(curve);
  const index = steepestStep(curve, deviation);
  const contrast = contrastOfJump(curve, index, deviation);
  const count = curve.volumes.length;
  const wanted = index - Math.floor(windowPoints / 2) + 1;
  const from = Math.max(0, Math.min(count - windowPoints, wanted));
  const centre = curve.volumes[index] as number;
  const volumes = curve.volumes.slice(from, from + windowPoints);
  const scale = ((volumes.at(-1) as number) - (volumes[0] as number)) / 2;
  const places = volumes.map((volume) => (volume - centre) / scale);
  const cubic = cubicThrough(places, curve.potentials.slice(from, from + windowPoints), deviation);
  const place = -cubic.c2 / (3 * cubic.c3);
  const [lowest, highest] = [places[0] as number, places.at(-1) as number];
  const isInside = (x: number) => x > lowest && x < highest;
  const isSure = cubic.c3 ** 2 > surelyBent ** 2 * cubic.v33;
  if (!isSure || !isInside(place) || !limitsOfZero(cubic, 2).every(isInside)) tooScattered();
  return {
    volume: centre + place * scale,
    scatterLimits: (factor) => {
      const [low, high] = limitsOfZero(cubic, factor);
      return [centre + low * scale, centre + high * scale];
    },
    stepUncertainty: uncertaintyOfSteps(curve, index, contrast),
    slope: (cubic.c1 + place * (2 * cubic.c2 + 3 * cubic.c3 * place)) / scale,
    potentialDeviation: deviation,
    degreesOfFreedom: null,
  };
}

/** Standard deviation of the second derivative of the spline at inner point j. */
function bendDeviation(
  spline: SmoothingSpline,
  steps: Float64Array,
  j: number,
  deviation: number,
): number {
  const unit = new Float64Array(spline.bends.length - 2);
  unit[j - 1] = 1;
  const influence = spreadOverPoints(steps, spline.solve(unit));
  return deviation * Math.sqrt(influence.reduce((sum, one) => sum + one * one, 0));
}

/** How far the second derivative stays within k standard deviations of zero, on one side. */
function limitOfBend(
  curve: TitrationCurve,
  spline: SmoothingSpline,
  start: Inflection,
  side: -1 | 1,
  excess: (j: number) => number,
): number {
  let before = { volume: start.volume, excess: -1 };
  let j = side > 0 ? start.step + 1 : start.step;
  let isFirst = true;
  for (; j > 0 && j < spline.bends.length - 1; j += side) {
    const here = { volume: curve.volumes[j] as number, excess: excess(j) };
    if (here.excess >= 0) {
      // Between points the ratio of bend and deviation goes about in a straight line from 0.
      const share = isFirst
        ? 1 / (1 + here.excess)
        : -before.excess / (here.excess - before.excess);
      return before.volume + share * (here.volume - before.volume);
    }
    before = here;
    isFirst = false;
  }
  return curve.volumes[Math.max(0, Math.min(j, spline.bends.length - 1))] as number;
}

/**
 * End point at the steepest inflection of a smoothing spline through the whole curve. The spline is
 * linear in the potentials for a given smoothing, so that the deviation of each second derivative
 * follows exactly; the limits hold all places at which it does not differ from zero.
 */
export function splineEndPoint(curve: TitrationCurve, statedDeviation?: number): EndPointEstimate {
  const deviation = statedDeviation ?? scatterOfPotentials(curve);
  const spline = smoothingSpline(curve.volumes, curve.potentials);
  const found = steepestInflection(curve, spline);
  const contrast = contrastOfJump(curve, found.step, deviation);
  const steps = Float64Array.from(
    { length: curve.volumes.length - 1 },
    (_, i) => (curve.volumes[i + 1] as number) - (curve.volumes[i] as number),
  );
  const deviations = new Map<number, number>();
  const excess = (factor: number) => (j: number) => {
    const known = deviations.get(j) ?? bendDeviation(spline, steps, j, deviation);
    deviations.set(j, known);
    // A curve without scatter has sharp limits.
    return known === 0 ? 1e300 : Math.abs(spline.bends[j] as number) / (factor * known) - 1;
  };
  return {
    volume: found.volume,
    scatterLimits: (factor) => [
      limitOfBend(curve, spline, found, -1, excess(factor)),
      limitOfBend(curve, spline, found, 1, excess(factor)),
    ],
    stepUncertainty: uncertaintyOfSteps(curve, found.step, contrast),
    slope: found.slope,
    potentialDeviation: deviation,
    degreesOfFreedom: null,
  };
}
