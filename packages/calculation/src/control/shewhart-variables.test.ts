import { describe, expect, it } from 'vitest';
import { controlConstants } from './control-constants.ts';
import {
  type ShewhartVariablesInput,
  shewhartVariables,
  shewhartVariablesCalculation,
} from './shewhart-variables.ts';

const subgroups = [
  [10, 12, 11],
  [11, 13, 9],
  [10, 11, 12],
  [12, 12, 15],
  [20, 22, 21],
];
const byRange: ShewhartVariablesInput = {
  data: { chart: 'mean-range', subgroups },
  limits: { from: 'data' },
  rules: [],
};

describe('charts of means', () => {
  it('limits are those of A2, D3 and D4', () => {
    const output = shewhartVariables(byRange);
    const { a2, d3Limit, d4Limit } = controlConstants(3);
    // Ranges 2, 4, 2, 3, 2: mean 2.6; means 11, 11, 11, 13, 21: mean 13.4.
    expect(output.centreLine).toBeCloseTo(13.4, 12);
    expect(output.location[0]?.upperLimit).toBeCloseTo(13.4 + (a2 ?? 0) * 2.6, 12);
    expect(output.spread[0]?.upperLimit).toBeCloseTo((d4Limit ?? 0) * 2.6, 12);
    expect(output.spread[0]?.lowerLimit).toBe((d3Limit ?? 1) * 2.6);
  });

  it('limits of phase one judge what comes after, and an excluded subgroup stays on the chart', () => {
    const output = shewhartVariables({ ...byRange, limits: { from: 'data', phaseOneCount: 4 } });
    expect(output).toMatchObject({ phaseOneCount: 4, centreLine: 11.5, locationOutside: [5] });
    expect(output.words).toContain('Point 5 outside the limits of the means.');
    const excluded = shewhartVariables({
      ...byRange,
      limits: { from: 'data', excludedNumbers: [5] },
    });
    expect(excluded.location).toHaveLength(5);
    expect(excluded.centreLine).toBe(11.5);
  });

  it('unequal subgroups have limits of their own, the larger ones narrower', () => {
    const output = shewhartVariables({
      data: {
        chart: 'mean-standard-deviation',
        subgroups: [...subgroups, [11, 12, 13, 12, 11, 12]],
      },
      limits: { from: 'data', phaseOneCount: 4 },
      rules: [],
    });
    expect(output.constants).toBeNull();
    const width = (index: number): number =>
      (output.location[index]?.upperLimit ?? 0) - output.centreLine;
    expect(width(0) / width(5)).toBeCloseTo(Math.sqrt(2), 12);
  });

  it('a given standard is used as it is, with B5 and B6 for standard deviations', () => {
    const output = shewhartVariables({
      data: { chart: 'mean-standard-deviation', subgroups },
      limits: { from: 'standard', mean: 12, standardDeviation: 2 },
      rules: [],
    });
    const { a, b5, b6 } = controlConstants(3);
    expect(output.location[0]?.lowerLimit).toBeCloseTo(12 - 2 * a, 12);
    expect(output.spread[0]?.lowerLimit).toBe(2 * b5);
    expect(output.spread[0]?.upperLimit).toBeCloseTo(2 * b6, 12);
    expect(output.phaseOneCount).toBeNull();
  });

  it('summaries give the same as their readings', () => {
    const limits = { from: 'data' as const };
    const readings = shewhartVariables({
      data: { chart: 'mean-standard-deviation', subgroups: subgroups.slice(0, 2) },
      limits,
      rules: [],
    });
    const summaries = [
      { mean: 11, standardDeviation: 1, sizePieces: 3 },
      { mean: 11, standardDeviation: 2, sizePieces: 3 },
    ];
    const summed = shewhartVariables({
      data: { chart: 'summaries', summaries },
      limits,
      rules: [],
    });
    expect(summed.location).toEqual(readings.location);
  });
});

