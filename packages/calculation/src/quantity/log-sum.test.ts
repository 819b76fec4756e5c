import { describe, expect, it } from 'vitest';
import { logOfSum } from './log-sum.ts';

describe('the logarithm of a sum', () => {
  it('is ln 6 for 1, 2 and 3, however far they are shifted', () => {
    const logs = [1, 2, 3].map(Math.log);
    expect(logOfSum(logs)).toBeCloseTo(Math.log(6), 14);
    expect(logOfSum(logs.map((log) => log - 5000)) + 5000).toBeCloseTo(Math.log(6), 12);
  });

  it('is minus infinity for nothing', () => {
    expect(logOfSum([])).toBe(Number.NEGATIVE_INFINITY);
    expect(logOfSum([Number.NEGATIVE_INFINITY])).toBe(Number.NEGATIVE_INFINITY);
  });
});
