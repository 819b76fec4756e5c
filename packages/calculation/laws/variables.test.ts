import erfc from '@stdlib/math-base-special-erfc';
import student from '@stdlib/stats-base-dists-t';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bracketedRoot } from '../src/quantity/bracketed-root.ts';
import { normalQuantile } from '../src/quantity/normal.ts';
import { findNormality } from '../src/sampling/normality-check.ts';
import { shapiroWilk } from '../src/sampling/normality-shapiro-wilk.ts';
import {
  constantAt,
  fractionAt,
  variablesAcceptance,
} from '../src/sampling/variables-acceptance.ts';
import { tabulatedErfc } from '../src/sampling/variables-error-function.ts';
import { acceptabilityConstant, estimatedFraction } from '../src/sampling/variables-estimate.ts';
import { noncentralTUpper, spreadRule } from '../src/sampling/variables-noncentral-t.ts';
import { variablesPlanSearch } from '../src/sampling/variables-plan-search.ts';
import { variablesVerdict } from '../src/sampling/variables-verdict.ts';
import { seededNormals } from './simulated-readings.ts';

const seed = 1848;

describe('the noncentral t', () => {
  it('is Student for no noncentrality, and mirrors with its sign', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }),
        fc.double({ min: -8, max: 8, noNaN: true }),
        fc.double({ min: -30, max: 30, noNaN: true }),
        (nu, t, delta) => {
          expect(noncentralTUpper(t, nu, 0)).toBeCloseTo(1 - student.cdf(t, nu), 12);
          expect(noncentralTUpper(-t, nu, -delta)).toBeCloseTo(
            1 - noncentralTUpper(t, nu, delta),
            12,
          );
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  it('the tabulated error function is the function itself', () => {
    let greatest = 0;
    for (let x = -7; x < 9; x += 0.000_973) {
      greatest = Math.max(greatest, Math.abs(tabulatedErfc(x) / erfc(x) - 1));
    }
    expect(greatest).toBeLessThan(2e-14);
  });

  it('the rule gives the moments of the standard deviation', () => {
    for (const nu of [1, 2, 5, 30, 1000]) {
      const { ratios, weights } = spreadRule(nu, 3);
      const moment = (power: number) =>
        ratios.reduce((sum, ratio, index) => sum + ratio ** power * (weights[index] ?? 0), 0);
      // s² is unbiased, and its variance is 2σ⁴/ν.
      expect(moment(2)).toBeCloseTo(1, 12);
      expect(moment(4)).toBeCloseTo(1 + 2 / nu, 10);
    }
  });
});

