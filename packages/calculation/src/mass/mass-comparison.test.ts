import { describe, expect, it } from 'vitest';
import { massComparison, massComparisonCalculation } from './mass-comparison.ts';

const example = massComparisonCalculation.example;

describe('massComparison', () => {
  it('finds the conventional mass of the worked example', () => {
    const output = massComparison(example);
    expect(output.conventionalMassGrams).toBeCloseTo(10_000.025, 9);
    expect(Math.round(output.expandedUncertaintyMilligrams)).toBe(59);
    expect(output.effectiveDegreesOfFreedom).toBeNull();
  });

  it('takes the spread of the cycles without an earlier evaluation', () => {
    const { pooled: _, ...rest } = example;
    const output = massComparison(rest);
    // Differences 10, 30 and 20 mg: standard deviation 10 mg, of the mean 10/√3.
    expect(output.cycleStandardDeviationMilligrams).toBeCloseTo(10, 12);
    const weighings = output.budget.find((line) => line.contribution === 'weighings');
    expect(weighings?.standardUncertainty).toBeCloseTo(10 / Math.sqrt(3), 12);
    expect(output.effectiveDegreesOfFreedom).toBeGreaterThan(2);
  });

  it('corrects for buoyancy with the sign of the lighter metal', () => {
    const output = massComparison({
      ...example,
      buoyancy: {
        kind: 'corrected',
        airDensityKilogramsPerCubicMetre: 1.15,
        airDensityStandardUncertaintyKilogramsPerCubicMetre: 0.01,
        referenceDensityKilogramsPerCubicMetre: 8000,
        referenceDensityStandardUncertaintyKilogramsPerCubicMetre: 0,
        unknownDensityKilogramsPerCubicMetre: 7000,
        unknownDensityStandardUncertaintyKilogramsPerCubicMetre: 0,
      },
    });
    // 10 kg × (1.15 − 1.2) × (1/7000 − 1/8000): the cast iron was lifted less, so it read high.
    const byHand = 1e7 * -0.05 * (1 / 7000 - 1 / 8000);
    expect(output.buoyancyCorrectionMilligrams).toBeCloseTo(byHand, 2);
    const air = output.budget.find((line) => line.contribution === 'air density');
    expect(air?.standardUncertainty).toBeCloseTo(Math.abs(byHand) / 5, 2);
  });

  it.each(['reference', 'unknown'] as const)(
    'refuses an uncertainty of the %s density that is no longer small',
    (which) => {
      const buoyancy = {
        kind: 'corrected' as const,
        airDensityKilogramsPerCubicMetre: 1.15,
        airDensityStandardUncertaintyKilogramsPerCubicMetre: 0.01,
        referenceDensityKilogramsPerCubicMetre: 4000,
        referenceDensityStandardUncertaintyKilogramsPerCubicMetre: which === 'reference' ? 1001 : 0,
        unknownDensityKilogramsPerCubicMetre: 4000,
        unknownDensityStandardUncertaintyKilogramsPerCubicMetre: which === 'unknown' ? 1001 : 0,
      };
      expect(() => massComparison({ ...example, buoyancy })).toThrow(
        `buoyancy.${which}DensityStandardUncertaintyKilogramsPerCubicMetre is 1001`,
      );
    },
  );

  it('has no spread of a single cycle and needs an earlier evaluation for it', () => {
    const single = { ...example, cycles: example.cycles.slice(0, 1) };
    expect(massComparison(single).cycleStandardDeviationMilligrams).toBeNull();
    const { pooled: _, ...without } = single;
    const problem = massComparisonCalculation.input.safeParse(without).error?.issues[0];
    expect(problem?.message).toBe(
      'an earlier evaluation of the repeatability, or two cycles or more',
    );
  });

  it('counts the degrees of freedom of the earlier evaluation', () => {
    const output = massComparison({
      ...example,
      pooled: { standardDeviationMilligrams: 25, degreesOfFreedom: 10 },
    });
    // (u/u_weighings)⁴ × 10, by hand from 29.27 and 14.43 mg.
    expect(output.effectiveDegreesOfFreedom).toBeCloseTo(10 * (29.2617 / 14.4338) ** 4, 0);
  });
});