describe('charts of single readings', () => {
  const individuals = (values: number[], change = {}) =>
    shewhartVariables({
      data: { chart: 'individuals', values },
      limits: { from: 'data' },
      rules: [],
      ...change,
    });

  it('has one moving range fewer than readings', () => {
    const output = individuals([1, 3, 2, 4]);
    expect(output.location.map((point) => point.number)).toEqual([1, 2, 3, 4]);
    expect(output.spread.map((point) => [point.number, point.value])).toEqual([
      [2, 2],
      [3, 1],
      [4, 2],
    ]);
  });

  it('a moving range counts for the limits only where both readings do', () => {
    const output = individuals([1, 2, 50, 2, 3], {
      limits: { from: 'data', excludedNumbers: [3] },
    });
    // The ranges 1 and 1 remain.
    expect(output.standardDeviation).toBeCloseTo(1 / (controlConstants(2).d2 ?? 1), 12);
    expect(output.locationOutside).toEqual([3]);
  });

  it('warns of correlated neighbours', () => {
    const drifting = Array.from({ length: 60 }, (_, index) => Math.sin(index / 8));
    expect(individuals(drifting).words).toContain('not to be trusted');
  });

  it('reports the run rules that are switched on, and only those', () => {
    const values = [
      0,
      1,
      0,
      -1,
      ...Array.from({ length: 9 }, (_, index) => 0.5 + 0.1 * (index % 2)),
    ];
    const limits = { from: 'standard', mean: 0, standardDeviation: 1 };
    expect(individuals(values, { limits, rules: ['nelson-2'] }).signals).toHaveLength(1);
    expect(individuals(values, { limits, rules: ['nelson-3'] }).signals).toEqual([]);
  });
});

describe('the drawing', () => {
  it('shows limits as levels, the end of phase one as a mark, and what is outside', () => {
    const input = { ...byRange, limits: { from: 'data' as const, phaseOneCount: 4 } };
    const [means] = shewhartVariablesCalculation.draw?.(input, shewhartVariables(input)) ?? [];
    if (means?.kind !== 'chart') throw new Error('no chart');
    expect(means.levels).toHaveLength(3);
    expect(means.marks).toEqual([{ x: 4.5, label: 'limits set' }]);
    const outside = means.series.find((series) => series.standsOut);
    expect(outside).toMatchObject({ x: [5], y: [21] });
  });

  it('shows limits that change as a band, and points of a run rule', () => {
    const input: ShewhartVariablesInput = {
      data: {
        chart: 'mean-standard-deviation',
        subgroups: [...Array.from({ length: 9 }, () => [0.1, 0.3]), [0, -0.2, 0.1]],
      },
      limits: { from: 'standard', mean: 0, standardDeviation: 1 },
      rules: ['nelson-2'],
    };
    const [means] = shewhartVariablesCalculation.draw?.(input, shewhartVariables(input)) ?? [];
    if (means?.kind !== 'chart') throw new Error('no chart');
    expect(means.levels).toBeUndefined();
    expect(means.series.map((series) => series.label)).toEqual(['limits', 'values', 'run rule']);
    expect(means.series[0]?.upper).toHaveLength(11);
  });
});

describe('refusals', () => {
  const refused = (change: Partial<ShewhartVariablesInput>) => () =>
    shewhartVariables({ ...byRange, ...change });

  it('subgroups of different size on a chart of ranges', () => {
    const data = {
      chart: 'mean-range' as const,
      subgroups: [
        [1, 2, 3],
        [1, 2],
      ],
    };
    expect(refused({ data })).toThrow('3 readings as in the first subgroup');
  });

  it('a phase one longer than the data', () => {
    expect(refused({ limits: { from: 'data', phaseOneCount: 6 } })).toThrow(
      'at most the 5 subgroups',
    );
  });

  it('exclusions that leave too little', () => {
    expect(refused({ limits: { from: 'data', excludedNumbers: [1, 2, 3, 4] } })).toThrow(
      'at least two subgroups',
    );
    const data = { chart: 'individuals' as const, values: [1, 2, 3] };
    expect(refused({ data, limits: { from: 'data', excludedNumbers: [2] } })).toThrow(
      'two neighbouring readings',
    );
  });

  it('no spread within the subgroups', () => {
    const data = {
      chart: 'mean-range' as const,
      subgroups: [
        [1, 1],
        [2, 2],
      ],
    };
    expect(refused({ data })).toThrow('fine enough to show a spread');
  });

  it('a probability limit on a chart of ranges', () => {
    expect(refused({ spreadAlarmProbability: 0.01 })).toThrow('chart of standard deviations');
  });
});
