import { describe, expect, it } from 'vitest';
import { normalDensity, normalDistribution, normalLogDensity, normalQuantile } from './normal.ts';

describe('the normal distribution', () => {
  it('gives the examples of its documentation', () => {
    expect(normalDensity(0, 0, 1)).toBeCloseTo(0.3989422804014327, 15);
    expect(normalLogDensity(0, 0, 1)).toBeCloseTo(-0.9189385332046727, 15);
    expect(normalDistribution(0, 0, 1)).toBe(0.5);
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 14);
  });

  it('quantile and distribution undo each other in both tails', () => {
    for (const probability of [1e-200, 1e-12, 1e-3, 0.2, 0.5, 0.9, 0.999]) {
      const back = normalDistribution(normalQuantile(probability), 0, 1);
      expect(Math.abs(back / probability - 1)).toBeLessThan(1e-11);
    }
  });

  it('the logarithm of the density goes on where the density underflows', () => {
    expect(normalDensity(100, 0, 1)).toBe(0);
    expect(normalLogDensity(100, 0, 1)).toBeCloseTo(-5000.918938533205, 9);
  });

  it('refuses a deviation that is not above zero and a probability of one', () => {
    expect(() => normalDistribution(0, 0, 0)).toThrow('standardDeviation is 0');
    expect(() => normalDensity(Number.NaN, 0, 1)).toThrow('x is NaN');
    expect(() => normalQuantile(1)).toThrow('probability is 1');
    expect(() => normalQuantile(0)).toThrow('a number above 0 and below 1');
  });
});
