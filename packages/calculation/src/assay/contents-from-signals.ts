import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { type CalibrationFit, fitCalibration } from './calibration-fit.ts';
import {
  type ContentsFromSignalsInput,
  type ContentsFromSignalsOutput,
  contentsFromSignalsInput,
  contentsFromSignalsOutput,
} from './contents-from-signals-schema.ts';
import { detectionLimit } from './detection-limit.ts';
import { limitsFromEstimate } from './detection-limit-core.ts';
import { type DriftReading, driftAt } from './drift-bracket.ts';
import { predictContent } from './inverse-prediction.ts';
import { polynomialValue, powersOfX } from './polynomial-fit.ts';
import {
  deviationOf,
  meanOf,
  pooledDeviation,
  type SpreadAt,
  spreadBetween,
} from './signal-spread.ts';

export {
  type ContentsFromSignalsInput,
  type ContentsFromSignalsOutput,
  contentsFromSignalsInput,
  contentsFromSignalsOutput,
} from './contents-from-signals-schema.ts';

interface Point {
  readonly label: string;
  readonly content: number;
  readonly signal: number;
  readonly signalStandardUncertainty?: number;
}

/** Every signal of every standard, or the mean of each with what its repetitions say of it. */
function pointsOf({ standards, weighting }: ContentsFromSignalsInput): readonly Point[] {
  return standards.flatMap(({ label, contentMilligramsPerKilogram: content, signals }, index) => {
    if (weighting === 'equal') return signals.map((signal) => ({ label, content, signal }));
    const deviation = deviationOf(signals) ?? 0;
    requireDomain(deviation > 0, {
      field: `standards.${index}.signals`,
      value: `${signals.length} without spread`,
      accepted: 'at least two signals that differ, since the weighting is relative',
    });
    const uncertainty = deviation / Math.sqrt(signals.length);
    return [{ label, content, signal: meanOf(signals), signalStandardUncertainty: uncertainty }];
  });
}

/** The line through the standards, with all that is read from it. */
interface Line {
  readonly points: readonly Point[];
  readonly curve: CalibrationFit;
  readonly intercept: number;
  readonly slope: number;
  /** Standard deviation of one reading at a signal. */
  readonly spreadAt: (signal: number) => number;
}

function spreadOf(input: ContentsFromSignalsInput, curve: CalibrationFit): Line['spreadAt'] {
  const { unitDeviation } = curve;
  if (input.weighting === 'equal') return () => unitDeviation;
  const known: readonly SpreadAt[] = input.standards.map(({ signals }) => ({
    signal: meanOf(signals),
    deviation: deviationOf(signals) ?? 0,
  }));
  return (signal) => unitDeviation * spreadBetween(known, signal);
}

function lineOf(input: ContentsFromSignalsInput): Line {
  const points = pointsOf(input);
  const different = new Set(points.map(({ content }) => content)).size;
  requireDomain(points.length > 2 && different > 1, {
    field: 'standards',
    value: `${points.length} signals at ${different} contents`,
    accepted: 'at least three signals at two contents or more, or three standards with weights',
  });
  const curve = fitCalibration({
    model: 'straight line',
    weighting: input.weighting,
    points: points.map(({ label: _label, ...point }) => point),
    readings: [],
    confidencePercent: 95,
  });
  const { coefficients } = powersOfX(curve.fit);
  const [intercept = 0, slope = 0] = coefficients;
  requireDomain(slope > 0, {
    field: 'standards',
    value: `a line with slope ${slope}`,
    accepted: 'standards whose signal rises with their content',
  });
  return { points, curve, intercept, slope, spreadAt: spreadOf(input, curve) };
}

/** The readings of the drift standard, net of what stands at no content. */
function driftReadings(input: ContentsFromSignalsInput, line: Line): readonly DriftReading[] {
  return input.drift
    .map(({ order, signals }, index) => {
      const mean = meanOf(signals);
      const net = mean - line.intercept;
      requireDomain(net > 0, {
        field: `drift.${index}.signals`,
        value: mean,
        accepted: `a signal above that of no content, ${line.intercept}`,
      });
      const uncertainty = line.spreadAt(mean) / Math.sqrt(signals.length);
      return { order, net, relativeUncertainty: uncertainty / net };
    })
    .toSorted((a, b) => a.order - b.order);
}

