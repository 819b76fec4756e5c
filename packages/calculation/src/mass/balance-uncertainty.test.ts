import { describe, expect, it } from 'vitest';
import { balanceUncertainty, balanceUncertaintyCalculation } from './balance-uncertainty.ts';

const example = balanceUncertaintyCalculation.example;

describe('balanceUncertainty', () => {
  it('has the parts of the example that are worked out by hand', () => {
    const { budget, standardUncertaintyMilligrams } = balanceUncertainty(example);
    const part = Object.fromEntries(
      budget.map((line) => [line.contribution, line.standardUncertainty]),
    );
    expect(part['repeatability']).toBe(0.08);
    expect(part['rounding at the load']).toBeCloseTo(0.1 / Math.sqrt(12), 12);
    expect(part['rounding at zero']).toBeCloseTo(0.1 / Math.sqrt(12), 12);
    expect(part['linearity']).toBeCloseTo(0.2 / Math.sqrt(3), 12);
    expect(part['calibration']).toBe(0.075);
    // 0.3 mg at 100 g, half as far off the middle, at 31.21 g.
    expect(part['corner load']).toBeCloseTo((0.3 * 0.3121) / 2 / Math.sqrt(3), 12);
    // 1.5 ppm/K over 4 K of 31.21 g is 0.18726 mg from end to end.
    expect(part['temperature']).toBeCloseTo(0.18726 / Math.sqrt(12), 12);
    // 31.21 g × 0.04 × (1/8000 − 1/19300) is 0.0914 mg to either side.
    expect(part['buoyancy']).toBeCloseTo(
      (31_210 * 0.04 * (1 / 8000 - 1 / 19_300)) / Math.sqrt(3),
      12,
    );
    expect(standardUncertaintyMilligrams).toBeCloseTo(Math.hypot(...Object.values(part)), 12);
  });

  it('has fewer effective degrees of freedom the more the repeatability weighs', () => {
    const few = balanceUncertainty({
      ...example,
      repeatabilityStandardDeviationMilligrams: 5,
    });
    expect(few.effectiveDegreesOfFreedom).toBeGreaterThan(9);
    expect(few.effectiveDegreesOfFreedom).toBeLessThan(9.1);
    expect(few.coverageFactor).toBeGreaterThan(2.2);
    const { repeatabilityReadings: _, ...known } = example;
    const infinite = balanceUncertainty(known);
    expect(infinite.effectiveDegreesOfFreedom).toBeNull();
    expect(infinite.coverageFactor).toBeCloseTo(2, 4);
  });

  it('averages the repeatability alone', () => {
    const output = balanceUncertainty({ ...example, readingsAveraged: 4 });
    expect(output.budget[0]?.standardUncertainty).toBeCloseTo(0.04, 12);
    expect(output.budget[1]?.standardUncertainty).toBeCloseTo(0.1 / Math.sqrt(12), 12);
  });

  it('names the largest part in its words', () => {
    expect(balanceUncertainty(example).words).toContain('the largest part is linearity');
  });

  it('refuses a standard deviation from a single reading', () => {
    const input = { ...example, repeatabilityReadings: 1 };
    const problem = balanceUncertaintyCalculation.input.safeParse(input).error?.issues[0];
    expect(problem?.message).toBe('a whole number of readings from 2 to 10000');
  });
});
