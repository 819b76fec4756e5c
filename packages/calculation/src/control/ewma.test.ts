import { describe, expect, it } from 'vitest';
import { type EwmaInput, ewma, ewmaCalculation } from './ewma.ts';

const base: EwmaInput = {
  values: [10, 10, 14],
  target: 10,
  standardDeviation: 1,
  smoothing: 0.2,
  limitFactor: 3,
  limits: 'exact',
};

describe('weighted averages', () => {
  it('exact limits are λLσ at the first value and grow to those of the long run', () => {
    const { points, asymptoticUpperLimit } = ewma({
      ...base,
      values: Array.from({ length: 200 }, () => 10),
    });
    expect(points[0]?.upperLimit).toBeCloseTo(10 + 0.2 * 3, 12);
    // √(λ/(2 − λ)) = 1/3 for λ = 0.2.
    expect(asymptoticUpperLimit).toBeCloseTo(11, 12);
    expect(points[199]?.upperLimit).toBeCloseTo(11, 12);
  });

  it('with λ = 1 it plots the values between three-sigma limits', () => {
    const output = ewma({ ...base, smoothing: 1 });
    expect(output.points.map((point) => point.value)).toEqual(base.values);
    expect(output.points[0]).toMatchObject({ lowerLimit: 7, upperLimit: 13 });
    expect(output.outside).toEqual([3]);
  });

  it('keeps its digits at a small λ', () => {
    // (λLσ)² of the first value, to twelve figures.
    const output = ewma({ ...base, smoothing: 0.005 });
    expect(((output.points[0]?.upperLimit ?? 0) - 10) / 0.015).toBeCloseTo(1, 10);
  });

  it('says on which side the level has moved', () => {
    const values = Array.from({ length: 8 }, () => 11.5);
    const high = ewma({ ...base, values });
    expect(high.words).toMatch(/above the limits: the level has moved/);
    const low = ewma({ ...base, values: values.map((value) => 20 - value) });
    expect(low.words).toMatch(/below the limits/);
    expect(ewma({ ...base, values: [10] }).words).toMatch(/^No signal/);
    const both = [...values, ...values.map(() => 5)];
    expect(ewma({ ...base, values: both }).words).toMatch(/outside the limits/);
  });

  it('draws growing limits as a band and equal ones as levels', () => {
    const drawn = (limits: EwmaInput['limits']) => {
      const input = { ...base, limits };
      const [chart] = ewmaCalculation.draw?.(input, ewma(input)) ?? [];
      if (chart?.kind !== 'chart') throw new Error('no chart');
      return chart;
    };
    expect(drawn('exact').levels).toBeUndefined();
    expect(drawn('asymptotic').levels).toHaveLength(3);
  });
});