/** Decision and detection limit of a mean of so many readings: from the blanks, else from the line. */
function limitsOf(input: ContentsFromSignalsInput, line: Line, readings: number) {
  const alpha = input.falseAlarmProbability;
  const { blankSignals } = input;
  if ((deviationOf(blankSignals) ?? 0) > 0) {
    const found = detectionLimit({
      basis: { kind: 'blanks', blankSignals: [...blankSignals], sensitivity: line.slope },
      sampleReadings: readings,
      falseAlarmProbability: alpha,
      missProbability: alpha,
      quantificationFactor: 3,
    });
    return { decision: found.decisionLimit, detection: found.detectionLimit };
  }
  // A content of nothing is read with this standard deviation: DIN 32645:2008, the line itself.
  const atNothing = line.spreadAt(line.intercept) / Math.sqrt(readings);
  const { standardUncertainty } = predict(line, line.intercept, atNothing, 'standards');
  return limitsFromEstimate(standardUncertainty, line.curve.degreesOfFreedom, alpha, alpha);
}

const predict = (line: Line, signal: number, deviation: number, field: string) =>
  predictContent(line.curve.fit, signal, deviation ** 2, 1, field);

/** Standard deviation of one reading, from the repeated ones of all solutions of a kind. */
function repeatedDeviation({ solutions }: ContentsFromSignalsInput, kind: string | undefined) {
  const alike = solutions.filter((one) => one.kind === kind);
  return pooledDeviation(alike.map(({ readings }) => readings.map(({ signal }) => signal)));
}

function solutionOf(
  input: ContentsFromSignalsInput,
  of: { readonly line: Line; readonly drift: readonly DriftReading[] },
  index: number,
): ContentsFromSignalsOutput['solutions'][number] {
  const { line, drift } = of;
  const { label, kind, readings } = input.solutions[
    index
  ] as ContentsFromSignalsInput['solutions'][0];
  const field = `solutions.${index}.readings`;
  const corrected = readings.map(({ order, signal }, at) => {
    const { factor, relativeUncertainty } = driftAt(drift, order, `${field}.${at}.order`);
    return {
      signal: line.intercept + (signal - line.intercept) / factor,
      factor,
      relativeUncertainty,
    };
  });
  const mean = meanOf(corrected.map(({ signal }) => signal));
  const deviation =
    Math.max(line.spreadAt(mean), repeatedDeviation(input, kind)) / Math.sqrt(readings.length);
  const { content, standardUncertainty } = predict(line, mean, deviation, field);
  // The readings of a solution share their bracket, and so its error.
  const ofDrift = meanOf(corrected.map(({ relativeUncertainty }) => relativeUncertainty));
  const ofStandards = input.standardRelativeUncertaintyPercent / 100;
  const limits = limitsOf(input, line, readings.length);
  const greatest = Math.max(...line.points.map((point) => point.content));
  return {
    label,
    contentMilligramsPerKilogram: content,
    standardUncertaintyMilligramsPerKilogram: Math.hypot(
      standardUncertainty,
      content * ofDrift,
      content * ofStandards,
    ),
    decisionLimitMilligramsPerKilogram: limits.decision,
    detectionLimitMilligramsPerKilogram: limits.detection,
    driftFactor: meanOf(corrected.map(({ factor }) => factor)),
    insideStandards: content <= greatest,
  };
}

function correlationOf({ points, curve }: Line): number | null {
  const weights = [...curve.weights];
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = points.reduce((sum, { signal }, i) => sum + (weights[i] ?? 0) * signal, 0) / total;
  const variation = points.reduce(
    (sum, { signal }, i) => sum + (weights[i] ?? 0) * (signal - mean) ** 2,
    0,
  );
  return variation === 0 ? null : Math.sqrt(Math.max(0, 1 - curve.chiSquare / variation));
}

function lineOutput(line: Line): ContentsFromSignalsOutput['line'] {
  const { covariance } = powersOfX(line.curve.fit);
  const uncertainty = (power: number) => Math.sqrt(Math.max(0, covariance[power]?.[power] ?? 0));
  return {
    intercept: line.intercept,
    interceptStandardUncertainty: uncertainty(0),
    slope: line.slope,
    slopeStandardUncertainty: uncertainty(1),
    residualStandardDeviation: line.curve.unitDeviation,
    degreesOfFreedom: line.curve.degreesOfFreedom,
    correlation: correlationOf(line),
  };
}

