import { requireDomain } from '../quantity/domain.ts';
import { type PolynomialFit, polynomialSlope, polynomialVariance } from './polynomial-fit.ts';
import { realRoots } from './real-roots.ts';

/** A content read back from a signal. */
interface InversePrediction {
  readonly content: number;
  readonly standardUncertainty: number;
  /** Null where the interval has no end on that side. */
  readonly lower: number | null;
  readonly upper: number | null;
}

const square = (polynomial: readonly number[]): number[] => {
  const result = new Array<number>(2 * polynomial.length - 1).fill(0);
  for (const [i, left] of polynomial.entries()) {
    for (const [j, right] of polynomial.entries()) {
      result[i + j] = (result[i + j] ?? 0) + left * right;
    }
  }
  return result;
};

/** Place t of the signal on the branch of the curve that holds the middle of the standards. */
function placeOf(fit: PolynomialFit, signal: number, field: string): number {
  const [c0 = 0, c1 = 0, c2 = 0] = fit.coefficients;
  const rest = c0 - signal;
  if (fit.degree === 1 || c2 === 0) {
    requireDomain(c1 !== 0, { field, value: signal, accepted: 'a calibration that is not flat' });
    return -rest / c1;
  }
  const discriminant = c1 * c1 - 4 * c2 * rest;
  requireDomain(discriminant > 0, {
    field,
    value: signal,
    accepted: `a signal that the curve reaches; it turns at ${c0 - (c1 * c1) / (4 * c2)}`,
  });
  // The root of smaller size in the stable form; it is the one on the branch through the centre.
  const sum = -0.5 * (c1 + Math.sign(c1 === 0 ? 1 : c1) * Math.sqrt(discriminant));
  return rest / sum;
}

/** Coefficients in t of (signal − curve)² − k²·(variance of the signal + variance of the curve). */
function intervalPolynomial(
  fit: PolynomialFit,
  signal: number,
  signalVariance: number,
  coverageFactor: number,
): number[] {
  const [c0 = 0, ...rest] = fit.coefficients;
  const polynomial = square([c0 - signal, ...rest]);
  const k2 = coverageFactor ** 2;
  polynomial[0] = (polynomial[0] ?? 0) - k2 * signalVariance;
  for (const [i, row] of fit.covariance.entries()) {
    for (const [j, value] of row.entries()) {
      polynomial[i + j] = (polynomial[i + j] ?? 0) - k2 * value;
    }
  }
  return polynomial;
}

/**
 * Content that belongs to a signal on a calibration curve, with its exact interval: all contents
 * at which signal and curve differ by no more than k standard uncertainties of the difference. On a
 * straight line these are the limits of Fieller; on a parabola they follow from an equation of the
 * fourth degree.
 */
export function predictContent(
  fit: PolynomialFit,
  signal: number,
  signalVariance: number,
  coverageFactor: number,
  field: string,
): InversePrediction {
  const t = placeOf(fit, signal, field);
  const content = fit.centre + t * fit.scale;
  const variance = signalVariance + polynomialVariance(fit, content);
  const slope = polynomialSlope(fit, content);
  const roots = realRoots(intervalPolynomial(fit, signal, signalVariance, coverageFactor));
  const below = roots.findLast((root) => root < t);
  const above = roots.find((root) => root > t);
  const place = (root: number | undefined) =>
    root === undefined ? null : fit.centre + root * fit.scale;
  const exact = variance === 0 ? content : null;
  return {
    content,
    standardUncertainty: Math.sqrt(variance) / Math.abs(slope),
    lower: exact ?? place(below),
    upper: exact ?? place(above),
  };
}

/** Whether the curve turns between the least and the greatest standard. */
export function turnsInside(fit: PolynomialFit, least: number, greatest: number): boolean {
  return polynomialSlope(fit, least) * polynomialSlope(fit, greatest) <= 0;
}
