import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { cusumAverageRunLength } from './cusum-run-length.ts';
import { type CusumInput, type CusumOutput, cusumInput, cusumOutput } from './cusum-schema.ts';
import { tellableRunLength } from './run-length-kernel.ts';
import { vMaskOfTabular } from './v-mask.ts';

export { type CusumInput, type CusumOutput, cusumInput, cusumOutput } from './cusum-schema.ts';

/** Sums after each value, with the number of values since each was last at 0. */
interface ArmStep {
  readonly sum: number;
  readonly length: number;
}

function followArm(deviations: readonly number[], input: CusumInput): ArmStep[] {
  let sum = input.headstart;
  let length = 0;
  return deviations.map((deviation) => {
    sum = Math.max(0, sum + deviation - input.referenceValue);
    length = sum > 0 ? length + 1 : 0;
    return { sum, length };
  });
}

/** Mean since the change: the reference value plus the mean climb of the sum since it left 0. */
function estimatedMean(
  input: CusumInput,
  step: ArmStep,
  number: number,
  direction: 1 | -1,
): number {
  // A sum that never came back to 0 started from the headstart.
  const start = step.length === number ? input.headstart : 0;
  const climb = input.referenceValue + (step.sum - start) / step.length;
  return input.target + direction * input.standardDeviation * climb;
}

function armSignals(
  arm: readonly ArmStep[],
  input: CusumInput,
  side: 'high' | 'low',
): CusumOutput['signals'] {
  const signals: CusumOutput['signals'] = [];
  arm.forEach((step, index) => {
    if (step.sum <= input.decisionInterval) return;
    const open = signals[signals.length - 1];
    if (open && open.lastNumber === index) {
      open.lastNumber = index + 1;
      open.estimatedMean = estimatedMean(input, step, index + 1, side === 'high' ? 1 : -1);
      return;
    }
    signals.push({
      side,
      firstNumber: index + 1,
      lastNumber: index + 1,
      changePoint: index + 2 - step.length,
      estimatedMean: estimatedMean(input, step, index + 1, side === 'high' ? 1 : -1),
    });
  });
  return signals;
}

function maskOf(input: CusumInput): CusumOutput['mask'] {
  if (input.headstart > 0 || input.referenceValue === 0) return null;
  const mask = vMaskOfTabular(input);
  return { ...mask, halfWidthAtLastValue: mask.leadDistanceValues * mask.slopePerValue };
}

function describe(output: Omit<CusumOutput, 'words'>): string {
  const runLength = output.inControlAverageRunLength?.toPrecision(3) ?? 'more than 10^12';
  const rate = `In control it gives a false alarm every ${runLength} values on average.`;
  if (output.signals.length === 0) return `No signal: the level has held to the target. ${rate}`;
  const told = output.signals.slice(0, 4).map((signal) => {
    const which =
      signal.firstNumber === signal.lastNumber
        ? `Value ${signal.firstNumber} signals`
        : `Values ${signal.firstNumber} to ${signal.lastNumber} signal`;
    return `${which} a ${signal.side === 'high' ? 'higher' : 'lower'} level, most likely since value ${signal.changePoint}, about ${Number(signal.estimatedMean.toPrecision(6))} since then.`;
  });
  const more = output.signals.length > 4 ? ` ${output.signals.length - 4} more signals.` : '';
  return `${told.join(' ')}${more} ${rate}`;
}

/**
 * Cumulative sum chart: small lasting shifts add up until they show. Each sum gathers what exceeds
 * the reference value on its side; beyond the decision interval it signals and tells since when.
 *
 * Formula: with z = (x − target)/σ, Cₙ⁺ = max(0, Cₙ₋₁⁺ + zₙ − k), Cₙ⁻ = max(0, Cₙ₋₁⁻ − zₙ − k), both from the
 * headstart; signal when above h. The change lies after the last value at which the sum was 0; mean
 * since then target ± σ·(k + C/N) over the N values since. The sums go on after a signal.
 *
 * @param input values in the order of time; target and standard deviation of a plotted value; k from 0
 *   to 10, h above 0 to 60, headstart from 0 to h, in standard deviations
 * @returns sums in standard deviations, signals with change point and mean, the V-mask that signals
 *   the same, average run length in control; nothing rounded but words
 * @throws DomainError for a headstart above the decision interval
 * Validity: independent, nearly normal values. See reference/control-charts.
 * Source: E. S. Page (1954), Biometrika 41, 100-115; J. M. Lucas and R. B. Crosier (1982),
 * Technometrics 24, 199-205; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3
 * @example cusum({ values: [0.3, -0.8, 1.1, 0.9, 1.6, 0.2, 1.4, 2], target: 0, standardDeviation: 1,
 *   referenceValue: 0.5, decisionInterval: 4, headstart: 0 }).points[7].upperSum // 4.2
 */
