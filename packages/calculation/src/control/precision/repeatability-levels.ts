import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { upperChiSquareQuantile } from '../../quantity/chi-square.ts';
import { compensatedSum, meanOf } from '../../quantity/sum.ts';
import { satterthwaiteDegreesOfFreedom } from './component-intervals.ts';
import { inWords, measured } from './precision-fields.ts';
import {
  type RepeatabilityLevelsInput,
  type RepeatabilityLevelsOutput,
  repeatabilityLevelsInput,
  repeatabilityLevelsOutput,
} from './repeatability-levels-schema.ts';

export {
  type RepeatabilityLevelsInput,
  type RepeatabilityLevelsOutput,
  repeatabilityLevelsInput,
  repeatabilityLevelsOutput,
} from './repeatability-levels-schema.ts';

type Level = RepeatabilityLevelsOutput['days'];

/** A pooled variance with its degrees of freedom. */
interface Pooled {
  readonly variance: number;
  readonly degreesOfFreedom: number;
}

function poolOf(parts: readonly { squares: number; degrees: number }[]): Pooled | null {
  const degreesOfFreedom = compensatedSum(parts.map((part) => part.degrees));
  if (degreesOfFreedom === 0) return null;
  const squares = compensatedSum(parts.map((part) => part.squares));
  return { variance: squares / degreesOfFreedom, degreesOfFreedom };
}

/** Squares of values about their mean, with the degrees of freedom. */
function spreadOf(values: readonly number[]): { squares: number; degrees: number } {
  const mean = meanOf(values);
  return {
    squares: compensatedSum(values.map((value) => (value - mean) ** 2)),
    degrees: values.length - 1,
  };
}

function harmonicMean(counts: readonly number[]): number {
  return counts.length / compensatedSum(counts.map((count) => 1 / count));
}

function levelOf(pooled: Pooled, confidence: number): Level {
  const tail = (1 - confidence) / 2;
  const { variance, degreesOfFreedom } = pooled;
  const end = (probability: number) =>
    Math.sqrt(
      (degreesOfFreedom * variance) / upperChiSquareQuantile(probability, degreesOfFreedom),
    );
  return {
    standardDeviation: Math.sqrt(variance),
    degreesOfFreedom,
    lower: end(tail),
    upper: end(1 - tail),
  };
}

/** Pooled variances of readings, of day means within runs, and of run means within check pieces. */
function pooledLevels(input: RepeatabilityLevelsInput): {
  readings: Pooled;
  days: Pooled;
  runs: Pooled | null;
} {
  const runs = input.artefacts.flatMap((artefact) => artefact.runs);
  const days = runs.flatMap((run) => run.days);
  const none = { variance: 0, degreesOfFreedom: 0 };
  return {
    readings:
      poolOf(
        days.map((day) => ({
          squares: (day.readingCount - 1) * day.standardDeviation ** 2,
          degrees: day.readingCount - 1,
        })),
      ) ?? none,
    days: poolOf(runs.map((run) => spreadOf(run.days.map((day) => day.mean)))) ?? none,
    runs: poolOf(
      input.artefacts.map((artefact) =>
        spreadOf(artefact.runs.map((run) => meanOf(run.days.map((day) => day.mean)))),
      ),
    ),
  };
}

function levelsWords(
  input: RepeatabilityLevelsInput,
  output: Omit<RepeatabilityLevelsOutput, 'words'>,
): string {
  const { unit } = input;
  const runs =
    output.runComponent === null ? '' : `, runs add ${measured(output.runComponent, unit)}`;
  return `Readings of one day scatter by ${measured(output.readings.standardDeviation, unit)}; from day to day ${measured(output.dayComponent, unit)} comes on top${runs}. A mean of ${input.reportedReadingCount} readings of one day has a standard uncertainty of ${measured(output.reportedStandardUncertainty, unit)} with ${inWords(output.reportedDegreesOfFreedom)} degrees of freedom.`;
}

/**
 * Repeatability of a gauge over time, from stable check pieces measured on several days of several
 * runs: what scatters within a day, from day to day, and from run to run.
 *
 * Formula: s₁² pooled variance of the readings of a day; s₂² pooled variance of day means within runs; s₃²
 * pooled variance of run means within check pieces. With J readings a day and K days a run, days alone s₂²
 * − s₁²/J, runs alone s₃² − s₂²/K, 0 where negative. A mean of m readings of one day: runs + days + s₁²/m.
 *
 * @param input check pieces with runs, days and their means and standard deviations in one unit; readings
 *   in a reported mean; confidence in %
 * @returns the three levels with exact intervals, components, standard uncertainty and its degrees of
 *   freedom, not rounded
 * Validity: normal; equal numbers of readings and of days, or nearly so (harmonic means stand for
 * them). See reference/gauge-studies.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 2.4.4 and 2.5.3; F. E. Satterthwaite (1946)
 * @example repeatabilityLevels(repeatabilityLevelsCalculation.example).readings.standardDeviation // 0.07871435
 */
