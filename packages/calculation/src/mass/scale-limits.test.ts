import { describe, expect, it } from 'vitest';
import { scaleLimits, scaleLimitsCalculation } from './scale-limits.ts';

const input = scaleLimitsCalculation.example;

describe('scaleLimits', () => {
  it('finds the second load of the example beyond verification but within service', () => {
    const output = scaleLimits(input);
    expect(output).toMatchObject({ fitsClass: true, leastCapacityGrams: 0.1, intervals: 220_000 });
    expect(output.loads[0]).toMatchObject({ errorGrams: 0.0004, isWithinOnVerification: true });
    expect(output.loads[1]).toMatchObject({
      errorGrams: 0.0012,
      isWithinOnVerification: false,
      isWithinInService: true,
    });
    expect(output.words).toContain('beyond those of verification at 199 g');
  });

  it('changes the limit just above the step, exactly', () => {
    const limitOf = (loadGrams: number) =>
      scaleLimits({
        scaleClass: 'II',
        verificationIntervalGrams: 0.1,
        capacityGrams: 3000,
        loads: [{ loadGrams }],
      }).loads[0]?.limitGrams;
    expect([limitOf(500), limitOf(500.1), limitOf(2000), limitOf(2000.1)]).toEqual([
      0.05, 0.1, 0.1, 0.15,
    ]);
  });

  it('takes a scale out of use beyond the limit in service', () => {
    const output = scaleLimits({
      ...input,
      loads: [{ loadGrams: 50, indicationGrams: 50.0011 }],
    });
    expect(output.words).toContain('out of use');
  });

  it('calls a load below the minimum capacity', () => {
    const output = scaleLimits({ ...input, loads: [{ loadGrams: 0.09 }, { loadGrams: 0.1 }] });
    expect(output.loads.map((one) => one.isBelowMinimum)).toEqual([true, false]);
    expect(output.words).not.toContain('Every load');
  });

  it('finds too many intervals for the class', () => {
    const output = scaleLimits({
      scaleClass: 'III',
      verificationIntervalGrams: 0.1,
      capacityGrams: 1001,
      loads: [{ loadGrams: 1 }],
    });
    expect(output.fitsClass).toBe(false);
    expect(output.words).toContain('does not suit class III');
  });

  it('refuses an interval that the class does not have', () => {
    expect(() => scaleLimits({ ...input, scaleClass: 'IIII' })).toThrow(
      'accepted: for class IIII 5 g or more',
    );
    expect(() =>
      scaleLimits({ ...input, scaleClass: 'II', verificationIntervalGrams: 0.07 }),
    ).toThrow('for class II 0.001 g to 0.05 g, or 0.1 g or more');
  });

  it('refuses a load above the capacity', () => {
    expect(() => scaleLimits({ ...input, loads: [{ loadGrams: 221 }] })).toThrow(
      'loads.0.loadGrams is 221; accepted: a load up to the capacity of 220 g',
    );
  });
});