const shown = (value: number): string =>
  String(Number(value.toPrecision(4))).replace('-', '\u2212');

function wordsOf(
  input: ContentsFromSignalsInput,
  output: Omit<ContentsFromSignalsOutput, 'words'>,
): string {
  const { line, solutions, drift } = output;
  const contents = solutions.map((one) => {
    const outside = one.insideStandards ? '' : ', above the standards';
    const isFound = one.contentMilligramsPerKilogram >= one.detectionLimitMilligramsPerKilogram;
    return isFound
      ? `${one.label}: ${shown(one.contentMilligramsPerKilogram)} mg/kg with standard uncertainty ${shown(one.standardUncertaintyMilligramsPerKilogram)} mg/kg${outside}.`
      : `${one.label}: below the detection limit of ${shown(one.detectionLimitMilligramsPerKilogram)} mg/kg.`;
  });
  const last = drift.at(-1);
  const moved = last ? ` The sensitivity ended at ${shown(100 * last.factor)} % of its start.` : '';
  return `${input.element}: ${shown(line.slope)} counts/s per mg/kg (u ${shown(line.slopeStandardUncertainty)}), ${shown(line.intercept)} counts/s at no content.${moved} ${contents.join(' ')}`;
}

/**
 * Contents of one element in solutions, from the signals of a spectrometer: through the line of its
 * calibration standards, with the drift of the sensitivity taken off between readings of a drift
 * standard; it stands before the fineness by difference where a result file has signals only.
 *
 * Formula: signal = a + b·content, least squares with equal weights, or with 1/u² of the mean of
 * each standard, u from its own repetitions times a common factor that the line gives. Sensitivity
 * factor f at a place of the run: (D − a) of the drift standard, linear between the readings around
 * it, over that of its first reading; corrected signal a + (signal − a)/f. Content by inverse
 * prediction of the mean signal; its spread is the greater of what the line and what the repeated
 * readings of all solutions of its kind
 * show. Uncertainty: that of the inverse prediction, of the drift
 * readings, and of the standards together. Limits: Student's quantiles on the spread of the blanks
 * over b, else on that of a content of nothing read from the line.
 *
 * @param input standards with signals in counts/s and contents in mg/kg; places in the run as whole
 *   numbers; solutions each within the readings of the drift standard where there are any
 * @returns line, points, drift factors, contents in mg/kg with uncertainty and limits; not rounded
 * @throws DomainError for too few or unrepeated standards, a line that does not rise, a drift standard
 *   not above nothing, or a reading outside the readings of the drift standard
 * Validity: response straight up to the highest standard; drift of the sensitivity only, linear
 * between its readings, first order; the standards were read next to the first of them. Reagent
 * blanks are not taken off. Agreement in reference/calibration-lines.
 * Source: ISO/TS 28037:2010, clause 6; DIN 32645:2008 and L. A. Currie (1968), Analytical Chemistry
 * 40, 586 (limits); D. L. Massart and others (1997), Handbook of Chemometrics and Qualimetrics A,
 * chapter 8 (weights from repetitions); bracketing after ISO 11494:2008 (principle)
 * @example contentsFromSignals({ element: 'Cu', weighting: 'equal', blankSignals: [], drift: [],
 *   standards: [3060, 3522, 3707, 4280, 5058, 5510, 5703, 6205, 7156, 7178].map((signal, i) =>
 *     ({ label: `${i}`, contentMilligramsPerKilogram: (i + 1) / 20, signals: [signal] })),
 *   standardRelativeUncertaintyPercent: 0, falseAlarmProbability: 0.01,
 *   solutions: [{ label: 'A', readings: [{ order: 11, signal: 3500 }] }],
 * }).solutions[0].detectionLimitMilligramsPerKilogram // 0.1396254
 */
export function contentsFromSignals(input: ContentsFromSignalsInput): ContentsFromSignalsOutput {
  const line = lineOf(input);
  const drift = driftReadings(input, line);
  const [first] = drift;
  const { blankSignals } = input;
  const output = {
    line: lineOutput(line),
    points: line.points.map(({ label, content, signal }) => ({
      label,
      contentMilligramsPerKilogram: content,
      signal,
      residual: signal - polynomialValue(line.curve.fit, content),
    })),
    drift: drift.map(({ order, net }) => ({ order, factor: net / (first?.net ?? net) })),
    blankMilligramsPerKilogram:
      blankSignals.length === 0 ? null : (meanOf(blankSignals) - line.intercept) / line.slope,
    limitBasis: (deviationOf(blankSignals) ?? 0) > 0 ? ('blanks' as const) : ('line' as const),
    solutions: input.solutions.map((_, index) => solutionOf(input, { line, drift }, index)),
  };
  return { ...output, words: wordsOf(input, output) };
}

