import { requireDomain } from '../quantity/domain.ts';
import { longColumn } from './double-double.ts';
import { steepestStep } from './inflection.ts';
import { fitLeastSquares } from './least-squares-core.ts';
import {
  contrastOfJump,
  type EndPointEstimate,
  evenLimits,
  scatterOfPotentials,
  type TitrationCurve,
} from './titration-curve.ts';

/** Place of the end point and logarithm of K = 2·√(solubility product)/concentration of the titrant. */
interface Shape {
  readonly endPoint: number;
  readonly logarithm: number;
}

interface Fitted extends Shape {
  readonly level: number;
  readonly slope: number;
  readonly sumOfSquares: number;
  readonly residuals: readonly number[];
}

/** Excess of the titrated ion over its solubility, at each point. */
function excessOf(curve: TitrationCurve, startVolume: number, shape: Shape): number[] {
  const width = Math.exp(shape.logarithm);
  return curve.volumes.map(
    (volume) => (shape.endPoint - volume) / ((startVolume + volume) * width),
  );
}

/** Level and slope of the electrode for one shape, by plain least squares, and what is left. */
function levelled(
  curve: TitrationCurve,
  startVolume: number,
  shape: Shape,
  statedSlope: number | null,
): Fitted {
  const base = excessOf(curve, startVolume, shape).map(Math.asinh);
  const { potentials } = curve;
  const count = base.length;
  const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / count;
  const [centre, middle] = [mean(base), mean(potentials)];
  let [squares, products] = [0, 0];
  for (const [i, value] of base.entries()) {
    squares += (value - centre) ** 2;
    products += (value - centre) * ((potentials[i] as number) - middle);
  }
  const slope = statedSlope ?? products / squares;
  const level = middle - slope * centre;
  const residuals = base.map((value, i) => (potentials[i] as number) - level - slope * value);
  const sumOfSquares = residuals.reduce((sum, one) => sum + one * one, 0);
  return { ...shape, level, slope, residuals, sumOfSquares };
}

/** Best of a coarse net of shapes about the steepest step. */
function startingShape(
  curve: TitrationCurve,
  startVolume: number,
  index: number,
  statedSlope: number | null,
): Fitted {
  const from = curve.volumes[Math.max(0, index - 1)] as number;
  const to = curve.volumes[Math.min(curve.volumes.length - 1, index + 2)] as number;
  let best: Fitted | null = null;
  for (let share = 0.05; share < 1; share += 0.075) {
    for (let power = -16; power <= 0; power += 1) {
      const shape = { endPoint: from + share * (to - from), logarithm: power };
      const found = levelled(curve, startVolume, shape, statedSlope);
      if (best === null || found.sumOfSquares < best.sumOfSquares) best = found;
    }
  }
  if (best === null) throw new RangeError('no shape tried');
  return best;
}

/** Derivatives of the potentials by end point, logarithm of the width, level and slope. */
function derivatives(curve: TitrationCurve, startVolume: number, at: Fitted, withSlope: boolean) {
  const excess = excessOf(curve, startVolume, at);
  const width = Math.exp(at.logarithm);
  const bent = excess.map((q) => at.slope / Math.sqrt(1 + q * q));
  const byEnd = bent.map(
    (value, i) => value / ((startVolume + (curve.volumes[i] as number)) * width),
  );
  const byWidth = bent.map((value, i) => -value * (excess[i] as number));
  const columns = [byEnd, byWidth, excess.map(() => 1)];
  return withSlope ? [...columns, excess.map(Math.asinh)] : columns;
}

const mostRounds = 100;

/** Marquardt's steps from a start; level and slope are solved for anew at each. */
function refine(
  curve: TitrationCurve,
  startVolume: number,
  start: Fitted,
  statedSlope: number | null,
): Fitted {
  let best = start;
  let damping = 1e-3;
  for (let round = 0; round < mostRounds && damping < 1e9; round += 1) {
    const columns = derivatives(curve, startVolume, best, statedSlope === null);
    const lengths = columns.map((column) => Math.hypot(...column));
    const rows = columns.map((column, k) =>
      longColumn([
        ...column,
        ...columns.map((_, j) => (j === k ? Math.sqrt(damping) * (lengths[k] ?? 0) : 0)),
      ]),
    );
    const target = [...best.residuals, ...columns.map(() => 0)];
    const [move = 0, stretch = 0] = fitLeastSquares(rows, target).coefficients;
    // Below this the shape moves in the last digits alone.
    if (Math.abs(move) < 1e-11 * best.endPoint && Math.abs(stretch) < 1e-9) break;
    const shape = { endPoint: best.endPoint + move, logarithm: best.logarithm + stretch };
    const next = levelled(curve, startVolume, shape, statedSlope);
    if (!(next.sumOfSquares < best.sumOfSquares)) {
      damping *= 10;
      continue;
    }
    const gain = 1 - next.sumOfSquares / best.sumOfSquares;
    best = next;
    damping = Math.max(1e-14, damping / 10);
    if (gain < 1e-11) break;
  }
  return best;
}

/**
 * End point of a precipitation titration of 1 : 1 from the whole curve: potential = level +
 * slope·arsinh((end point − volume)/((start volume + volume)·K)), which is the equation of Nernst
 * with the solubility product, exact at every volume. The slope of the electrode is fitted unless
 * stated.
 */
export function precipitationEndPoint(
  curve: TitrationCurve,
  startVolume: number,
  slopeSize: number | null,
  statedDeviation?: number,
): EndPointEstimate {
  const scatter = statedDeviation ?? scatterOfPotentials(curve);
  const index = steepestStep(curve, scatter);
  contrastOfJump(curve, index, scatter);
  const falls = (curve.potentials.at(-1) as number) < (curve.potentials[0] as number);
  const statedSlope = slopeSize === null ? null : falls ? slopeSize : -slopeSize;
  const start = startingShape(curve, startVolume, index, statedSlope);
  const fit = refine(curve, startVolume, start, statedSlope);
  const [first, last] = [curve.volumes[1] as number, curve.volumes.at(-2) as number];
  requireDomain(fit.endPoint > first && fit.endPoint < last && fit.logarithm < 1, {
    field: 'curve',
    value: `a curve that would end at ${fit.endPoint}`,
    accepted: 'a curve with points before and after the end point',
  });
  const columns = derivatives(curve, startVolume, fit, statedSlope === null);
  const degreesOfFreedom = curve.volumes.length - columns.length;
  const found = Math.sqrt(fit.sumOfSquares / degreesOfFreedom);
  const deviation = statedDeviation ?? found;
  const { covarianceFactor } = fitLeastSquares(columns.map(longColumn), fit.residuals);
  const width = Math.exp(fit.logarithm) * (startVolume + fit.endPoint);
  return {
    volume: fit.endPoint,
    scatterLimits: evenLimits(fit.endPoint, deviation * Math.sqrt(covarianceFactor[0]?.[0] ?? 0)),
    stepUncertainty: 0,
    slope: -fit.slope / width,
    potentialDeviation: deviation,
    degreesOfFreedom: statedDeviation === undefined ? degreesOfFreedom : null,
  };
}
