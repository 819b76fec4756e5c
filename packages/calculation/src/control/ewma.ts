import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { controlPointOf, drawControlChart, numbersOutside } from './control-points.ts';
import { ewmaAverageRunLength, settledEwmaDeviation } from './ewma-run-length.ts';
import { type EwmaInput, type EwmaOutput, ewmaInput, ewmaOutput } from './ewma-schema.ts';
import { tellableRunLength } from './run-length-kernel.ts';
import { namePoints } from './run-signals.ts';

export { type EwmaInput, type EwmaOutput, ewmaInput, ewmaOutput } from './ewma-schema.ts';

function describe(output: Omit<EwmaOutput, 'words'>): string {
  const runLength = output.inControlAverageRunLength?.toPrecision(3) ?? 'more than 10^12';
  const rate = `In control the average crosses limits of the long run every ${runLength} values on average.`;
  const level = `The weighted average now stands at ${Number(output.latestAverage.toPrecision(6))}.`;
  if (output.outside.length === 0) return `No signal. ${level} ${rate}`;
  const sides = new Set(
    output.points.filter((one) => one.position !== 'inside').map((one) => one.position),
  );
  const where = sides.size > 1 ? 'outside' : sides.has('above') ? 'above' : 'below';
  return `${namePoints(output.outside)} ${where} the limits: the level has moved. ${level} ${rate}`;
}

/**
 * Chart of exponentially weighted moving averages: each value counts a little less than the next, so
 * that small lasting shifts show and single strays fade.
 *
 * Formula: zₙ = λ·xₙ + (1 − λ)·zₙ₋₁ from the target; limits target ± L·σ·√(λ/(2 − λ)·(1 − (1 − λ)²ⁿ)), in the
 * long run without the last factor.
 *
 * @param input values in the order of time; target; standard deviation of a plotted value; λ from 0.005
 *   to 1; L above 0 to 6; kind of limits
 * @returns averages with limits, those outside, average run length in control; nothing rounded but words
 * Validity: independent values, nearly normal for the run length; little harm from other shapes with
 * λ of 0.1 or less. See reference/control-charts.
 * Source: S. W. Roberts (1959), Technometrics 1, 239-250; J. M. Lucas and M. S. Saccucci (1990),
 * Technometrics 32, 1-12; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4
 * @example ewma({ values: [52, 47, 53], target: 50, standardDeviation: 2.0539, smoothing: 0.3,
 *   limitFactor: 3, limits: 'asymptotic' }).points[2].value // 50.564
 */
export function ewma(input: EwmaInput): EwmaOutput {
  const { target, smoothing, limitFactor } = input;
  const settledWidth = limitFactor * input.standardDeviation * settledEwmaDeviation(smoothing);
  let average = target;
  const points = input.values.map((value, index) => {
    average = smoothing * value + (1 - smoothing) * average;
    // 1 − (1 − λ)²ⁿ without the loss of digits at small λ; at λ = 1 the logarithm is infinite and the share 1.
    const share = -Math.expm1(2 * (index + 1) * Math.log1p(-smoothing));
    const width = input.limits === 'exact' ? settledWidth * Math.sqrt(share) : settledWidth;
    return controlPointOf({
      number: index + 1,
      value: average,
      centreLine: target,
      lowerLimit: target - width,
      upperLimit: target + width,
    });
  });
  const output = {
    points,
    asymptoticLowerLimit: target - settledWidth,
    asymptoticUpperLimit: target + settledWidth,
    outside: numbersOutside(points),
    latestAverage: average,
    inControlAverageRunLength: tellableRunLength(
      ewmaAverageRunLength({ smoothing, limitFactor, sides: 'two' }, 0),
    ),
  };
  return { ...output, words: describe(output) };
}

function drawEwma(_: EwmaInput, output: EwmaOutput): Chart[] {
  return [
    drawControlChart({
      title: 'Weighted averages',
      yTitle: 'Average',
      points: output.points,
      signals: [],
      phaseOneCount: null,
    }),
  ];
}

export const ewmaCalculation = defineCalculation({
  id: 'ewma',
  version: 1,
  topic: 'control',
  title: 'Chart of weighted averages',
  purpose:
    'Whether a level has moved a little and stayed there, shown as a smooth line that a person can follow: exponentially weighted moving averages.',
  source:
    'S. W. Roberts (1959), Technometrics 1; J. M. Lucas and M. S. Saccucci (1990), Technometrics 32; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4',
  input: ewmaInput,
  output: ewmaOutput,
  // Twenty periods, NIST/SEMATECH handbook 6.3.2.4: limits 47.4115 to 52.5884, no signal.
  example: {
    values: [
      52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6,
      52.4, 53.6, 52.1,
    ],
    target: 50,
    standardDeviation: 2.0539,
    smoothing: 0.3,
    limitFactor: 3,
    limits: 'asymptotic',
  },
  compute: ewma,
  draw: drawEwma,
});