function drawSignals(_input: ContentsFromSignalsInput, output: ContentsFromSignalsOutput): Chart[] {
  const { line, points, solutions, drift } = output;
  const contents = points.map((one) => one.contentMilligramsPerKilogram);
  const ends = [Math.min(0, ...contents), Math.max(...contents)];
  const charts: Chart[] = [
    {
      kind: 'chart',
      title: 'Calibration line',
      xTitle: 'Content, mg/kg',
      yTitle: 'Signal, counts/s',
      series: [
        {
          label: 'line',
          kind: 'line',
          x: ends,
          y: ends.map((one) => line.intercept + line.slope * one),
        },
        { label: 'standards', kind: 'points', x: contents, y: points.map(({ signal }) => signal) },
      ],
      marks: solutions
        .slice(0, 4)
        .map((one) => ({ x: one.contentMilligramsPerKilogram, label: one.label })),
    },
    {
      kind: 'chart',
      title: 'Residuals',
      xTitle: 'Content, mg/kg',
      yTitle: 'Observed less fitted, counts/s',
      series: [
        {
          label: 'standards',
          kind: 'points',
          x: contents,
          y: points.map(({ residual }) => residual),
        },
      ],
      levels: [{ y: 0, label: '0' }],
    },
  ];
  if (drift.length === 0) return charts;
  return [
    ...charts,
    {
      kind: 'chart',
      title: 'Drift of the sensitivity',
      xTitle: 'Place in the run',
      yTitle: 'Sensitivity over that of the calibration',
      series: [
        {
          label: 'drift standard',
          kind: 'line',
          x: drift.map(({ order }) => order),
          y: drift.map(({ factor }) => factor),
        },
      ],
      levels: [{ y: 1, label: '1' }],
    },
  ];
}

export const contentsFromSignalsCalculation = defineCalculation<
  ContentsFromSignalsInput,
  ContentsFromSignalsOutput
>({
  id: 'contents-from-signals',
  version: 1,
  topic: 'assay',
  title: 'Contents from the signals of a spectrometer',
  purpose:
    'From the signals of calibration standards, blanks, drift standard and solutions to the contents of one element, with their uncertainty and detection limit.',
  source:
    'ISO/TS 28037:2010, clause 6; DIN 32645:2008 and L. A. Currie (1968), Analytical Chemistry 40, 586 (limits); D. L. Massart and others (1997), Handbook of Chemometrics and Qualimetrics A, chapter 8 (weights from repetitions); bracketing after ISO 11494:2008 (principle)',
  input: contentsFromSignalsInput,
  output: contentsFromSignalsOutput,
  // Figures chosen for the example; the published lines are checked in reference/calibration-lines.
  example: {
    element: 'Cu',
    weighting: 'equal',
    standards: [
      { label: 'Std 0', contentMilligramsPerKilogram: 0, signals: [212, 207] },
      { label: 'Std 1', contentMilligramsPerKilogram: 50, signals: [7745, 7751] },
      { label: 'Std 2', contentMilligramsPerKilogram: 100, signals: [15_290, 15_262] },
      { label: 'Std 3', contentMilligramsPerKilogram: 200, signals: [30_310, 30_355] },
    ],
    standardRelativeUncertaintyPercent: 0.5,
    blankSignals: [215, 208, 211],
    drift: [
      { order: 12, signals: [15_270, 15_284] },
      { order: 18, signals: [15_105, 15_118] },
    ],
    solutions: [
      {
        label: 'B1',
        readings: [
          { order: 14, signal: 9120 },
          { order: 15, signal: 9134 },
        ],
      },
      {
        label: 'B2',
        readings: [
          { order: 16, signal: 9088 },
          { order: 17, signal: 9101 },
        ],
      },
    ],
    falseAlarmProbability: 0.05,
  },
  compute: contentsFromSignals,
  draw: drawSignals,
});
