import { describe, expect, it } from 'vitest';
import { goldenMinimum } from './golden-section.ts';

describe('golden sections', () => {
  it('find the hollow of a parabola, and an end where the function only falls', () => {
    // By definition; (0.618…)⁴⁰ of the width 10 is 4·10⁻⁸.
    expect(goldenMinimum((x) => (x - 3) ** 2, 0, 10, 40)).toBeCloseTo(3, 7);
    expect(goldenMinimum((x) => -x, 0, 10, 40)).toBeCloseTo(10, 7);
  });
});
