import { describe, expect, it } from 'vitest';
import { firstWhole, turningPoint } from './halving.ts';

describe('halving', () => {
  it('finds a root to the last digit from either side', () => {
    expect(turningPoint((x) => x * x < 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(turningPoint((x) => x * x > 2, 2, 0)).toBeCloseTo(Math.SQRT2, 15);
    expect(turningPoint((x) => x < 0, -1, 3)).toBeCloseTo(0, 15);
  });

  it('stops early when told to', () => {
    let calls = 0;
    turningPoint(
      (x) => {
        calls += 1;
        return x < 1.3;
      },
      1,
      2,
      1e-3,
    );
    // 2⁻¹⁰ of the first interval, which is one wide, is below a thousandth of 1.3.
    expect(calls).toBe(10);
  });

  it('finds the least whole number, also right beside the ends', () => {
    for (const goal of [1, 2, 37, 100]) expect(firstWhole((n) => n >= goal, 0, 100)).toBe(goal);
  });
});
