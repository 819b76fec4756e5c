import { describe, expect, it } from 'vitest';
import { limitRuleShape } from './limit-rule-shape.ts';

describe('limitRuleShape', () => {
  // Range shown: 916.3 to 917.25 and 12 % of it at each end, worked by hand.
  it('keeps value, bar, limit and guard band in sight and in proportion', () => {
    const shape = limitRuleShape({
      value: 916.95,
      expandedUncertainty: 0.3,
      lowerLimit: 916.6,
      guardBand: 0.3,
    });
    const length = 0.95 * 1.24;
    const at = (value: number) => (value - (916.3 - 0.114)) / length;
    expect(shape.dot).toBeCloseTo(at(916.95), 9);
    expect(shape.bar?.from).toBeCloseTo(at(916.65), 9);
    expect(shape.limits[0]?.at).toBeCloseTo(at(916.6), 9);
    expect(shape.guards[0]?.to).toBeCloseTo(at(916.9), 9);
    expect(shape).toMatchObject({ isOutside: false, isInGuard: false });
  });

  it('tells a value outside, one near the limit and one on it apart', () => {
    const fineness = (value: number) =>
      limitRuleShape({ value, lowerLimit: 916.6, guardBand: 0.3 });
    expect(fineness(916.2)).toMatchObject({ isOutside: true, isInGuard: false });
    expect(fineness(916.5)).toMatchObject({ isOutside: false, isInGuard: true });
    expect(fineness(916.7)).toMatchObject({ isOutside: false, isInGuard: true });
    expect(fineness(917)).toMatchObject({ isOutside: false, isInGuard: false });
    expect(limitRuleShape({ value: 10.2, upperLimit: 10 })).toMatchObject({ isOutside: true });
    expect(limitRuleShape({ value: 10, upperLimit: 10, lowerLimit: 9 })).toMatchObject({
      isOutside: false,
      isInGuard: false,
    });
  });

  it('keeps to a given scale, and holds what lies beyond it at its end', () => {
    const shape = limitRuleShape({ value: 30, lowerLimit: 5, range: [0, 20] });
    expect(shape.limits[0]?.at).toBe(0.25);
    expect(shape.dot).toBe(1);
  });

  it('finds room for a value that equals its only limit', () => {
    const shape = limitRuleShape({ value: 0, lowerLimit: 0 });
    expect(shape.dot).toBe(0.5);
  });
});
