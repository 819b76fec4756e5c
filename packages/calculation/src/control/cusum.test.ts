import { describe, expect, it } from 'vitest';
import { type CusumInput, cusum, cusumCalculation } from './cusum.ts';
import { vMaskOfTabular, vMaskSignals } from './v-mask.ts';

const base: CusumInput = {
  values: [0.3, -0.8, 1.1, 0.9, 1.6, 0.2, 1.4, 2, -0.5, 1.7, 0.8, 1.2],
  target: 0,
  standardDeviation: 1,
  referenceValue: 0.5,
  decisionInterval: 4,
  headstart: 0,
};

describe('cumulative sums', () => {
  it('follow the recursion by hand', () => {
    const output = cusum(base);
    const upper = [0, 0, 0.6, 1, 2.1, 1.8, 2.7, 4.2, 3.2, 4.4, 4.7, 5.4];
    output.points.forEach((point, index) => {
      expect(point.upperSum).toBeCloseTo(upper[index] ?? Number.NaN, 12);
    });
    expect(output.points[1]?.lowerSum).toBeCloseTo(0.3, 12);
    expect(output.signals.map((signal) => [signal.firstNumber, signal.lastNumber])).toEqual([
      [8, 8],
      [10, 12],
    ]);
  });

  it('a headstart begins both sums, and its rise is not taken for a shift', () => {
    const output = cusum({ ...base, headstart: 2 });
    const upper = [1.8, 0.5, 1.1, 1.5, 2.6, 2.3, 3.2, 4.7, 3.7, 4.9, 5.2, 5.9];
    output.points.forEach((point, index) => {
      expect(point.upperSum).toBeCloseTo(upper[index] ?? Number.NaN, 12);
    });
    // Never back at 0: all eight values count, mean 0.8375 of theirs.
    const [signal] = output.signals;
    expect(signal).toMatchObject({ firstNumber: 8, changePoint: 1 });
    expect(signal?.estimatedMean).toBeCloseTo(
      (0.3 - 0.8 + 1.1 + 0.9 + 1.6 + 0.2 + 1.4 + 2) / 8,
      12,
    );
    expect(output.mask).toBeNull();
  });

  it('estimates since when and how far', () => {
    const values = [
      ...Array.from({ length: 10 }, () => 50),
      ...Array.from({ length: 6 }, () => 47),
    ];
    const output = cusum({ ...base, values, target: 50, standardDeviation: 2 });
    expect(output.signals[0]).toMatchObject({ side: 'low', changePoint: 11, firstNumber: 15 });
    expect(output.signals[0]?.estimatedMean).toBeCloseTo(47, 12);
    expect(output.words).toContain('a lower level, most likely since value 11, about 47');
  });

  it('says when nothing signals, and how often it would for no reason', () => {
    const output = cusum({ ...base, values: [0.1, -0.1] });
    expect(output.words).toMatch(/^No signal.*every 168 values/);
    expect(cusum({ ...base, decisionInterval: 50 }).inControlAverageRunLength).toBeNull();
  });

  it('draws both sums, the interval, and what is beyond', () => {
    const [chart] = cusumCalculation.draw?.(base, cusum(base)) ?? [];
    if (chart?.kind !== 'chart') throw new Error('no chart');
    expect(chart.levels?.map((level) => level.y)).toEqual([4, -4]);
    expect(chart.series.find((series) => series.standsOut)?.x).toEqual([8, 10, 11, 12]);
  });
});

describe('the V-mask', () => {
  it('has the lead h/k and the slope k·σ', () => {
    expect(cusum({ ...base, standardDeviation: 2 }).mask).toEqual({
      leadDistanceValues: 8,
      slopePerValue: 1,
      halfWidthAtLastValue: 8,
    });
  });

  it('signals where the sums do', () => {
    const mask = vMaskOfTabular(base);
    expect(vMaskSignals(base.values, 0, mask)).toEqual({ high: [8, 10, 11, 12], low: [] });
  });

  it('has no vertex for k = 0', () => {
    expect(cusum({ ...base, referenceValue: 0 }).mask).toBeNull();
    expect(() => vMaskOfTabular({ ...base, referenceValue: 0 })).toThrow('never meet');
  });
});

describe('refusals', () => {
  it('a headstart above the decision interval', () => {
    expect(() => cusum({ ...base, headstart: 5 })).toThrow('from 0 to the decision interval 4');
  });
});
