import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeNormalShape } from '../src/weights/normal-shape.ts';
import { weightStatistics } from '../src/weights/weight-statistics.ts';
import { seededNormals } from './simulated-readings.ts';

const seed = 1848;
const masses = fc.array(fc.double({ min: 0.001, max: 1000, noNaN: true }), {
  minLength: 1,
  maxLength: 60,
});

describe('weight statistics', () => {
  it('do not depend on the order of the masses', () => {
    fc.assert(
      fc.property(masses, (values) => {
        const reversed = [...values].reverse();
        expect(weightStatistics({ massesGrams: reversed })).toEqual(
          weightStatistics({ massesGrams: values }),
        );
      }),
      { seed, numRuns: 200 },
    );
  });

  it('scale with the unit: four times the masses, four times every figure in grams', () => {
    fc.assert(
      fc.property(masses, (values) => {
        const one = weightStatistics({ massesGrams: values, declaredMassGrams: 2 });
        const four = weightStatistics({
          massesGrams: values.map((value) => 4 * value),
          declaredMassGrams: 8,
        });
        expect(four.meanGrams).toBe(4 * one.meanGrams);
        expect(four.medianGrams).toBe(4 * one.medianGrams);
        expect(four.standardDeviationGrams ?? 0).toBe(4 * (one.standardDeviationGrams ?? 0));
        expect(four.giveawayTotalGrams ?? 0).toBe(4 * (one.giveawayTotalGrams ?? 0));
        expect(four.normalTheory).toBe(one.normalTheory);
      }),
      { seed, numRuns: 200 },
    );
  });

  it('quantiles rise and lie between the lightest and the heaviest piece', () => {
    fc.assert(
      fc.property(masses, (values) => {
        const result = weightStatistics({ massesGrams: values });
        const path = [
          result.minimumGrams,
          ...result.quantiles.map((quantile) => quantile.massGrams),
          result.maximumGrams,
        ];
        for (let index = 1; index < path.length; index += 1) {
          const slack = 1e-12 * result.maximumGrams;
          expect(path[index] as number).toBeGreaterThanOrEqual((path[index - 1] as number) - slack);
        }
      }),
      { seed, numRuns: 200 },
    );
  });

  it('a 95 % bound of the fraction below the limit covers in at least 95 of 100 samples', () => {
    const { uniform } = seededNormals('00000000000000000000000000000001');
    const trueFraction = 0.07;
    let covered = 0;
    for (let sample = 0; sample < 2000; sample += 1) {
      const massesGrams = Array.from({ length: 60 }, () => (uniform() < trueFraction ? 1 : 2));
      const result = weightStatistics({ massesGrams, lowerLimitGrams: 1.5 });
      if ((result.belowLowerLimitFractionBound ?? 0) >= trueFraction) covered += 1;
    }
    // Exact coverage is at least 0.95; the simulation has a standard error of 0.005.
    expect(covered / 2000).toBeGreaterThan(0.935);
  });
});

describe('the judgement of shape', () => {
  const samples = 1000;

  function refusedShare(size: number, draw: () => number, word = ''): number {
    let refused = 0;
    for (let sample = 0; sample < samples; sample += 1) {
      const shape = judgeNormalShape(Array.from({ length: size }, draw));
      if (shape.normalTheory === 'refused' && shape.reason.includes(word)) refused += 1;
    }
    return refused / samples;
  }

  it.each([20, 50, 250])('refuses about one in thirty normal samples of %i', (size) => {
    const { normal } = seededNormals('00000000000000000000000000000002');
    const share = refusedShare(size, () => 31.1 + 0.05 * normal());
    // Standard error of the simulated share: 0.006.
    expect(share).toBeLessThan(0.055);
    expect(share).toBeGreaterThan(0.005);
  });

  it('finds most samples of 100, and nearly all of 250, with the light pieces sorted out', () => {
    const { normal } = seededNormals('00000000000000000000000000000003');
    const sorted = () => {
      for (;;) {
        const z = normal();
        if (z > -1) return 31.1 + 0.05 * z;
      }
    };
    expect(refusedShare(100, sorted)).toBeGreaterThan(0.85);
    expect(refusedShare(250, sorted, 'as if sorted')).toBeGreaterThan(0.97);
  });

  it('finds most samples of 60 mixed from two sortings four deviations apart', () => {
    const { normal, uniform } = seededNormals('00000000000000000000000000000004');
    const share = refusedShare(60, () => 31.1 + (uniform() < 0.5 ? 0.2 : 0) + 0.05 * normal());
    expect(share).toBeGreaterThan(0.9);
  });

  it('finds a piece of copper among gold blanks', () => {
    const { normal } = seededNormals('00000000000000000000000000000005');
    const blanks = Array.from({ length: 50 }, () => 3.11 + 0.01 * normal());
    expect(judgeNormalShape(blanks).normalTheory).toBe('usable');
    expect(judgeNormalShape([...blanks, 1.44]).reason).toContain('a stray light piece');
  });
});
