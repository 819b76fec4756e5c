import { describe, expect, it } from 'vitest';
import { exactCountLimits, sigmaCountLimits } from './count-limits.ts';
import {
  type ShewhartAttributesInput,
  shewhartAttributes,
  shewhartAttributesCalculation,
} from './shewhart-attributes.ts';

const sigma = { kind: 'sigma' as const, limitFactor: 3 };
const counts: ShewhartAttributesInput = {
  data: { chart: 'c', nonconformities: [4, 2, 5, 3, 14, 4, 3] },
  limits: { from: 'standard', rate: 4 },
  limitKind: sigma,
  rules: [],
};

describe('charts of counts', () => {
  it('three-sigma limits of 4 faults are 0 and 10; exact ones at 0.0027 are 0 and 11', () => {
    // 4 + 3·2 = 10. P(X > 11) = 0.00092, P(X > 10) = 0.00284 for a Poisson mean of 4.
    expect(shewhartAttributes(counts).points[0]).toMatchObject({ lowerLimit: 0, upperLimit: 10 });
    const limitKind = { kind: 'probability' as const, falseAlarmProbability: 0.0027 };
    const exact = shewhartAttributes({ ...counts, limitKind });
    expect(exact.points[0]).toMatchObject({ lowerLimit: 0, upperLimit: 11 });
    expect(exact.outside).toEqual([5]);
    expect(exact.greatestFalseAlarmProbability).toBeCloseTo(0.00091523, 8);
  });

  it('tells how often a chart of few faults really cries wolf', () => {
    const output = shewhartAttributes(counts);
    expect(output.greatestFalseAlarmProbability).toBeCloseTo(0.0028398, 7);
    expect(output.lowerLimitWatches).toBe(false);
    expect(output.words).toContain('cannot show less');
  });

  it('samples of different size have limits of their own', () => {
    const samples = [
      { nonconformingPieces: 10, sizePieces: 100 },
      { nonconformingPieces: 90, sizePieces: 400 },
    ];
    const output = shewhartAttributes({
      data: { chart: 'p', samples },
      limits: { from: 'data' },
      limitKind: sigma,
      rules: [],
    });
    expect(output.centreLine).toBeCloseTo(0.2, 15);
    expect(output.points[0]?.upperLimit).toBeCloseTo(0.2 + 3 * 0.04, 12);
    expect(output.points[1]?.upperLimit).toBeCloseTo(0.2 + 3 * 0.02, 12);
  });

  it('rates for each unit', () => {
    const samples = [
      { nonconformities: 8, sizeUnits: 2 },
      { nonconformities: 4, sizeUnits: 0.5 },
    ];
    const output = shewhartAttributes({
      data: { chart: 'u', samples },
      limits: { from: 'standard', rate: 4 },
      limitKind: { kind: 'sigma', limitFactor: 2 },
      rules: [],
    });
    expect(output.points[0]).toMatchObject({ value: 4, centreLine: 4 });
    expect(output.points[0]?.upperLimit).toBeCloseTo(4 + 2 * Math.sqrt(2), 12);
    expect(output.points[1]).toMatchObject({ value: 8, position: 'inside' });
  });

  it('a count below its limit is told apart, and a phase one sets the limits', () => {
    const output = shewhartAttributes({
      data: { chart: 'np', sizePieces: 1000, nonconformingPieces: [100, 110, 90, 40] },
      limits: { from: 'data', phaseOneCount: 3 },
      limitKind: sigma,
      rules: [],
    });
    expect(output.centreLine).toBe(100);
    expect(output.words).toContain('Point 4 below the lower limit');
  });

  it('shows counts that scatter more than chance', () => {
    const data = { chart: 'c' as const, nonconformities: [2, 40, 3, 38, 4, 41] };
    const output = shewhartAttributes({ ...counts, data, limits: { from: 'data' } });
    expect(output.dispersionRatio).toBeGreaterThan(10);
    expect(output.words).toContain('differ among themselves');
  });

  it('run rules of sides and trends', () => {
    const data = { chart: 'c' as const, nonconformities: [5, 6, 7, 8, 9, 10] };
    const output = shewhartAttributes({ ...counts, data, rules: ['nelson-3', 'nelson-2'] });
    expect(output.signals.map((signal) => signal.rule)).toEqual(['nelson-3']);
  });

  it('draws one chart with what is outside', () => {
    const [chart] = shewhartAttributesCalculation.draw?.(counts, shewhartAttributes(counts)) ?? [];
    if (chart?.kind !== 'chart') throw new Error('no chart');
    expect(chart.series.find((series) => series.standsOut)).toMatchObject({ x: [5], y: [14] });
  });
});

describe('limits of counts', () => {
  it('a rare upper tail keeps its digits', () => {
    const { upper, falseAlarmProbability } = exactCountLimits({ kind: 'poisson', mean: 2 }, 1e-12);
    // P(X > 19) = 2.2e-13 and P(X > 18) = 2.3e-12 for a mean of 2.
    expect(upper).toBe(19);
    expect(falseAlarmProbability).toBeGreaterThan(0);
    expect(falseAlarmProbability).toBeLessThan(5e-13);
  });

  it('of a fraction end at the pieces there are', () => {
    const model = { kind: 'binomial' as const, sizePieces: 5, fraction: 0.9 };
    expect(exactCountLimits(model, 0.01)).toMatchObject({ upper: 5 });
    expect(sigmaCountLimits(model, 3).upper).toBe(5);
  });
});

describe('refusals', () => {
  const refused = (change: Partial<ShewhartAttributesInput>) => () =>
    shewhartAttributes({ ...counts, ...change });

  it('more nonconforming pieces than were examined', () => {
    const samples = [
      { nonconformingPieces: 3, sizePieces: 2 },
      { nonconformingPieces: 0, sizePieces: 2 },
    ];
    expect(refused({ data: { chart: 'p', samples } })).toThrow('at most the 2 pieces');
    const data = { chart: 'np' as const, sizePieces: 2, nonconformingPieces: [1, 3] };
    expect(refused({ data })).toThrow('data.nonconformingPieces.1');
  });

  it('a phase one longer than the data', () => {
    expect(refused({ limits: { from: 'data', phaseOneCount: 8 } })).toThrow(
      'at most the 7 samples',
    );
  });

  it('a fraction of 1 or more', () => {
    const data = { chart: 'np' as const, sizePieces: 2, nonconformingPieces: [1, 1] };
    expect(refused({ data, limits: { from: 'standard', rate: 1 } })).toThrow('below 1');
  });

  it('no count to set limits from', () => {
    const data = { chart: 'c' as const, nonconformities: [0, 0, 0] };
    expect(refused({ data, limits: { from: 'data' } })).toThrow('some but not all');
  });

  it('a probability that is none', () => {
    expect(() => exactCountLimits({ kind: 'poisson', mean: 1 }, 0)).toThrow('above 0 and below 1');
  });
});
