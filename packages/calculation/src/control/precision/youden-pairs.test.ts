import { describe, expect, it } from 'vitest';
import { youdenPairs } from './youden-pairs.ts';

const run = (pairs: readonly (readonly [number, number])[], excluded: readonly number[] = []) =>
  youdenPairs({
    characteristic: 'Gold',
    unit: '‰',
    laboratories: pairs.map(([first, second], index) => ({
      name: `L${index + 1}`,
      first,
      second,
      isExcluded: excluded.includes(index),
    })),
    confidencePercent: 95,
  });

describe('a two-sample plot', () => {
  it('computes a case by hand', () => {
    // Differences 1, −1, 1, −1; totals 1, 3, 5, 7: s_w² = 4/(2·3), s_t² = 20/(2·3).
    const output = run([
      [1, 0],
      [1, 2],
      [3, 2],
      [3, 4],
    ]);
    expect(output.withinStandardDeviation ** 2).toBeCloseTo(4 / 6, 13);
    expect(output.totalStandardDeviation ** 2).toBeCloseTo(20 / 6, 13);
    expect(output.betweenStandardDeviation ** 2).toBeCloseTo(8 / 6, 13);
    expect(output.ratio).toBeCloseTo(5, 12);
    expect(output.circleRadius).toBeCloseTo(Math.sqrt((4 / 6) * -2 * Math.log(0.05)), 13);
    expect([output.firstMedian, output.secondMedian]).toEqual([2, 2]);
  });

  it('tells errors of both samples from scatter, and shows what is left out', () => {
    const calm = [
      [10, 10.1],
      [10.1, 10],
      [9.9, 9.9],
      [10.05, 10.1],
      [9.95, 9.9],
      [10, 9.95],
      [10.1, 10.1],
      [9.9, 10],
    ] as const;
    const both = run([...calm, [13, 13]]);
    expect(both.laboratories[8]).toMatchObject({ fault: 'systematic', isOutsideEllipse: true });
    expect(both.words).toContain('L9 (along the line');
    const one = run([...calm, [10, 12]]);
    expect(one.words).toContain('L9 (across the line');
    const without = run([...calm, [10, 12]], [8]);
    expect(without.laboratories[8]).toMatchObject({ isUsed: false, isOutsideEllipse: true });
    expect(without.words).toContain('No laboratory is outside the ellipse.');
  });

  it('refuses fewer than four laboratories, and results on one line', () => {
    const line = [
      [1, 1],
      [2, 2],
      [3, 3],
      [4, 4],
    ] as const;
    expect(() => run(line)).toThrow('not on one line');
    expect(() =>
      run(
        [
          [1, 2],
          [3, 1],
          [2, 2],
          [5, 4],
        ],
        [0],
      ),
    ).toThrow('laboratories is 3 used');
  });
});
