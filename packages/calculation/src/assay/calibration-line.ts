import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { upperChiSquareProbability } from '../quantity/chi-square.ts';
import { requireDomain } from '../quantity/domain.ts';
import { upperFisherProbability } from '../quantity/fisher.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import { type CalibrationFit, diagnose, fitCalibration, lackOfFit } from './calibration-fit.ts';
import {
  type CalibrationLineInput,
  type CalibrationLineOutput,
  calibrationLineInput,
  calibrationLineOutput,
} from './calibration-line-schema.ts';
import { predictContent, turnsInside } from './inverse-prediction.ts';
import { polynomialValue, polynomialVariance, powersOfX } from './polynomial-fit.ts';

export {
  type CalibrationLineInput,
  type CalibrationLineOutput,
  calibrationLineInput,
  calibrationLineOutput,
} from './calibration-line-schema.ts';

/** Quantile for a two-sided level: of Student where the spread was estimated, normal where known. */
function factorOf(curve: CalibrationFit, confidencePercent: number): number {
  const degreesOfFreedom = curve.isEstimated ? curve.degreesOfFreedom : null;
  return coverageFactor(confidencePercent / 100, degreesOfFreedom);
}

type Reading = CalibrationLineInput['readings'][number];

function readingDeviation(
  input: CalibrationLineInput,
  curve: CalibrationFit,
  one: Reading,
  index: number,
): number {
  const stated = one.signalStandardUncertainty;
  if (input.weighting === 'equal') {
    return stated ?? curve.unitDeviation / Math.sqrt(one.readings);
  }
  requireDomain(stated !== undefined, {
    field: `readings.${index}.signalStandardUncertainty`,
    value: 'none',
    accepted: `a standard uncertainty of the mean signal, since the weighting is ${input.weighting}`,
  });
  return input.weighting === 'relative' ? stated * curve.unitDeviation : stated;
}

function predictionsOf(input: CalibrationLineInput, curve: CalibrationFit) {
  const contents = input.points.map((point) => point.content);
  const [least, greatest] = [Math.min(...contents), Math.max(...contents)];
  const k = factorOf(curve, input.confidencePercent);
  return input.readings.map((one, index) => {
    const deviation = readingDeviation(input, curve, one, index);
    const field = `readings.${index}.signal`;
    const found = predictContent(curve.fit, one.signal, deviation ** 2, k, field);
    const insideStandards = found.content >= least && found.content <= greatest;
    return { label: one.label, ...found, insideStandards };
  });
}

/** Share of the weighted variation of the signals that the curve carries. */
function determination(input: CalibrationLineInput, curve: CalibrationFit): number | null {
  if (input.weighting === 'both') return null;
  let total = 0;
  let sum = 0;
  for (const [index, weight] of curve.weights.entries()) {
    total += weight;
    sum += weight * (input.points[index]?.signal ?? 0);
  }
  const mean = sum / total;
  let variation = 0;
  for (const [index, weight] of curve.weights.entries()) {
    variation += weight * ((input.points[index]?.signal ?? 0) - mean) ** 2;
  }
  return variation === 0 ? null : 1 - curve.chiSquare / variation;
}

const shown = (value: number): string => String(Number(value.toPrecision(5)));

function calibrationWords(
  input: CalibrationLineInput,
  output: Omit<CalibrationLineOutput, 'words'>,
): string {
  const names = ['Intercept', 'slope', 'bend'];
  const curve = output.coefficients
    .map(
      (one) => `${names[one.power]} ${shown(one.estimate)} (u ${shown(one.standardUncertainty)})`,
    )
    .join(', ');
  const p = output.chiSquareProbability;
  const agreement =
    p === null
      ? ''
      : p < 0.05
        ? ` The points lie farther from the curve than their stated uncertainties explain (probability ${probabilityText(p)}): look for a bad standard or a bend before using it.`
        : ` The points agree with their stated uncertainties (probability ${probabilityText(p)}).`;
  const lack = output.lackOfFitProbability;
  const bend =
    lack !== null && lack < 0.05
      ? ` The model does not fit the repeated standards (probability ${probabilityText(lack)}).`
      : '';
  const turn = output.turnsInside
    ? ' The curve turns between the standards: one signal then belongs to two contents.'
    : '';
  const contents = output.predictions
    .map((one) => {
      const range =
        one.lower === null || one.upper === null
          ? 'without a bounded interval, the slope being too uncertain'
          : `from ${shown(one.lower)} to ${shown(one.upper)} at ${input.confidencePercent} %`;
      const outside = one.insideStandards ? '' : ', outside the standards';
      return ` ${one.label}: ${shown(one.content)}, ${range}${outside}.`;
    })
    .join('');
  return `${curve}.${agreement}${bend}${turn}${contents}`;
}

