import { describe, expect, it } from 'vitest';
import { homogeneity } from './homogeneity.ts';
import { oneWayAnalysis } from './one-way-analysis.ts';

const run = (lists: readonly number[][], assessmentStandardDeviation?: number) =>
  homogeneity({
    characteristic: 'Silver',
    unit: '‰',
    items: lists.map((results, index) => ({ name: `Bar ${index + 1}`, results })),
    confidencePercent: 95,
    ...(assessmentStandardDeviation === undefined ? {} : { assessmentStandardDeviation }),
  });

describe('homogeneity', () => {
  it('computes a case by hand: 1, 3; 5, 7; 9, 11', () => {
    // Mean squares 32 and 2, F 16; s_bb² = 15; u* = √(2/2)·(2/3)^¼.
    const output = run([
      [1, 3],
      [5, 7],
      [9, 11],
    ]);
    expect(output.ratio).toBeCloseTo(16, 12);
    expect(output.betweenUnitStandardDeviation).toBeCloseTo(Math.sqrt(15), 13);
    expect(output.hiddenStandardDeviation).toBeCloseTo((2 / 3) ** 0.25, 13);
    expect(output.homogeneityStandardUncertainty).toBe(output.betweenUnitStandardDeviation);
    expect(output.words).toContain('The units differ: F 16');
  });

  it('has a check for the purpose, with room for the scatter of the estimate', () => {
    const good = run(
      [
        [9.9, 10.1],
        [10, 10.1],
        [9.9, 10],
        [10.1, 9.9],
      ],
      5,
    );
    expect(good.isSufficient).toBe(true);
    expect(good.permittedStandardDeviation).toBeCloseTo(1.5, 14);
    expect(good.words).toContain('Homogeneous enough');
    const bad = run(
      [
        [1, 1.1],
        [5, 5.1],
        [9, 9.1],
      ],
      1,
    );
    expect(bad.isSufficient).toBe(false);
    expect(bad.words).toContain('Not homogeneous enough');
  });

  it('states no interval for unequal numbers and says where the variance came out negative', () => {
    const output = run([
      [1, 9],
      [9, 1.2, 5],
      [1.1, 9],
    ]);
    expect(output.betweenUnitUpper).toBe(null);
    expect(output.varianceRatioLower).toBe(null);
    expect(output.isBetweenUnitVarianceNegative).toBe(true);
    expect(output.words).toContain('between them, 0 is taken');
  });

  it('says where nothing varies within the units', () => {
    const output = run([
      [1, 1],
      [2, 2],
    ]);
    expect(output.ratio).toBe(null);
    expect(output.varianceRatioUpper).toBe(null);
    expect(output.words).toContain('Nothing varies within the units.');
  });

  it('refuses single results only, and an analysis of one group', () => {
    expect(() => run([[1], [2]])).toThrow('at least one unit with two results');
    expect(() => oneWayAnalysis([[1, 2]])).toThrow('at least 2 groups');
    expect(() => oneWayAnalysis([[1], [2]])).toThrow('at least one group with 2 readings');
  });

  it('reckons full-precision doubles without whole numbers as well', () => {
    const list = [
      [Math.PI, Math.E, Math.SQRT2],
      [Math.LN2, Math.LN10, Math.LOG2E],
    ];
    const plain = list.map((one) => one.reduce((sum, x) => sum + x, 0) / 3);
    expect(oneWayAnalysis(list).means[1]).toBeCloseTo(plain[1] ?? 0, 14);
  });
});
