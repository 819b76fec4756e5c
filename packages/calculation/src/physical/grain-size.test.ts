import { describe, expect, it } from 'vitest';
import { grainSizeOfCount, grainSizeOfIntercept } from './grain-number.ts';
import { grainSize, grainSizeCalculation } from './grain-size.ts';

const example = grainSizeCalculation.example;
const intercepts = (counts: readonly number[]) => ({
  count: {
    method: 'intercepts' as const,
    fields: counts.map((count) => ({ lineLengthMillimetres: 100, intercepts: count })),
  },
  magnification: 100,
});

describe('grainSize', () => {
  it('finds the number of the textbook micrograph with its interval', () => {
    const output = grainSize(example);
    expect(output.grainSize).toBeCloseTo(6.17, 2);
    expect(output.grainSizeLower ?? 0).toBeLessThan(output.grainSize);
    expect(output.grainSizeUpper ?? 0).toBeGreaterThan(output.grainSize);
    // 2.4469 × 0.7559/√7 of a mean of 8.286: 8.4 %.
    expect(output.relativeAccuracyPercent).toBeCloseTo(8.44, 2);
    expect(output).toMatchObject({ isAccurateEnough: true, isWithinLimits: true });
  });

  it('asks for more fields when the counts spread widely', () => {
    const output = grainSize(intercepts([10, 20, 15]));
    expect(output.isAccurateEnough).toBe(false);
    expect(output.words).toContain('count more fields');
  });

  it('has no lower end when the interval of the counts reaches nothing', () => {
    const output = grainSize(intercepts([1, 20]));
    expect(output.grainSizeLower).toBeNull();
    expect(output.grainSizeUpper).not.toBeNull();
  });

  it('gives no interval for one field', () => {
    const output = grainSize(intercepts([50]));
    expect(output).toMatchObject({
      grainSizeLower: null,
      relativeAccuracyPercent: null,
      isAccurateEnough: null,
      isWithinLimits: null,
    });
    // 50 intercepts on 1 mm of metal: 0.02 mm, number 8 of the table.
    expect(output.grainSize).toBeCloseTo(8, 9);
  });

  it('adds the corner grain of a rectangle', () => {
    const of = (shape: 'circle' | 'rectangle') =>
      grainSize({
        count: {
          method: 'planimetric',
          shape,
          fields: [{ areaSquareMillimetres: 5000, grainsInside: 60, grainsOnEdge: 20 }],
        },
        magnification: 100,
      }).grainsPerSquareMillimetre;
    expect(of('circle')).toBe(140);
    expect(of('rectangle')).toBe(142);
  });

  it('judges limits on both sides', () => {
    expect(grainSize({ ...example, lowerLimitGrainSize: 6.5 }).isWithinLimits).toBe(false);
    expect(grainSize({ ...example, upperLimitGrainSize: 6 }).isWithinLimits).toBe(false);
  });

  it('refuses fields in which nothing was counted', () => {
    expect(() => grainSize(intercepts([0, 0]))).toThrow('at least one grain counted');
  });

  it('refuses a lower limit above the upper one', () => {
    expect(() => grainSize({ ...example, lowerLimitGrainSize: 9 })).toThrow(
      'a number not above the upper limit 8',
    );
  });

  it('refuses a count in other steps than halves', () => {
    const parsed = grainSizeCalculation.input.safeParse(intercepts([10.25]));
    expect(parsed.error?.issues[0]?.message).toContain('in steps of one half');
    // So small that the remainder of a division by one half is lost.
    expect(grainSizeCalculation.input.safeParse(intercepts([10, 5e-324])).success).toBe(false);
  });

  it('refuses an intercept or a number of grains of nothing', () => {
    expect(() => grainSizeOfIntercept(0)).toThrow('an intercept above 0 mm');
    expect(() => grainSizeOfCount(0)).toThrow('a number of grains above 0 per mm²');
  });
});
