import { describe, expect, it } from 'vitest';
import { hydrostaticDensity, hydrostaticDensityCalculation } from './hydrostatic-density.ts';
import { dissolvedAirChange, waterDensity } from './water-density.ts';

const example = hydrostaticDensityCalculation.example;

describe('hydrostaticDensity', () => {
  it('finds fine gold too light in the example, within its uncertainty', () => {
    const output = hydrostaticDensity(example);
    expect(output.densityKilogramsPerCubicMetre).toBeCloseTo(19_188, 0);
    // 0.5 mg of a loss of 1616.2 mg, twice: 8 to 9 kg/m³.
    expect(output.standardUncertaintyKilogramsPerCubicMetre).toBeGreaterThan(8);
    expect(output.standardUncertaintyKilogramsPerCubicMetre).toBeLessThan(9);
    expect(output.agrees).toBe(false);
    expect(output.words).toContain('set the piece apart');
  });

  it('agrees within two standard uncertainties and warns that this proves nothing', () => {
    const output = hydrostaticDensity({
      ...example,
      expectedDensityKilogramsPerCubicMetre: 19_200,
    });
    expect(output.agrees).toBe(true);
    expect(output.words).toContain('proves nothing');
  });

  it('gives volume and density that make up the conventional mass', () => {
    const output = hydrostaticDensity(example);
    // True mass from reading and densities, as the buoyancy entry has it.
    const mass = (31.1035 * (1 - 1.2 / 8000)) / (1 - 1.2 / output.densityKilogramsPerCubicMetre);
    const product = output.volumeCubicMillimetres * output.densityKilogramsPerCubicMetre * 1e-6;
    expect(product).toBeCloseTo(mass, 9);
  });

  it('makes water with air lighter', () => {
    const of = (dissolvedAir: 'none' | 'saturated') =>
      hydrostaticDensity({
        ...example,
        liquid: { kind: 'water', temperatureCelsius: 20, dissolvedAir },
      }).liquidDensityKilogramsPerCubicMetre;
    expect(of('saturated') - of('none')).toBeCloseTo(dissolvedAirChange(20), 9);
    // −4.612e-3 + 0.106e-3 × 20.
    expect(dissolvedAirChange(20)).toBeCloseTo(-0.002492, 9);
  });

  it('compares nothing without an expected density', () => {
    const { expectedDensityKilogramsPerCubicMetre: _, ...rest } = example;
    expect(hydrostaticDensity(rest)).toMatchObject({
      agrees: null,
      differenceKilogramsPerCubicMetre: null,
    });
  });

  it('refuses a reading in the liquid that is not below that in air', () => {
    expect(() => hydrostaticDensity({ ...example, readingInLiquidGrams: 31.1035 })).toThrow(
      'a reading below that in air, 31.1035 g',
    );
  });

  it('refuses a reading that is as uncertain as the loss itself', () => {
    const input = { ...example, readingInLiquidGrams: 31.1034 };
    expect(() => hydrostaticDensity(input)).toThrow(/readingStandardUncertaintyMilligrams is 0.5/);
  });

  it('refuses water with air above 25 °C', () => {
    expect(() =>
      hydrostaticDensity({
        ...example,
        liquid: { kind: 'water', temperatureCelsius: 26, dissolvedAir: 'saturated' },
      }),
    ).toThrow('at most 25 °C for water that holds dissolved air');
  });

  it('refuses water outside 0 °C to 40 °C', () => {
    expect(() => waterDensity(-0.1)).toThrow('a temperature from 0 °C to 40 °C');
    expect(() => waterDensity(40.1)).toThrow('a temperature from 0 °C to 40 °C');
  });
});
