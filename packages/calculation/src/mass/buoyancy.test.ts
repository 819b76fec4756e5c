import { describe, expect, it } from 'vitest';
import { buoyancy, buoyancyCalculation } from './buoyancy.ts';

const gold = {
  objectDensityKilogramsPerCubicMetre: 19_300,
  airDensityKilogramsPerCubicMetre: 1.2,
} as const;

describe('buoyancy', () => {
  it('corrects the aluminium sample of the manual by 0.589 mg', () => {
    const output = buoyancy(buoyancyCalculation.example);
    expect(output.correctionMilligrams).toBeCloseTo(0.589, 3);
    expect(output.readingGrams).toBeCloseTo(2, 12);
    expect(output.words).toContain('above the reading');
  });

  it('finds conventional mass and reading the same in conventional air', () => {
    const output = buoyancy({ known: 'reading', valueGrams: 31.1, ...gold });
    expect(output.conventionalMassGrams).toBeCloseTo(31.1, 12);
    expect(output.correctionMilligrams).toBeLessThan(0);
  });

  it('leaves an object of the density of the weight as it reads, in any air', () => {
    const output = buoyancy({
      known: 'reading',
      valueGrams: 100,
      objectDensityKilogramsPerCubicMetre: 8000,
      airDensityKilogramsPerCubicMetre: 1.1,
    });
    expect(output.massGrams).toBeCloseTo(100, 12);
    expect(output.conventionalMassGrams).toBeCloseTo(100, 12);
  });

  it('carries the uncertainty of the object density by hand', () => {
    const output = buoyancy({
      known: 'reading',
      valueGrams: 100,
      ...gold,
      objectDensityStandardUncertaintyKilogramsPerCubicMetre: 100,
    });
    // dm = m·ρa·dρ/ρ²: 100 g × 1.2 × 100/19300² = 0.0322 mg.
    expect(output.massStandardUncertaintyMilligrams).toBeCloseTo(
      (1e5 * 1.2 * 100) / 19_300 ** 2,
      5,
    );
    expect(output.conventionalMassStandardUncertaintyMilligrams).toBeLessThan(1e-9);
  });

  it('counts other air at the adjustment', () => {
    const input = { known: 'reading', valueGrams: 100, ...gold } as const;
    const same = buoyancy(input);
    const other = buoyancy({ ...input, adjustingAirDensityKilogramsPerCubicMetre: 1.1 });
    // The weight of 8000 kg/m³ was lifted less then: 100 g × 0.1/8000 = 1.25 mg.
    expect(1000 * (other.massGrams - same.massGrams)).toBeCloseTo(1.25, 3);
  });

  it('refuses an uncertainty of a density that is no longer small', () => {
    const input = {
      known: 'reading',
      valueGrams: 2,
      ...gold,
      objectDensityKilogramsPerCubicMetre: 1000,
    } as const;
    expect(() =>
      buoyancy({ ...input, objectDensityStandardUncertaintyKilogramsPerCubicMetre: 251 }),
    ).toThrow('at most a quarter of the figure itself, 250');
    expect(() =>
      buoyancy({
        ...input,
        adjustingWeightDensityKilogramsPerCubicMetre: 3000,
        adjustingWeightDensityStandardUncertaintyKilogramsPerCubicMetre: 800,
      }),
    ).toThrow(/adjustingWeightDensityStandardUncertainty.* is 800/);
  });

  it('refuses the reading of an object lighter than the schema allows', () => {
    const input = { ...buoyancyCalculation.example, objectDensityKilogramsPerCubicMetre: 100 };
    expect(buoyancyCalculation.input.safeParse(input).error?.issues[0]?.message).toBe(
      'a density of the object from 500 to 25000 kg/m³',
    );
  });
});