export function cusum(input: CusumInput): CusumOutput {
  const { referenceValue, decisionInterval, headstart } = input;
  requireDomain(headstart <= decisionInterval, {
    field: 'headstart',
    value: headstart,
    accepted: `a number from 0 to the decision interval ${decisionInterval}`,
  });
  const deviations = input.values.map((value) => (value - input.target) / input.standardDeviation);
  const upper = followArm(deviations, input);
  const lower = followArm(
    deviations.map((deviation) => -deviation),
    input,
  );
  let cumulativeSum = 0;
  const points = deviations.map((deviation, index) => {
    cumulativeSum += deviation * input.standardDeviation;
    return {
      number: index + 1,
      upperSum: upper[index]?.sum ?? 0,
      lowerSum: lower[index]?.sum ?? 0,
      cumulativeSum,
    };
  });
  const output = {
    points,
    signals: [...armSignals(upper, input, 'high'), ...armSignals(lower, input, 'low')],
    mask: maskOf(input),
    inControlAverageRunLength: tellableRunLength(
      cusumAverageRunLength({ referenceValue, decisionInterval, headstart, sides: 'two' }, 0),
    ),
  };
  return { ...output, words: describe(output) };
}

function drawCusum(input: CusumInput, output: CusumOutput): Chart[] {
  const h = input.decisionInterval;
  const numbers = output.points.map((point) => point.number);
  const high = output.points.filter((point) => point.upperSum > h);
  const low = output.points.filter((point) => point.lowerSum > h);
  const beyond = [
    ...high.map((point) => ({ x: point.number, y: point.upperSum })),
    ...low.map((point) => ({ x: point.number, y: -point.lowerSum })),
  ];
  return [
    {
      kind: 'chart',
      title: 'Cumulative sums',
      xTitle: 'Value',
      yTitle: 'Sum, standard deviations',
      series: [
        { label: 'upper', kind: 'line', x: numbers, y: output.points.map((one) => one.upperSum) },
        { label: 'lower', kind: 'line', x: numbers, y: output.points.map((one) => -one.lowerSum) },
        ...(beyond.length > 0
          ? [
              {
                label: 'signal',
                kind: 'points' as const,
                x: beyond.map((one) => one.x),
                y: beyond.map((one) => one.y),
                standsOut: true,
              },
            ]
          : []),
      ],
      levels: [
        { y: h, label: 'decision interval' },
        { y: -h, label: 'decision interval' },
      ],
      marks: output.signals
        .slice(0, 3)
        .map((signal) => ({ x: signal.changePoint - 0.5, label: 'change' })),
    },
  ];
}

export const cusumCalculation = defineCalculation({
  id: 'cusum',
  version: 1,
  topic: 'control',
  title: 'Cumulative sum chart',
  purpose:
    'Whether a level has moved a little and stayed there, since when and how far: a slow drift of a balance, a furnace or a press.',
  source:
    'E. S. Page (1954), Biometrika 41; J. M. Lucas and R. B. Crosier (1982), Technometrics 24; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3',
  input: cusumInput,
  output: cusumOutput,
  // Twenty group means, NIST/SEMATECH handbook 6.3.2.3: the high side signals from group 14 on.
  example: {
    values: [
      324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625,
      325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
    ],
    target: 325,
    standardDeviation: 1,
    referenceValue: 0.3175,
    decisionInterval: 4.1959,
    headstart: 0,
  },
  compute: cusum,
  draw: drawCusum,
});