describe('plans by variables', () => {
  const methods = ['s', 'sigma'] as const;

  it('accept fewer lots as they get worse and as the constant rises', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...methods),
        fc.integer({ min: 3, max: 200 }),
        fc.double({ min: 0.3, max: 3, noNaN: true }),
        fc.double({ min: 0.001, max: 0.4, noNaN: true }),
        (method, n, k, fraction) => {
          const at = (constant: number) =>
            variablesAcceptance({ sampleSizePieces: n, acceptabilityConstant: constant, method });
          expect(at(k)(fraction * 1.1)).toBeLessThanOrEqual(at(k)(fraction) + 1e-14);
          expect(at(k + 0.1)(fraction)).toBeLessThanOrEqual(at(k)(fraction) + 1e-14);
          const back = fractionAt({ sampleSizePieces: n, acceptabilityConstant: k, method }, 0.3);
          expect(at(k)(back)).toBeCloseTo(0.3, 9);
          expect(constantAt(n, method, back, 0.3)).toBeCloseTo(k, 8);
        },
      ),
      { seed, numRuns: 60 },
    );
  });

  it('the characteristic is what simulated lots show, by k and by M', () => {
    const { normal } = seededNormals('00000000000000000000000000000021');
    const [n, k, fraction] = [8, 1.2, 0.08];
    const mean = 100 + normalQuantile(1 - fraction);
    const maximum = estimatedFraction(k, n, 's');
    const runs = 10_000;
    let byConstant = 0;
    let byEstimate = 0;
    let estimates = 0;
    for (let run = 0; run < runs; run += 1) {
      const values = Array.from({ length: n }, () => mean + normal());
      const average = values.reduce((sum, value) => sum + value, 0) / n;
      const square = values.reduce((sum, value) => sum + (value - average) ** 2, 0);
      const index = (average - 100) / Math.sqrt(square / (n - 1));
      const estimate = estimatedFraction(index, n, 's');
      estimates += estimate;
      if (index >= k) byConstant += 1;
      if (estimate <= maximum) byEstimate += 1;
    }
    const exact = variablesAcceptance({
      sampleSizePieces: n,
      acceptabilityConstant: k,
      method: 's',
    })(fraction);
    // Standard error of the share: 0.005; of the mean estimate: 0.0009. The estimate is unbiased.
    expect(Math.abs(byConstant / runs - exact)).toBeLessThan(0.015);
    expect(byEstimate).toBe(byConstant);
    expect(Math.abs(estimates / runs - fraction)).toBeLessThan(0.003);
  });

  it('the constant and the greatest estimate ask for the same', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...methods),
        fc.integer({ min: 3, max: 300 }),
        fc.double({ min: 0.001, max: 0.6, noNaN: true }),
        (method, n, fraction) => {
          const k = acceptabilityConstant(fraction, n, method);
          expect(estimatedFraction(k, n, method)).toBeCloseTo(fraction, 11);
        },
      ),
      { seed, numRuns: 200 },
    );
  });

  it('a search keeps both risks, and one piece less does not', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...methods),
        fc.double({ min: 0.2, max: 4, noNaN: true }),
        fc.double({ min: 2.5, max: 6, noNaN: true }),
        (method, goodPercent, times) => {
          const badPercent = Math.min(45, goodPercent * times);
          const asked = { goodPercent, producerRisk: 0.05, badPercent, consumerRisk: 0.1, method };
          const found = variablesPlanSearch(asked);
          expect(found.goodAcceptanceProbability).toBeCloseTo(0.95, 9);
          expect(found.badAcceptanceProbability).toBeLessThanOrEqual(0.1 + 1e-9);
          expect(found.lowestConstant).toBeLessThanOrEqual(found.acceptabilityConstant + 1e-9);
          const n = found.sampleSizePieces - 1;
          if (n < 3) return;
          const k = constantAt(n, method, goodPercent / 100, 0.95);
          const less = variablesAcceptance({
            sampleSizePieces: n,
            acceptabilityConstant: k,
            method,
          });
          expect(less(badPercent / 100)).toBeGreaterThan(0.1);
        },
      ),
      { seed, numRuns: 15 },
    );
  });

  it('a verdict does not depend on the unit, and mirrors with the sign', () => {
    const values = fc.array(fc.integer({ min: 900, max: 1100 }), { minLength: 3, maxLength: 20 });
    fc.assert(
      fc.property(
        values.filter((list) => new Set(list).size > 1),
        (list) => {
          const judged = (
            measurements: readonly number[],
            lowerLimit: number,
            upperLimit: number,
          ) =>
            variablesVerdict({
              sample: { given: 'measurements', measurements: [...measurements] },
              lowerLimit,
              upperLimit,
              criterion: { form: 'M', maximumPercent: 5 },
              normality: 'test',
            });
          const one = judged(list, 880, 1130);
          const scaled = judged(
            list.map((x) => 4 * x),
            3520,
            4520,
          );
          const mirrored = judged(
            list.map((x) => -x),
            -1130,
            -880,
          );
          expect(scaled.totalPercent).toBeCloseTo(one.totalPercent, 9);
          expect(mirrored.totalPercent).toBeCloseTo(one.totalPercent, 9);
          expect(mirrored.upperPercent).toBeCloseTo(one.lowerPercent ?? Number.NaN, 9);
          expect([scaled.verdict, mirrored.verdict]).toEqual([one.verdict, one.verdict]);
        },
      ),
      { seed, numRuns: 100 },
    );
  });
});

