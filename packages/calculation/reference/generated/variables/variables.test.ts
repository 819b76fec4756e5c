import { describe, expect, it } from 'vitest';
import { shapiroWilk } from '../../../src/sampling/normality-shapiro-wilk.ts';
import { noncentralTUpper } from '../../../src/sampling/variables-noncentral-t.ts';
import { variablesPlanSearch } from '../../../src/sampling/variables-plan-search.ts';
import values from './values.json' with { type: 'json' };

describe('upper tail of the noncentral t', () => {
  it.each(values.precise)('nu $nu, t $t, delta $delta, forty digits', ({ nu, t, delta, upper }) => {
    const found = noncentralTUpper(t, nu, delta);
    expect(Math.abs(found - upper)).toBeLessThan(1e-13);
    expect(Math.abs(found / upper - 1)).toBeLessThan(1e-10);
  });

  it.each(values.noncentral)('nu $nu, t $t, delta $delta, scipy', ({ nu, t, delta, upper }) => {
    expect(Math.abs(noncentralTUpper(t, nu, delta) - upper)).toBeLessThan(1e-9 * upper + 1e-12);
  });
});

describe('plans through two points', () => {
  it.each(values.plans)('$goodPercent and $badPercent', ({ n, k, ...asked }) => {
    const found = variablesPlanSearch({ ...asked, method: 's' });
    expect(found.sampleSizePieces).toBe(n);
    expect(Math.abs(found.acceptabilityConstant - k)).toBeLessThan(1e-9);
  });
});

describe('the Shapiro–Wilk test', () => {
  it.each(values.shapes)('of the sample "$name"', ({ values: sample, statistic, probability }) => {
    const found = shapiroWilk(sample);
    expect(Math.abs(found.statistic / statistic - 1)).toBeLessThan(1e-6);
    expect(Math.abs(found.probability / probability - 1)).toBeLessThan(1e-6);
  });
});
