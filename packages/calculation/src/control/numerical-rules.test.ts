import { describe, expect, it } from 'vitest';
import { controlConstants, meanStandardDeviationFactor } from './control-constants.ts';
import { solveDense, solveToeplitz } from './linear-system.ts';
import { rangeMoments } from './range-moments.ts';
import { seriesStatistics } from './series-statistics.ts';

describe('systems of equations', () => {
  it('exchanges rows where the diagonal is 0', () => {
    const matrix = Float64Array.of(0, 2, 3, 1);
    const [solution] = solveDense(matrix, [Float64Array.of(4, 5)]);
    expect([...(solution ?? [])]).toEqual([1, 2]);
  });

  it('solves equal diagonals as elimination does', () => {
    const size = 40;
    const diagonals = Float64Array.from({ length: 2 * size - 1 }, (_, index) =>
      index === size - 1 ? 1 : -0.5 * Math.exp(-0.5 * (index - size + 2) ** 2),
    );
    const side = Float64Array.from({ length: size }, (_, index) => 1 + (index % 3));
    const matrix = Float64Array.from(
      { length: size * size },
      (_, at) => diagonals[(at % size) - Math.floor(at / size) + size - 1] ?? 0,
    );
    const [fast] = solveToeplitz(diagonals, [side]);
    const [dense] = solveDense(matrix, [Float64Array.from(side)]);
    fast?.forEach((value, index) => {
      expect(value).toBeCloseTo(dense?.[index] ?? Number.NaN, 11);
    });
  });
});

describe('constants', () => {
  it('agree with the closed forms of two and three readings', () => {
    const [, , two, three] = rangeMoments(3);
    expect(two?.mean).toBeCloseTo(2 / Math.sqrt(Math.PI), 14);
    expect(two?.standardDeviation).toBeCloseTo(Math.sqrt(2 - 4 / Math.PI), 13);
    expect(three?.mean).toBeCloseTo(3 / Math.sqrt(Math.PI), 14);
    expect(meanStandardDeviationFactor(2)).toBeCloseTo(Math.sqrt(2 / Math.PI), 15);
  });

  it('of ranges end at 100 readings, those of standard deviations at 1000', () => {
    expect(controlConstants(101)).toMatchObject({ d2: null, d3: null, a2: null, d4Limit: null });
    expect(controlConstants(100).d2).toBeGreaterThan(5);
    expect(controlConstants(1000).c4).toBeGreaterThan(0.9997);
  });

  it('refuse sizes outside their range', () => {
    expect(() => rangeMoments(1)).toThrow('from 2 to 100');
    expect(() => rangeMoments(101)).toThrow('from 2 to 100');
    expect(() => controlConstants(1001)).toThrow('from 2 to 1000');
    expect(() => meanStandardDeviationFactor(2.5)).toThrow('from 2 to 1000');
  });
});

describe('a series', () => {
  it('of equal readings has no spread and no correlation', () => {
    // The mean of three times 0.1 is not 0.1 in the last place.
    expect(seriesStatistics([0.1, 0.1, 0.1])).toMatchObject({
      standardDeviation: 0,
      lagOneAutocorrelation: null,
    });
  });

  it('of one reading is refused', () => {
    expect(() => seriesStatistics([1])).toThrow('at least two values');
  });
});
