import { requireDomain } from '../quantity/domain.ts';
import type { CalibrationLineInput } from './calibration-line-schema.ts';
import { fitByDistance } from './distance-regression.ts';
import {
  fitPolynomial,
  type PolynomialFit,
  polynomialValue,
  polynomialVariance,
} from './polynomial-fit.ts';

/** A calibration curve with what its diagnostics need. */
export interface CalibrationFit {
  /** Covariance in true units: scaled by the residual variance where that was estimated. */
  readonly fit: PolynomialFit;
  readonly degreesOfFreedom: number;
  readonly chiSquare: number;
  /** Standard deviation of a signal of weight 1 that the covariance rests on. */
  readonly unitDeviation: number;
  readonly isEstimated: boolean;
  readonly weights: Float64Array;
  /** Contents at which the curve is compared with the signals. */
  readonly contents: Float64Array;
}

function signalUncertainties(input: CalibrationLineInput): number[] {
  return input.points.map((point, index) => {
    const u = point.signalStandardUncertainty;
    requireDomain(u !== undefined, {
      field: `points.${index}.signalStandardUncertainty`,
      value: 'none',
      accepted: `a standard uncertainty above 0, since the weighting is ${input.weighting}`,
    });
    return u;
  });
}

function requireEnoughPoints(input: CalibrationLineInput, degree: 1 | 2): void {
  const different = new Set(input.points.map((point) => point.content)).size;
  requireDomain(different > degree && input.points.length > degree + 1, {
    field: 'points',
    value: `${input.points.length} points at ${different} contents`,
    accepted: `at least ${degree + 2} points at ${degree + 1} different contents or more`,
  });
}

/** Fits the curve as model and weighting say. */
export function fitCalibration(input: CalibrationLineInput): CalibrationFit {
  const degree = input.model === 'straight line' ? 1 : 2;
  requireEnoughPoints(input, degree);
  const x = Float64Array.from(input.points, (point) => point.content);
  const y = Float64Array.from(input.points, (point) => point.signal);
  const degreesOfFreedom = x.length - degree - 1;
  if (input.weighting === 'both') {
    const { fit, adjusted, weights, chiSquare } = fitByDistance(
      {
        x: Array.from(x),
        y: Array.from(y),
        xUncertainty: input.points.map((point) => point.contentStandardUncertainty ?? 0),
        yUncertainty: signalUncertainties(input),
      },
      degree,
    );
    const known = { degreesOfFreedom, chiSquare, unitDeviation: 1, isEstimated: false };
    return { fit, ...known, weights, contents: adjusted };
  }
  const weights =
    input.weighting === 'equal'
      ? new Float64Array(x.length).fill(1)
      : Float64Array.from(signalUncertainties(input), (u) => 1 / (u * u));
  const raw = fitPolynomial(x, y, degree, weights);
  const isEstimated = input.weighting !== 'known';
  const unitVariance = isEstimated ? raw.sumOfSquares / degreesOfFreedom : 1;
  return {
    fit: { ...raw, covariance: raw.covariance.map((row) => row.map((one) => one * unitVariance)) },
    degreesOfFreedom,
    chiSquare: raw.sumOfSquares,
    unitDeviation: Math.sqrt(unitVariance),
    isEstimated,
    weights,
    contents: x,
  };
}

/** Residual, leverage and what leaving the point out would do. */
export function diagnose(input: CalibrationLineInput, curve: CalibrationFit) {
  const { fit, weights, contents, unitDeviation } = curve;
  const parameters = fit.degree + 1;
  return input.points.map((point, index) => {
    const content = contents[index] as number;
    // Compared at the content as stated; the weight holds what an uncertain content adds.
    const fittedSignal = polynomialValue(fit, point.content);
    const residual = point.signal - fittedSignal;
    const variance = unitDeviation ** 2 / (weights[index] as number);
    const fitted = polynomialVariance(fit, content);
    const leverage = variance === 0 ? 0 : Math.min(1, fitted / variance);
    const free = 1 - leverage;
    const hasRest = free > 1e-12 && variance > 0;
    const standardised = hasRest ? residual / Math.sqrt(variance * free) : null;
    return {
      content: point.content,
      fittedSignal,
      residual,
      leverage,
      leftOutResidual: hasRest ? residual / free : null,
      standardisedResidual: standardised,
      influence: standardised === null ? null : (standardised ** 2 * leverage) / free / parameters,
    };
  });
}

/** Lack of fit of an equally weighted curve against the spread of repeated standards. */
export function lackOfFit(
  input: CalibrationLineInput,
  curve: CalibrationFit,
): { readonly ratio: number; readonly degrees: readonly [number, number] } | null {
  if (input.weighting !== 'equal') return null;
  const groups = new Map<number, number[]>();
  for (const { content, signal } of input.points) {
    groups.set(content, [...(groups.get(content) ?? []), signal]);
  }
  const pureDegrees = input.points.length - groups.size;
  const lackDegrees = groups.size - curve.fit.degree - 1;
  if (pureDegrees === 0 || lackDegrees === 0) return null;
  let pure = 0;
  for (const signals of groups.values()) {
    const mean = signals.reduce((sum, one) => sum + one, 0) / signals.length;
    for (const one of signals) pure += (one - mean) ** 2;
  }
  if (pure === 0) return null;
  const lack = Math.max(0, curve.chiSquare - pure) / lackDegrees;
  return { ratio: lack / (pure / pureDegrees), degrees: [lackDegrees, pureDegrees] };
}
