import { describe, expect, it } from 'vitest';
import { precisionExperiment } from './precision-experiment.ts';

const run = (lists: readonly number[][], names = lists.map((_, index) => `L${index + 1}`)) =>
  precisionExperiment({
    characteristic: 'Gold',
    unit: '‰',
    laboratories: lists.map((results, index) => ({
      name: names[index] ?? '',
      results,
      isExcluded: false,
    })),
  });

describe('a precision experiment', () => {
  it('leaves laboratories with one result or none out, and says so', () => {
    const output = run([[1, 2], [2, 2.5], [1.5, 2], [9], []]);
    expect(output.laboratoryCount).toBe(3);
    expect(output.laboratories[3]).toMatchObject({
      isUsed: false,
      mean: 9,
      standardDeviation: null,
    });
    expect(output.laboratories[4]).toMatchObject({
      isUsed: false,
      mean: null,
      h: null,
      kVerdict: null,
    });
    expect(output.words).toContain('Left out: L4 and L5.');
  });

  it('computes a case by hand: 1, 3; 5, 7; 9, 11', () => {
    // Means 2, 6, 10; mean squares 32 and 2; s_L² = (32 − 2)/2 = 15.
    const output = run([
      [1, 3],
      [5, 7],
      [9, 11],
    ]);
    expect(output.generalMean).toBe(6);
    expect(output.repeatabilityStandardDeviation).toBeCloseTo(Math.sqrt(2), 14);
    expect(output.betweenLaboratoryStandardDeviation).toBeCloseTo(Math.sqrt(15), 14);
    expect(output.reproducibilityLimit).toBeCloseTo(2.8 * Math.sqrt(17), 13);
    expect(output.withoutOutliers).toBe(null);
    expect(output.tests.map((test) => test.test)).toEqual(['cochran', 'grubbs-high', 'grubbs-low']);
  });

  it('takes 0 for a between-laboratory variance that came out negative, and says so', () => {
    const output = run([
      [1, 9],
      [9, 1.2],
      [1.1, 9],
    ]);
    expect(output.isBetweenLaboratoryVarianceNegative).toBe(true);
    expect(output.betweenLaboratoryStandardDeviation).toBe(0);
    expect(output.words).toContain('between them, 0 is taken');
  });

  it('works without means that differ', () => {
    const output = run([
      [1, 3],
      [0, 4],
      [1, 3],
      [2, 2],
    ]);
    expect(output.laboratories.every((row) => row.h === 0)).toBe(true);
    expect(output.tests.map((test) => test.test)).toEqual(['cochran']);
  });

  it('refuses too few laboratories, equal names and results that never vary', () => {
    expect(() => run([[1, 2], [2, 3], [4]])).toThrow('laboratories is 2 usable');
    expect(() =>
      run(
        [
          [1, 2],
          [2, 3],
          [4, 5],
        ],
        ['A', 'A', 'B'],
      ),
    ).toThrow('names that differ');
    expect(() =>
      run([
        [1, 1],
        [2, 2],
        [4, 4],
      ]),
    ).toThrow('results that vary within');
  });
});
