import { requireDomain } from '../quantity/domain.ts';
import { fitPolynomial, polynomialVariance, powersOfX } from './polynomial-fit.ts';
import { type EndPointEstimate, evenLimits, type TitrationCurve } from './titration-curve.ts';

/** Molar gas constant times absolute temperature over the Faraday constant, in millivolts. */
export function nernstMillivolts(temperatureDegreesCelsius: number): number {
  const gas = 8.314462618;
  const faraday = 96_485.33212;
  return (1000 * gas * (temperatureDegreesCelsius + 273.15)) / faraday;
}

/** What a Gran line needs beside the curve. */
interface GranSettings {
  /** Volume (or mass, in the unit of the titrant) before the titration. */
  readonly startVolume: number;
  /** Whether the points lie before or after the end point. */
  readonly side: 'before' | 'after';
  /** Electrode slope over one factor of e in activity; its sign says how the potential goes. */
  readonly slopeMillivolts: number;
  /** Equal weights, or weights for an equal scatter of the potentials. */
  readonly weighting: 'equal' | 'potential';
}

/**
 * End point by the line of Gran: (start volume + volume)·exp(potential/slope) is in proportion to
 * the amount of the ion that is there in excess, and goes in a straight line to zero at the end point.
 */
export function granEndPoint(
  curve: TitrationCurve,
  settings: GranSettings,
  statedDeviation?: number,
): EndPointEstimate {
  const { startVolume, slopeMillivolts, side, weighting } = settings;
  const { volumes, potentials } = curve;
  const reference = potentials[0] as number;
  const gran = potentials.map(
    (potential, i) =>
      (startVolume + (volumes[i] as number)) * Math.exp((potential - reference) / slopeMillivolts),
  );
  // A scatter of the potential changes a Gran value in proportion to its size.
  const weights =
    weighting === 'equal'
      ? gran.map(() => 1)
      : gran.map((value) => (value === 0 ? 1 : value ** -2));
  const fit = fitPolynomial(volumes, gran, 1, weights);
  const [intercept = 0, slope = 0] = powersOfX(fit).coefficients;
  const volume = -intercept / slope;
  const first = volumes[0] as number;
  const last = volumes.at(-1) as number;
  const isBeyond = side === 'after' ? volume < first && slope > 0 : volume > last && slope < 0;
  requireDomain(Number.isFinite(volume) && isBeyond, {
    field: 'curve',
    value: `points whose Gran line meets zero at ${volume}`,
    accepted: `points ${side} the end point, on which the Gran values ${side === 'after' ? 'rise' : 'fall'} in a straight line`,
  });
  const degreesOfFreedom = volumes.length - 2;
  const residualVariance = fit.sumOfSquares / degreesOfFreedom;
  // Weighted residuals are relative ones; times the slope of the electrode they are potentials.
  const found =
    weighting === 'potential' ? Math.sqrt(residualVariance) * Math.abs(slopeMillivolts) : null;
  const deviation =
    statedDeviation ?? found ?? relativeDeviation(fit.sumOfSquares, gran, slopeMillivolts);
  const variance =
    statedDeviation !== undefined && weighting === 'potential'
      ? (statedDeviation / slopeMillivolts) ** 2
      : residualVariance;
  return {
    volume,
    scatterLimits: evenLimits(
      volume,
      Math.sqrt(variance * polynomialVariance(fit, volume)) / Math.abs(slope),
    ),
    stepUncertainty: 0,
    slope: null,
    potentialDeviation: deviation,
    degreesOfFreedom,
  };
}

/** Scatter of the potentials that residuals of an equally weighted line stand for, at its mean size. */
function relativeDeviation(
  sumOfSquares: number,
  gran: readonly number[],
  slopeMillivolts: number,
): number {
  const mean = gran.reduce((sum, value) => sum + value, 0) / gran.length;
  const spread = Math.sqrt(sumOfSquares / (gran.length - 2));
  return (spread / Math.abs(mean)) * Math.abs(slopeMillivolts);
}