/**
 * Calibration curve of an instrument, straight or bent, with the contents that belong to the
 * signals of samples and their exact intervals; it usually stands between a spectrometer's signals
 * and the impurities of a melt.
 *
 * Formula: signal = Σ b_k·content^k, k to 1 or 2, least squares with weights 1, or 1/u(signal)², or
 * with uncertain contents generalised distance regression: the sum of ((x − ξ)/u(x))² +
 * ((y − f(ξ))/u(y))² is least in all ξ and b together. Covariance of b from the inverse matrix,
 * times the residual variance where spreads are not known ('equal', 'relative'). A content solves
 * f(x) = signal; its interval holds every x with |signal − f(x)| ≤ k·√(u(signal)² + u(f(x))²)
 * (on a straight line the limits of Fieller), k of Student or normal; its standard uncertainty is
 * that root over |slope|. Left-out residual: residual/(1 − leverage).
 *
 * @param input points in any order, one more than the coefficients at least; readings with
 *   signalStandardUncertainty of the mean, in the same scale as the points' where 'relative'
 * @returns coefficients with covariance, tests of agreement, diagnostics of each point, contents
 *   with interval ends (null where the interval is open); nothing rounded but the words
 * @throws DomainError for too few contents, a missing uncertainty, a flat curve, a signal beyond
 *   the turn of a parabola, or a distance fit that does not settle
 * Validity: errors normal and independent; the interval is exact for a curve fitted in y only and
 * first order where contents are uncertain. Agreement in reference/calibration-lines.
 * Source: ISO/TS 28037:2010, clauses 6 and 7 (lines); ISO 6143:2001 (both uncertain, bent); E. C.
 * Fieller (1954), Journal of the Royal Statistical Society B 16, 175; R. D. Cook (1977),
 * Technometrics 19, 15
 * @example calibrationLine({ model: 'straight line', weighting: 'known', confidencePercent: 95,
 *   points: [[1, 3.3], [2, 5.6], [3, 7.1], [4, 9.3], [5, 10.7], [6, 12.1]].map(([content, signal]) =>
 *     ({ content, signal, signalStandardUncertainty: 0.5 })),
 *   readings: [{ label: 'A', signal: 10.5, readings: 1, signalStandardUncertainty: 0.5 }],
 * }).predictions[0].content // 4.913279
 */
export function calibrationLine(input: CalibrationLineInput): CalibrationLineOutput {
  const curve = fitCalibration(input);
  const { coefficients, covariance } = powersOfX(curve.fit);
  const lack = lackOfFit(input, curve);
  const contents = input.points.map((point) => point.content);
  const isKnown = input.weighting === 'known' || input.weighting === 'both';
  const output = {
    coefficients: coefficients.map((estimate, power) => ({
      power,
      estimate,
      standardUncertainty: Math.sqrt(Math.max(0, covariance[power]?.[power] ?? 0)),
    })),
    covariance: covariance.map((row) => [...row]),
    degreesOfFreedom: curve.degreesOfFreedom,
    residualStandardDeviation: Math.sqrt(curve.chiSquare / curve.degreesOfFreedom),
    chiSquare: curve.chiSquare,
    chiSquareProbability: isKnown
      ? upperChiSquareProbability(curve.chiSquare, curve.degreesOfFreedom)
      : null,
    determination: determination(input, curve),
    lackOfFitRatio: lack?.ratio ?? null,
    lackOfFitProbability:
      lack === null ? null : upperFisherProbability(lack.ratio, ...lack.degrees),
    turnsInside: turnsInside(curve.fit, Math.min(...contents), Math.max(...contents)),
    points: diagnose(input, curve),
    predictions: predictionsOf(input, curve),
  };
  return { ...output, words: calibrationWords(input, output) };
}

const curvePoints = 60;

function drawCalibration(input: CalibrationLineInput, output: CalibrationLineOutput): Chart[] {
  const curve = fitCalibration(input);
  const contents = input.points.map((point) => point.content);
  const [least, greatest] = [Math.min(...contents), Math.max(...contents)];
  const k = factorOf(curve, input.confidencePercent);
  const x = Array.from(
    { length: curvePoints + 1 },
    (_, i) => least + ((greatest - least) * i) / curvePoints,
  );
  const y = x.map((place) => polynomialValue(curve.fit, place));
  const half = x.map((place) => k * Math.sqrt(polynomialVariance(curve.fit, place)));
  const residuals = output.points.map((point) => point.residual);
  return [
    {
      kind: 'chart',
      title: 'Calibration curve',
      xTitle: 'Content',
      yTitle: 'Signal',
      series: [
        {
          label: 'curve',
          kind: 'line',
          x,
          y,
          lower: y.map((value, i) => value - (half[i] ?? 0)),
          upper: y.map((value, i) => value + (half[i] ?? 0)),
        },
        {
          label: 'standards',
          kind: 'points',
          x: contents,
          y: input.points.map((point) => point.signal),
        },
      ],
      marks: output.predictions.slice(0, 5).map((one) => ({ x: one.content, label: one.label })),
    },
    {
      kind: 'chart',
      title: 'Residuals',
      xTitle: 'Content',
      yTitle: 'Observed less fitted signal',
      series: [{ label: 'residuals', kind: 'points', x: contents, y: residuals }],
      levels: [{ y: 0, label: '0' }],
    },
  ];
}

export const calibrationLineCalculation = defineCalculation<
  CalibrationLineInput,
  CalibrationLineOutput
>({
  id: 'calibration-line',
  version: 1,
  topic: 'assay',
  title: 'Calibration curve',
  purpose:
    'Fits a straight or bent calibration curve with known or estimated uncertainties, also of the standards themselves, and reads the contents of samples from it with exact limits.',
  source:
    'ISO/TS 28037:2010, clauses 6 and 7; ISO 6143:2001; E. C. Fieller (1954), Journal of the Royal Statistical Society B 16, 175; R. D. Cook (1977), Technometrics 19, 15',
  input: calibrationLineInput,
  output: calibrationLineOutput,
  // ISO/TS 28037:2010, clause 6: intercept 1.867, slope 1.757; 4.913 with u 0.322 at signal 10.5.
  example: {
    model: 'straight line',
    weighting: 'known',
    points: [
      [1, 3.3],
      [2, 5.6],
      [3, 7.1],
      [4, 9.3],
      [5, 10.7],
      [6, 12.1],
    ].map(([content = 0, signal = 0]) => ({ content, signal, signalStandardUncertainty: 0.5 })),
    readings: [{ label: 'A', signal: 10.5, readings: 1, signalStandardUncertainty: 0.5 }],
    confidencePercent: 95,
  },
  compute: calibrationLine,
  draw: drawCalibration,
});
