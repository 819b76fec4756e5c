import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import { fitStraightLine, lineAt, lineErrorsAt } from './straight-line.ts';
import {
  type WeightDriftInput,
  type WeightDriftOutput,
  weightDriftInput,
  weightDriftOutput,
} from './weight-drift-schema.ts';
import { likeliestJump } from './weight-jump.ts';

export {
  type WeightDriftInput,
  type WeightDriftOutput,
  weightDriftInput,
  weightDriftOutput,
} from './weight-drift-schema.ts';

const millisecondsPerYear = 365.25 * 86_400_000;

/** Years of 365.25 days from one date to another. */
function yearsBetween(from: string, to: string): number {
  return (Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / millisecondsPerYear;
}

/** Dates, times in years from the first and errors, in rising order of time. */
function orderedHistory(input: WeightDriftInput) {
  const ordered = input.history.toSorted((left, right) => left.date.localeCompare(right.date));
  const first = ordered[0]?.date ?? '';
  return {
    first,
    dates: ordered.map((one) => one.date),
    x: ordered.map((one) => yearsBetween(first, one.date)),
    y: ordered.map((one) => one.errorMilligrams),
  };
}

/** What a line through values foretells for one more value, with the half width of its interval. */
function foretell(x: readonly number[], y: readonly number[], at: number, levelPercent: number) {
  const line = fitStraightLine(x, y);
  const factor = coverageFactor(levelPercent / 100, line.degreesOfFreedom);
  return { value: lineAt(line, at), half: factor * lineErrorsAt(line, at).single };
}

/** The latest value against the line of the earlier ones; null when they cannot foretell it. */
function foretellLatest(x: readonly number[], y: readonly number[], levelPercent: number) {
  const earlier = x.slice(0, -1);
  if (earlier.length < 3 || new Set(earlier).size < 2) return null;
  return foretell(earlier, y.slice(0, -1), x.at(-1) ?? 0, levelPercent);
}

function weightDriftWords(input: WeightDriftInput, output: Omit<WeightDriftOutput, 'words'>) {
  const print = (value: number) => roundNumberText(value, 4, 'half-even');
  const drift = output.isDriftShown
    ? `The weight drifts by ${print(output.driftMilligramsPerYear)} mg a year (${print(output.driftLowerMilligramsPerYear)} to ${print(output.driftUpperMilligramsPerYear)} mg).`
    : `No drift is shown: ${print(output.driftMilligramsPerYear)} mg a year could be chance.`;
  const next = ` On ${input.nextDate} its error is foretold at ${print(output.nextErrorMilligrams)} mg, between ${print(output.nextLowerMilligrams)} and ${print(output.nextUpperMilligrams)} mg.`;
  const limit = {
    none: '',
    true: ` That keeps the limit of ${input.limitMilligrams} mg.`,
    false: ` That may break the limit of ${input.limitMilligrams} mg: calibrate earlier.`,
  }[String(output.isNextWithinLimit ?? 'none')];
  const latest =
    output.isLatestForeseen === false
      ? ' The latest value departs from what the earlier ones foretold: weigh again.'
      : '';
  const jump = output.isJumpShown
    ? ` A jump of ${print(output.jumpMilligrams ?? 0)} mg is shown before ${output.jumpDate}: look for damage or a change of method, and do not trust the line across it.`
    : '';
  return `${drift}${next}${limit}${latest}${jump}`;
}

/**
 * Drift of a check weight from its calibrations: straight line, what it foretells for the next
 * calibration, and whether the history jumps.
 *
 * Formula: least-squares line of error against time; drift ± t·s/√Sxx; next error ± t·s·√(1 + 1/n +
 * (x − x̄)²/Sxx), t of Student with n − 2 degrees of freedom. Jump as `likeliestJump`.
 *
 * @param input 3 to 1000 calibrations with date and error in mg, in any order; next date; level from
 *   50 % to 99.99 %; limit in mg
 * @returns drift in mg a year of 365.25 days with interval, foretold error with interval, jump test;
 *   null where too few calibrations are left for a figure
 * @throws DomainError when all dates are the same or the next date lies before the last one
 * Validity: calibrations of about equal uncertainty, independent residuals, no jump. The interval
 * foretells a calibration made like the others. See reference/nist-check-standard.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.5 (check standards) and 4.5.2 (single
 * future value); JCGM 100:2008, H.3
 * @example weightDrift({ history: [{ date: '2021-01-01', errorMilligrams: 0.01 },
 *   { date: '2022-01-01', errorMilligrams: 0.02 }, { date: '2023-01-01', errorMilligrams: 0.03 }],
 *   nextDate: '2024-01-01', levelPercent: 95 }).nextErrorMilligrams // 0.0400
 */
export function weightDrift(input: WeightDriftInput): WeightDriftOutput {
  const { first, dates, x, y } = orderedHistory(input);
  requireDomain(new Set(dates).size > 1, {
    field: 'history',
    value: `${dates.length} calibrations of ${first}`,
    accepted: 'calibrations at two different dates or more',
  });
  const last = dates.at(-1) ?? '';
  requireDomain(input.nextDate >= last, {
    field: 'nextDate',
    value: input.nextDate,
    accepted: `the date of the last calibration, ${last}, or a later one`,
  });
  const line = fitStraightLine(x, y);
  const factor = coverageFactor(input.levelPercent / 100, line.degreesOfFreedom);
  const driftHalf = (factor * line.residualStandardDeviation) / Math.sqrt(line.spreadX);
  const next = foretell(x, y, yearsBetween(first, input.nextDate), input.levelPercent);
  const latest = foretellLatest(x, y, input.levelPercent);
  const latestError = y.at(-1) ?? 0;
  const jump = likeliestJump(x, y);
  const limit = input.limitMilligrams;
  const output = {
    driftMilligramsPerYear: line.slope,
    driftLowerMilligramsPerYear: line.slope - driftHalf,
    driftUpperMilligramsPerYear: line.slope + driftHalf,
    isDriftShown: Math.abs(line.slope) > driftHalf,
    residualStandardDeviationMilligrams: line.residualStandardDeviation,
    nextErrorMilligrams: next.value,
    nextLowerMilligrams: next.value - next.half,
    nextUpperMilligrams: next.value + next.half,
    isNextWithinLimit: limit === undefined ? null : Math.abs(next.value) + next.half <= limit,
    latestErrorMilligrams: latestError,
    latestForetoldMilligrams: latest?.value ?? null,
    isLatestForeseen: latest ? Math.abs(latestError - latest.value) <= latest.half : null,
    jumpDate: jump ? (dates[jump.index] ?? null) : null,
    jumpMilligrams: jump?.size ?? null,
    jumpProbability: jump?.probability ?? null,
    isJumpShown: jump ? jump.probability < 1 - input.levelPercent / 100 : null,
  };
  return { ...output, words: weightDriftWords(input, output) };
}

function drawWeightDrift(input: WeightDriftInput): Chart[] {
  const { first, x, y } = orderedHistory(input);
  const end = yearsBetween(first, input.nextDate);
  const line = fitStraightLine(x, y);
  const factor = coverageFactor(input.levelPercent / 100, line.degreesOfFreedom);
  const grid = Array.from({ length: 41 }, (_, at) => (end * at) / 40);
  const values = grid.map((time) => lineAt(line, time));
  const halves = grid.map((time) => factor * lineErrorsAt(line, time).single);
  const limit = input.limitMilligrams;
  return [
    {
      kind: 'chart',
      title: 'History of the weight',
      xTitle: `Years since ${first}`,
      yTitle: 'Error, mg',
      series: [
        { label: 'calibrations', kind: 'points', x, y },
        {
          label: 'foretold',
          kind: 'line',
          x: grid,
          y: values,
          lower: values.map((value, at) => value - (halves[at] ?? 0)),
          upper: values.map((value, at) => value + (halves[at] ?? 0)),
        },
      ],
      marks: [{ x: end, label: 'next' }],
      levels:
        limit === undefined
          ? []
          : [
              { y: limit, label: 'limit' },
              { y: -limit, label: 'limit' },
            ],
    },
  ];
}

export const weightDriftCalculation = defineCalculation<WeightDriftInput, WeightDriftOutput>({
  id: 'weight-drift',
  version: 1,
  topic: 'mass',
  title: 'Drift of a check weight',
  purpose:
    'Shows from its calibrations whether a check weight drifts or has jumped, and foretells its error at the next calibration with an interval.',
  source:
    'NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.5 and 4.5.2; JCGM 100:2008, H.3; Bonferroni bound for the jump',
  input: weightDriftInput,
  output: weightDriftOutput,
  // Errors chosen; line and intervals also by scipy, see reference/generated/mass.
  example: {
    history: [
      { date: '2018-03-01', errorMilligrams: 0.012 },
      { date: '2019-03-04', errorMilligrams: 0.018 },
      { date: '2020-03-02', errorMilligrams: 0.019 },
      { date: '2021-03-01', errorMilligrams: 0.027 },
      { date: '2022-03-07', errorMilligrams: 0.03 },
      { date: '2023-03-06', errorMilligrams: 0.034 },
    ],
    nextDate: '2024-03-04',
    levelPercent: 95,
    limitMilligrams: 0.06,
  },
  compute: weightDrift,
  draw: drawWeightDrift,
});
