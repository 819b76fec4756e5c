import { describe, expect, it } from 'vitest';
import { andersonDarling, andersonDarlingProbability } from './anderson-darling.ts';

describe('the test of Anderson and Darling', () => {
  // D'Agostino and Stephens (1986), table 4.7, case 3: percentage points of the modified statistic.
  it.each([
    [0.631, 0.1],
    [0.752, 0.05],
    [0.873, 0.025],
    [1.035, 0.01],
  ])('the statistic %d has the tabulated probability %d', (statistic, probability) => {
    expect(andersonDarlingProbability(statistic) / probability).toBeCloseTo(1, 1);
  });

  it('gives no probability beyond its last exponential, and one where the values fit too well', () => {
    // The branches join: 1 below the first, 0 above the last.
    expect(andersonDarlingProbability(0)).toBeCloseTo(1, 5);
    expect(andersonDarlingProbability(13.1)).toBe(0);
    expect(andersonDarlingProbability(13)).toBeLessThan(1e-29);
  });

  it('refuses fewer than eight values, and equal ones', () => {
    const seven = [1, 2, 3, 4, 5, 6, 7];
    const moments = { mean: 4, standardDeviation: 2 };
    expect(() => andersonDarling(seven, moments)).toThrow('at least 8 values');
    const equal = new Array<number>(8).fill(4);
    expect(() => andersonDarling(equal, { mean: 4, standardDeviation: 0 })).toThrow(
      'not all equal',
    );
  });
});
