import { describe, expect, it } from 'vitest';
import { bivariateNormal, owensT } from '../../../src/conformity/bivariate-normal.ts';
import { probabilityFromSamples } from '../../../src/conformity/known-distribution.ts';
import { itemConformance } from '../../../src/conformity/process-risk.ts';
import values from './values.json' with { type: 'json' };

describe('values from scipy', () => {
  it('agree in Owen’s T', () => {
    for (const { h, a, value } of values.owen) {
      expect(Math.abs(owensT(h, a) - value), `${h} ${a}`).toBeLessThan(5e-16);
    }
  });

  it('agree in bivariate normal probabilities', () => {
    for (const { h, k, correlation, value } of values.normal) {
      const off = Math.abs(bivariateNormal(h, k, correlation) - value);
      expect(off, `${h} ${k} ${correlation}`).toBeLessThan(1e-14);
    }
  });

  it('agree in items of a gamma process', () => {
    for (const { shape, rate, value, u, upper, probability } of values.items) {
      const found = itemConformance({ kind: 'gamma', shape, rate }, value, u, { upper });
      expect(Math.abs((found ?? Number.NaN) - probability)).toBeLessThan(1e-9);
    }
  });

  it('agree in the intervals of shares', () => {
    for (const { count, of, least, greatest } of values.shares) {
      const samples = Float64Array.from({ length: of }, (_, index) => (index < count ? 1 : 0));
      const found = probabilityFromSamples(samples, 0.5, Number.POSITIVE_INFINITY);
      expect(Math.abs(found.least - least)).toBeLessThan(1e-9);
      expect(Math.abs(found.greatest - greatest)).toBeLessThan(1e-9);
    }
  });
});
