import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import {
  type AverageRunLengthInput,
  type AverageRunLengthOutput,
  averageRunLengthInput,
  averageRunLengthOutput,
} from './average-run-length-schema.ts';
import { cusumAverageRunLengths } from './cusum-run-length.ts';
import { ewmaAverageRunLengths } from './ewma-run-length.ts';
import {
  cusumDecisionInterval,
  ewmaLimitFactor,
  shewhartAverageRunLengths,
  shewhartLimitFactor,
} from './run-length-design.ts';
import { greatestRunLength, tellableRunLength } from './run-length-kernel.ts';
import { cusumRunLengthByMarkovChain, ewmaRunLengthByMarkovChain } from './run-length-markov.ts';

export {
  type AverageRunLengthInput,
  type AverageRunLengthOutput,
  averageRunLengthInput,
  averageRunLengthOutput,
} from './average-run-length-schema.ts';

type ChartDesign = AverageRunLengthInput['chart'];

function limitOf({ chart, limit }: AverageRunLengthInput): number {
  if (limit.by === 'value') return limit.value;
  if (chart.kind === 'cusum') return cusumDecisionInterval(chart, limit.runLength);
  if (chart.kind === 'ewma') return ewmaLimitFactor(chart, limit.runLength);
  return shewhartLimitFactor(chart, limit.runLength);
}

const cusumWith = (chart: Extract<ChartDesign, { kind: 'cusum' }>, limit: number) => ({
  referenceValue: chart.referenceValue,
  decisionInterval: limit,
  headstart: chart.headstartFraction * limit,
  sides: chart.sides,
});

function runLengthsAt(
  input: AverageRunLengthInput,
  limit: number,
  shifts: readonly number[],
): number[] {
  return computedRunLengths(input, limit, shifts).map((computed, index) => {
    const runLength = tellableRunLength(computed);
    const shift = shifts[index];
    requireDomain(runLength !== null, {
      field: shift === 0 ? 'limit' : 'shifts',
      value: shift === 0 ? limit : shift,
      accepted: `a value at which the chart signals within ${greatestRunLength} plotted values`,
    });
    return runLength;
  });
}

function computedRunLengths(
  input: AverageRunLengthInput,
  limit: number,
  shifts: readonly number[],
): number[] {
  const { chart, startingState: state } = input;
  if (chart.kind === 'cusum') return cusumAverageRunLengths(cusumWith(chart, limit), shifts, state);
  const { sides } = chart;
  if (chart.kind === 'ewma') {
    const { smoothing } = chart;
    return ewmaAverageRunLengths({ smoothing, limitFactor: limit, sides }, shifts, state);
  }
  const { rules } = chart;
  return shewhartAverageRunLengths({ limitFactor: limit, sides, rules }, shifts, state);
}

/** Enough for four figures, and fast: the cumulative sum has the cheaper matrix. */
const cusumStates = 400;
const ewmaStates = 201;

function byMarkovChain({ chart, startingState }: AverageRunLengthInput, limit: number) {
  if (startingState === 'steady' || chart.kind === 'shewhart') return null;
  if (chart.kind === 'cusum') {
    return cusumRunLengthByMarkovChain(cusumWith(chart, limit), 0, cusumStates);
  }
  const { smoothing, sides } = chart;
  return ewmaRunLengthByMarkovChain({ smoothing, limitFactor: limit, sides }, 0, ewmaStates);
}

const figures = (value: number): string =>
  value >= 100 ? value.toFixed(0) : Number(value.toPrecision(3)).toString();

const chartNames = {
  shewhart: 'A Shewhart chart',
  cusum: 'A cumulative sum chart',
  ewma: 'A chart of weighted averages',
};

function describe(
  input: AverageRunLengthInput,
  output: Omit<AverageRunLengthOutput, 'words'>,
): string {
  const { chart } = input;
  const limits =
    chart.kind === 'cusum'
      ? `decision interval ${output.limit.toFixed(3)}`
      : `limits at ${output.limit.toFixed(3)} standard deviations`;
  const found = output.runLengths
    .filter((one) => one.shift !== 0)
    .map((one) => `${figures(one.averageRunLength)} for a shift of ${one.shift}`);
  const shifted =
    found.length === 0
      ? ''
      : ` It needs on average ${found.slice(0, 4).join(', ')} standard deviation(s) to be found.`;
  return `${chartNames[chart.kind]} with ${limits} gives a false alarm every ${figures(output.inControlAverageRunLength)} plotted values on average.${shifted}`;
}