describe('the check for a normal distribution', () => {
  const samples = 400;

  function contradictedShare(size: number, draw: () => number): number {
    let found = 0;
    for (let sample = 0; sample < samples; sample += 1) {
      const values = Array.from({ length: size }, draw);
      if (findNormality(values).verdict === 'contradicted') found += 1;
    }
    return found / samples;
  }

  // Standard error of a simulated share: 0.009 near 0.03, at most 0.025 elsewhere.
  it.each([8, 20, 50, 150])('contradicts about one in thirty normal samples of %i', (size) => {
    const { normal } = seededNormals('00000000000000000000000000000022');
    const share = contradictedShare(size, normal);
    expect(share).toBeGreaterThan(0.007);
    expect(share).toBeLessThan(0.06);
  });

  function within(low: number, high: number): () => number {
    const { normal } = seededNormals('00000000000000000000000000000023');
    return () => {
      for (;;) {
        const z = normal();
        if (z > low && z < high) return 31.1 + 0.05 * z;
      }
    };
  }

  it.each([
    { size: 30, power: 0.2 },
    { size: 50, power: 0.5 },
    { size: 100, power: 0.96 },
  ])('finds samples of $size without their light pieces in about $power of cases', (one) => {
    expect(Math.abs(contradictedShare(one.size, within(-1, 9)) - one.power)).toBeLessThan(0.075);
  });

  it.each([
    { size: 30, power: 0.25 },
    { size: 50, power: 0.6 },
    { size: 100, power: 0.985 },
  ])('finds samples of $size cut on both sides in about $power of cases', (one) => {
    expect(Math.abs(contradictedShare(one.size, within(-1, 1)) - one.power)).toBeLessThan(0.075);
  });

  it.each([
    { size: 30, power: 0.5 },
    { size: 50, power: 0.8 },
    { size: 100, power: 0.998 },
  ])('finds samples of $size mixed from two sortings in about $power of cases', (one) => {
    const { normal, uniform } = seededNormals('00000000000000000000000000000024');
    const draw = () => (uniform() < 0.5 ? 4 : 0) + normal();
    expect(Math.abs(contradictedShare(one.size, draw) - one.power)).toBeLessThan(0.075);
  });

  it('does not depend on order, unit or sign', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 8, maxLength: 60 }),
        (values) => {
          fc.pre(Math.max(...values) - Math.min(...values) > 1e-3);
          const one = shapiroWilk(values);
          const other = shapiroWilk([...values].reverse().map((value) => 7 - 4 * value));
          expect(other.statistic).toBeCloseTo(one.statistic, 10);
          expect(one.probability).toBeGreaterThanOrEqual(0);
          expect(one.probability).toBeLessThanOrEqual(1);
        },
      ),
      { seed, numRuns: 200 },
    );
  });
});

describe('the root in a bracket', () => {
  it('is found from either side, steep or flat', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.integer({ min: 0, max: 2 }),
        (root, kind) => {
          const shapes = [
            (x: number) => Math.expm1(3 * (x - root)),
            (x: number) => (x - root) ** 3,
            (x: number) => Math.atan(1e4 * (x - root)),
          ];
          const shape = shapes[kind] ?? Math.sin;
          const tolerance = kind === 1 ? 1e-5 : 1e-12;
          expect(Math.abs(bracketedRoot(shape, -9, 8) - root)).toBeLessThan(tolerance);
          expect(Math.abs(bracketedRoot(shape, 8, -9) - root)).toBeLessThan(tolerance);
        },
      ),
      { seed, numRuns: 200 },
    );
    expect(() => bracketedRoot((x) => x, 1, 2)).toThrow('different signs');
  });
});
