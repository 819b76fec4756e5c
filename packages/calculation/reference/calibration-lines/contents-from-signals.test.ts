import { describe, expect, it } from 'vitest';
import {
  type ContentsFromSignalsInput,
  contentsFromSignals,
} from '../../src/assay/contents-from-signals.ts';
import values from './values.json' with { type: 'json' };

type Inputs = Readonly<Record<string, unknown>>;

function caseOf(id: string) {
  const found = values.cases.find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  const expected = (name: string) => {
    const one = found.expected.find((each) => each.name === name);
    if (!one) throw new Error(`no figure ${name}`);
    return one;
  };
  return { inputs: found.inputs as Inputs, expected };
}

/** A published line read as standards and one solution of a run; its units stand for mg/kg and counts/s. */
function found(
  x: readonly number[],
  signals: readonly (readonly number[])[],
  sample: readonly number[],
  more: Partial<ContentsFromSignalsInput> = {},
) {
  const output = contentsFromSignals({
    element: 'Cu',
    weighting: 'equal',
    standards: x.map((content, index) => ({
      label: `${index}`,
      contentMilligramsPerKilogram: content,
      signals: [...(signals[index] ?? [])],
    })),
    standardRelativeUncertaintyPercent: 0,
    blankSignals: [],
    drift: [],
    solutions: [
      { label: 'A', readings: sample.map((signal, index) => ({ order: index + 1, signal })) },
    ],
    falseAlarmProbability: 0.05,
    ...more,
  });
  const [one] = output.solutions;
  if (!one) throw new Error('no content');
  return { ...output, one };
}

const within = (
  actual: number,
  { value, tolerance }: { readonly value: number; readonly tolerance: number },
) => expect(Math.abs(actual - value)).toBeLessThanOrEqual(tolerance);

const each = (values_: readonly number[]) => values_.map((one) => [one]);

describe('contents from signals against published calibration sets', () => {
  it('have the line, the interval and the limits of DIN 32645', () => {
    const { inputs, expected } = caseOf('din32645');
    const [x, y] = [inputs['x'] as number[], inputs['y'] as number[]];
    const { line, one } = found(x, each(y), [3500], { falseAlarmProbability: 0.01 });
    within(line.slope, expected('slope'));
    within(line.intercept, expected('intercept'));
    within(line.residualStandardDeviation, expected('s_y/x'));
    within(one.decisionLimitMilligramsPerKilogram, expected('critical value x'));
    within(one.detectionLimitMilligramsPerKilogram, expected('minimum detectable value'));
    // t(0.995; 8) = 3.355387, as in every table.
    within(
      3.355387331333395 * one.standardUncertaintyMilligramsPerKilogram,
      expected('half-width of x at y = 3500, 99 %'),
    );
  });

  it.each([15, 90])('have the content and interval of Massart at a signal of %d', (signal) => {
    const { inputs, expected } = caseOf(`massart7-${signal}-m1`);
    const { one } = found(inputs['x'] as number[], each(inputs['y'] as number[]), [signal]);
    within(one.contentMilligramsPerKilogram, expected('x0'));
    within(one.standardUncertaintyMilligramsPerKilogram, expected('s_x0'));
  });

  it('have the weighted content and interval of Massart, weights from the repeated signals', () => {
    const { inputs, expected } = caseOf('massart8-15');
    const series = inputs['y (5 series)'] as number[][];
    const x = inputs['x'] as number[];
    const signals = x.map((_, index) => series.map((one) => one[index] ?? 0));
    // The book gives the signal of the sample the weight of a mean of as many readings as a standard.
    const { one } = found(x, signals, [15, 15, 15, 15, 15], { weighting: 'relative' });
    within(one.contentMilligramsPerKilogram, expected('x0'));
    // t(0.975; 4) = 2.776445.
    within(
      2.7764451051977934 * one.standardUncertaintyMilligramsPerKilogram,
      expected('95 % half-width'),
    );
  });

  it('have the line and the contents of fluorescein, with one and with six readings', () => {
    const { inputs, expected } = caseOf('fluorescein-line');
    const [c, y] = [inputs['c'] as number[], inputs['intensity'] as number[]];
    const { line, one } = found(c, each(y), [13.5]);
    within(line.slope, expected('slope, more places'));
    within(line.intercept, expected('intercept, more places'));
    within(line.correlation ?? 0, expected('r'));
    within(one.contentMilligramsPerKilogram, caseOf('fluorescein-inverse-13.5').expected('x0'));
    const six = found(c, each(y), [13.5, 13.5, 13.5, 13.5, 13.5, 13.5]);
    within(
      six.one.standardUncertaintyMilligramsPerKilogram,
      caseOf('fluorescein-inverse-replicates').expected('s_x0, m = 6'),
    );
  });
});