/**
 * How long a control chart runs until it signals: between false alarms when nothing is wrong, and
 * until a shift of a given size is found; or the limits that give a wanted rate of false alarms.
 *
 * Formula: Shewhart 1/p, with run rules by the chain of the rules; cumulative sums and weighted
 * averages by the integral equation at the nodes of Gauss and Legendre, see
 * `cusumAverageRunLength`, `ewmaAverageRunLength` and `shewhartAverageRunLength`. A wanted run length
 * in control is met by root finding on the limit, always for a chart that starts with the shift.
 *
 * @param input chart with its parameters; limit by value or by the run length wanted (2 to 1e7);
 *   starting state; 1 to 40 shifts from -10 to 10 standard deviations of a plotted value
 * @returns limit in standard deviations, run lengths in plotted values, not rounded
 * @throws DomainError for a limit outside the range of the chart, a run length that no limit gives,
 *   run rules of trend or zigzag or on one side, a headstart in the steady state
 * Validity: independent normal values with known standard deviation; relative accuracy about 1e-9 up to
 * run lengths of 1e6. Limits estimated from little data make the true run length uncertain. See
 * reference/average-run-length.
 * Source: D. Brook and D. A. Evans (1972), Biometrika 59, 539-549; J. M. Lucas and R. B. Crosier
 * (1982), Technometrics 24, 199-205; S. V. Crowder (1987), Technometrics 29, 401-407; C. W. Champ and
 * W. H. Woodall (1987), Technometrics 29, 393-399
 * @example averageRunLength({ chart: { kind: 'cusum', sides: 'one', referenceValue: 0.5,
 *   headstartFraction: 0 }, limit: { by: 'value', value: 4 }, startingState: 'zero',
 *   shifts: [1] }).runLengths[0].averageRunLength // 8.3832
 */
export function averageRunLength(input: AverageRunLengthInput): AverageRunLengthOutput {
  const { chart } = input;
  requireDomain(
    chart.kind !== 'cusum' || chart.headstartFraction === 0 || input.startingState === 'zero',
    {
      field: 'chart.headstartFraction',
      value: chart.kind === 'cusum' ? chart.headstartFraction : 0,
      accepted: '0 in the steady state, where the start is forgotten',
    },
  );
  const limit = limitOf(input);
  const [inControlAverageRunLength = 1, ...runLengths] = runLengthsAt(input, limit, [
    0,
    ...input.shifts,
  ]);
  const output = {
    limit,
    inControlAverageRunLength,
    inControlByMarkovChain: byMarkovChain(input, limit),
    runLengths: input.shifts.map((shift, index) => ({
      shift,
      averageRunLength: runLengths[index] as number,
    })),
  };
  return { ...output, words: describe(input, output) };
}

const curvePoints = 24;

function drawAverageRunLength(
  input: AverageRunLengthInput,
  output: AverageRunLengthOutput,
): Chart[] {
  const reach = Math.max(3, ...input.shifts.map(Math.abs));
  const shifts = Array.from(
    { length: curvePoints + 1 },
    (_, index) => (reach * index) / curvePoints,
  );
  const wanted = output.runLengths.filter((one) => one.shift >= 0);
  const inControl = Math.log10(output.inControlAverageRunLength);
  return [
    {
      kind: 'chart',
      title: 'Average run length',
      xTitle: 'Shift of the mean, standard deviations',
      yTitle: 'Average run length, as power of ten',
      series: [
        {
          label: 'run length',
          kind: 'line',
          x: shifts,
          y: runLengthsAt(input, output.limit, shifts).map(Math.log10),
        },
        {
          label: 'asked',
          kind: 'points',
          x: wanted.map((one) => one.shift),
          y: wanted.map((one) => Math.log10(one.averageRunLength)),
        },
      ],
      levels: [{ y: inControl, label: `in control ${figures(output.inControlAverageRunLength)}` }],
    },
  ];
}

export const averageRunLengthCalculation = defineCalculation({
  id: 'average-run-length',
  version: 1,
  topic: 'control',
  title: 'Average run length of a chart',
  purpose:
    'How often a control chart gives a false alarm and how many values it needs to find a shift; or the limits that give a wanted rate of false alarms: Shewhart with run rules, cumulative sum, weighted average.',
  source:
    'E. S. Page (1954), Biometrika 41; D. Brook and D. A. Evans (1972), Biometrika 59; J. M. Lucas and R. B. Crosier (1982), Technometrics 24; S. V. Crowder (1987), Technometrics 29; C. W. Champ and W. H. Woodall (1987), Technometrics 29',
  input: averageRunLengthInput,
  output: averageRunLengthOutput,
  // Printed by the NIST/SEMATECH handbook, 6.3.2.3.1: 336 in control and 8.38 at one deviation.
  example: {
    chart: { kind: 'cusum', sides: 'one', referenceValue: 0.5, headstartFraction: 0 },
    limit: { by: 'value', value: 4 },
    startingState: 'zero',
    shifts: [0, 0.5, 1, 2],
  },
  compute: averageRunLength,
  draw: drawAverageRunLength,
});