export function repeatabilityLevels(input: RepeatabilityLevelsInput): RepeatabilityLevelsOutput {
  const { readings, days, runs } = pooledLevels(input);
  const allRuns = input.artefacts.flatMap((artefact) => artefact.runs);
  const allDays = allRuns.flatMap((run) => run.days);
  const perDay = harmonicMean(allDays.map((day) => day.readingCount));
  const perRun = harmonicMean(allRuns.map((run) => run.days.length));
  const dayVariance = Math.max(0, days.variance - readings.variance / perDay);
  const runVariance = runs ? Math.max(0, runs.variance - days.variance / perRun) : 0;
  const own = readings.variance / input.reportedReadingCount;
  const reported = runVariance + dayVariance + own;
  const term = (coefficient: number, pooled: Pooled) => ({
    coefficient,
    meanSquare: pooled.variance,
    degreesOfFreedom: pooled.degreesOfFreedom,
  });
  // Mean squares as they enter the sum: a component set to 0 takes its mean squares out.
  const dayPart = dayVariance > 0 ? 1 : 0;
  const runPart = runVariance > 0 ? 1 : 0;
  const terms = [
    ...(runs && runPart ? [term(1, runs)] : []),
    term(dayPart - runPart / perRun, days),
    term(1 / input.reportedReadingCount - dayPart / perDay, readings),
  ].filter((one) => Math.abs(one.coefficient) > 1e-12);
  const confidence = input.confidencePercent / 100;
  const output = {
    readings: levelOf(readings, confidence),
    days: levelOf(days, confidence),
    runs: runs ? levelOf(runs, confidence) : null,
    dayComponent: Math.sqrt(dayVariance),
    runComponent: runs ? Math.sqrt(runVariance) : null,
    readingsPerDay: perDay,
    daysPerRun: perRun,
    reportedStandardUncertainty: Math.sqrt(reported),
    reportedDegreesOfFreedom: satterthwaiteDegreesOfFreedom(terms),
  };
  return { ...output, words: levelsWords(input, output) };
}

function drawLevels(input: RepeatabilityLevelsInput): Chart[] {
  const [artefact] = input.artefacts;
  const days = artefact?.runs.flatMap((run, index) =>
    run.days.map((day) => ({ ...day, run: index })),
  );
  return [
    {
      kind: 'chart',
      title: `Means of days: ${artefact?.name ?? ''}`,
      xTitle: 'Day in order',
      yTitle: `${input.characteristic}, ${input.unit}`,
      series: (artefact?.runs ?? []).slice(0, 6).map((run, index) => {
        const chosen = (days ?? []).flatMap((day, at) =>
          day.run === index ? [{ ...day, x: at + 1 }] : [],
        );
        return {
          label: run.name,
          kind: 'points' as const,
          x: chosen.map((day) => day.x),
          y: chosen.map((day) => day.mean),
          lower: chosen.map((day) => day.mean - day.standardDeviation),
          upper: chosen.map((day) => day.mean + day.standardDeviation),
        };
      }),
    },
  ];
}

/** Mean and standard deviation of six readings on six days of two runs, one wafer and one probe. */
const waferRuns = [
  [
    [96.0771, 0.1024],
    [95.9976, 0.0943],
    [96.0148, 0.0622],
    [96.0397, 0.0702],
    [96.0407, 0.0627],
    [96.0445, 0.0622],
  ],
  [
    [96.0793, 0.0996],
    [96.1115, 0.0533],
    [96.0803, 0.0364],
    [96.0411, 0.0768],
    [96.0988, 0.1042],
    [96.0482, 0.0868],
  ],
] as const;

export const repeatabilityLevelsCalculation = defineCalculation<
  RepeatabilityLevelsInput,
  RepeatabilityLevelsOutput
>({
  id: 'repeatability-levels',
  version: 1,
  topic: 'control',
  title: 'Repeatability over days and runs',
  purpose:
    'How much a gauge scatters within a day, from day to day and from run to run, and what that means for a reported mean.',
  source:
    'NIST/SEMATECH e-Handbook of Statistical Methods, 2.4.4 and 2.5.3; F. E. Satterthwaite (1946)',
  input: repeatabilityLevelsInput,
  output: repeatabilityLevelsOutput,
  // e-Handbook 2.4.4.1: sum of squares 0.37176 with 60 degrees of freedom, s₁ 0.07871 ohm cm.
  example: {
    characteristic: 'Resistivity',
    unit: 'ohm cm',
    artefacts: [
      {
        name: 'Wafer 140',
        runs: waferRuns.map((days, index) => ({
          name: `Run ${index + 1}`,
          days: days.map(([mean, standardDeviation]) => ({
            mean,
            standardDeviation,
            readingCount: 6,
          })),
        })),
      },
    ],
    reportedReadingCount: 6,
    confidencePercent: 95,
  },
  compute: repeatabilityLevels,
  draw: drawLevels,
});
