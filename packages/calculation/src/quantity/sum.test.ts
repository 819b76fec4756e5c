import { describe, expect, it } from 'vitest';
import { compensatedSum, meanOf, rootSumOfSquares } from './sum.ts';

describe('compensatedSum', () => {
  it('keeps what plain addition loses', () => {
    expect(compensatedSum([1, 1e100, 1, -1e100])).toBe(2);
    expect(compensatedSum(new Array<number>(10).fill(0.1))).toBe(1);
  });

  it('is zero for nothing and the value for one', () => {
    expect(compensatedSum([])).toBe(0);
    expect(compensatedSum([31.1034768])).toBe(31.1034768);
  });
});

describe('mean and root of the sum of squares', () => {
  it('are those of Pythagoras and of three values that cancel', () => {
    expect(meanOf([1e100, 3, -1e100])).toBe(1);
    expect(rootSumOfSquares([3, -4])).toBe(5);
    expect(rootSumOfSquares([])).toBe(0);
  });
});
