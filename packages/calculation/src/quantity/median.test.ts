import { describe, expect, it } from 'vitest';
import { medianOf } from './median.ts';

describe('the median', () => {
  it('is the middle value, or the mean of two, and leaves the list alone', () => {
    const values = [10, 9, 2];
    expect(medianOf(values)).toBe(9);
    expect(values).toEqual([10, 9, 2]);
    expect(medianOf([10, 9, 2, -4])).toBe(5.5);
    expect(medianOf([7.5])).toBe(7.5);
  });
});
