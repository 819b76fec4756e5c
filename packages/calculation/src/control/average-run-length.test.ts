import { describe, expect, it } from 'vitest';
import { type AverageRunLengthInput, averageRunLength } from './average-run-length.ts';
import { cusumAverageRunLength } from './cusum-run-length.ts';
import { ewmaAverageRunLength } from './ewma-run-length.ts';
import { limitForRunLength, shewhartAverageRunLength } from './run-length-design.ts';
import { runRulesAverageRunLengths } from './run-rule-chain.ts';

const cusumChart = {
  kind: 'cusum' as const,
  sides: 'two' as const,
  referenceValue: 0.5,
  headstartFraction: 0,
};
const base: AverageRunLengthInput = {
  chart: cusumChart,
  limit: { by: 'value', value: 4 },
  startingState: 'zero',
  shifts: [0, 1],
};

describe('average run length', () => {
  it('meets the wanted run length in control, chart by chart', () => {
    for (const chart of [
      cusumChart,
      { ...cusumChart, headstartFraction: 0.5 },
      { kind: 'ewma' as const, sides: 'one' as const, smoothing: 0.1 },
      { kind: 'shewhart' as const, sides: 'one' as const, rules: [] },
      {
        kind: 'shewhart' as const,
        sides: 'two' as const,
        rules: ['western-electric-2' as const],
      },
    ]) {
      const output = averageRunLength({
        ...base,
        chart,
        limit: { by: 'in-control-run-length', runLength: 200 },
      });
      expect(output.inControlAverageRunLength).toBeCloseTo(200, 5);
    }
  });

  it('is 370.398 for three sigma both ways, twice that for one side', () => {
    const two = shewhartAverageRunLength({ limitFactor: 3, sides: 'two', rules: [] }, 0);
    // 1/0.0026997960632601866, the two tails of three standard deviations.
    expect(two).toBeCloseTo(370.39834734, 7);
    const one = shewhartAverageRunLength({ limitFactor: 3, sides: 'one', rules: [] }, 0);
    expect(one).toBeCloseTo(2 * two, 8);
  });

  it('a weighted average with λ = 1 is a Shewhart chart', () => {
    for (const shift of [0, 0.5, 2]) {
      const average = ewmaAverageRunLength({ smoothing: 1, limitFactor: 3, sides: 'two' }, shift);
      const plain = shewhartAverageRunLength({ limitFactor: 3, sides: 'two', rules: [] }, shift);
      expect(average / plain).toBeCloseTo(1, 9);
    }
  });

  it('a cumulative sum of tiny interval signals as a one-sided chart at k does', () => {
    const sum = cusumAverageRunLength(
      { referenceValue: 2, decisionInterval: 1e-6, sides: 'one' },
      0,
    );
    const plain = shewhartAverageRunLength({ limitFactor: 2, sides: 'one', rules: [] }, 0);
    expect(sum / plain).toBeCloseTo(1, 4);
  });

  it('gives the second road where there is one, and none otherwise', () => {
    const zero = averageRunLength(base);
    expect((zero.inControlByMarkovChain ?? 0) / zero.inControlAverageRunLength).toBeCloseTo(1, 4);
    expect(
      averageRunLength({ ...base, startingState: 'steady' }).inControlByMarkovChain,
    ).toBeNull();
    const chart = { kind: 'shewhart' as const, sides: 'two' as const, rules: [] };
    expect(
      averageRunLength({ ...base, chart, limit: { by: 'value', value: 3 } }).inControlByMarkovChain,
    ).toBeNull();
  });

  it('says both figures that matter', () => {
    expect(averageRunLength(base).words).toBe(
      'A cumulative sum chart with decision interval 4.000 gives a false alarm every 168 plotted values on average. It needs on average 8.38 for a shift of 1 standard deviation(s) to be found.',
    );
  });
});

describe('refusals', () => {
  const refused = (change: Partial<AverageRunLengthInput>): (() => unknown) => {
    return () => averageRunLength({ ...base, ...change });
  };

  it('a headstart in the steady state', () => {
    const chart = { ...cusumChart, headstartFraction: 0.5 };
    expect(refused({ chart, startingState: 'steady' })).toThrow('0 in the steady state');
  });

  it('a limit at which alarms never come, and a shift at which none comes', () => {
    expect(refused({ limit: { by: 'value', value: 40 } })).toThrow('limit is 40');
    const chart = { ...cusumChart, sides: 'one' as const };
    expect(refused({ chart, shifts: [-5] })).toThrow('shifts is -5');
  });

  it('a run length that no limit gives', () => {
    const chart = { ...cusumChart, referenceValue: 3 };
    expect(refused({ chart, limit: { by: 'in-control-run-length', runLength: 2 } })).toThrow(
      'or more for this chart',
    );
    const rules = ['western-electric-4' as const];
    expect(
      refused({
        chart: { kind: 'shewhart', sides: 'two', rules },
        limit: { by: 'in-control-run-length', runLength: 1000 },
      }),
    ).toThrow('a run length up to 255.0');
    expect(() => limitForRunLength((limit) => limit, 1e9, [1, 50])).toThrow('up to 50.00');
  });

  it('rules of trend and zigzag, and rules on one side', () => {
    const limit = { by: 'value' as const, value: 3 };
    const chart = { kind: 'shewhart' as const, sides: 'two' as const };
    expect(refused({ limit, chart: { ...chart, rules: ['nelson-3'] } })).toThrow(
      'trends and zigzags',
    );
    expect(refused({ limit, chart: { ...chart, sides: 'one', rules: ['nelson-2'] } })).toThrow(
      'they watch both sides',
    );
  });

  it('limits outside the range of a chart', () => {
    const rules = ['nelson-2' as const];
    const limit = { by: 'value' as const, value: 7 };
    expect(refused({ limit, chart: { kind: 'shewhart', sides: 'two', rules: [] } })).toThrow(
      'up to 6',
    );
    expect(refused({ limit, chart: { kind: 'ewma', sides: 'two', smoothing: 0.2 } })).toThrow(
      'up to 6',
    );
    expect(() =>
      runRulesAverageRunLengths({ rules, limitFactor: 2, shifts: [0], state: 'zero' }),
    ).toThrow('above 2');
  });

  it.each([
    [{ referenceValue: -1, decisionInterval: 4 }, 'referenceValue'],
    [{ referenceValue: 0.5, decisionInterval: 61 }, 'decisionInterval'],
    [{ referenceValue: 0.5, decisionInterval: 4, headstart: 5 }, 'headstart'],
  ])('cusumAverageRunLength with %j names %s', (options, field) => {
    expect(() => cusumAverageRunLength({ ...options, sides: 'one' }, 0)).toThrow(field);
  });

  it('shifts beyond ten deviations', () => {
    expect(() =>
      cusumAverageRunLength({ referenceValue: 0.5, decisionInterval: 4, sides: 'one' }, 11),
    ).toThrow('from -10 to 10');
    expect(() =>
      ewmaAverageRunLength({ smoothing: 0.1, limitFactor: 3, sides: 'two' }, 11),
    ).toThrow('from -10 to 10');
    expect(() => shewhartAverageRunLength({ limitFactor: 3, sides: 'two', rules: [] }, 11)).toThrow(
      'from -10 to 10',
    );
  });

  it('a smoothing outside its range', () => {
    expect(() => ewmaAverageRunLength({ smoothing: 0, limitFactor: 3, sides: 'two' }, 0)).toThrow(
      'from 0.005 to 1',
    );
  });
});
