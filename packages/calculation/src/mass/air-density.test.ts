import { describe, expect, it } from 'vitest';
import { airDensity, airDensityCalculation } from './air-density.ts';

const example = airDensityCalculation.example;

describe('airDensity', () => {
  it('gives the density of the example with an uncertainty of its readings and formula', () => {
    const output = airDensity(example);
    // Constants of CIPM-2007 evaluated, reference/air-density.
    expect(output.densityKilogramsPerCubicMetre).toBeCloseTo(1.19931, 5);
    // By hand, relative: −1/T less 0.378·xv·6.2 %/K of vapour is −0.00368/K for 0.1 K; 1e-5/Pa for
    // 20 Pa; 0.378·xv/h is 0.0088 for 2 % of humidity; 22e-6 for the formula.
    const byHand = 1.19931 * Math.hypot(3.68e-4, 2e-4, 1.76e-4, 22e-6);
    const ratio = output.standardUncertaintyKilogramsPerCubicMetre / byHand;
    expect(Math.abs(ratio - 1)).toBeLessThan(0.01);
    expect(output.expandedUncertaintyKilogramsPerCubicMetre).toBe(
      2 * output.standardUncertaintyKilogramsPerCubicMetre,
    );
    const shares = output.budget.reduce((sum, line) => sum + line.sharePercent, 0);
    expect(shares).toBeCloseTo(100, 9);
  });

  it('is left with the uncertainty of the formula when the readings are exact', () => {
    const of = (formula: 'CIPM-2007' | 'simplified') =>
      airDensity({
        formula,
        temperatureCelsius: 20,
        pressureHectopascals: 1000,
        relativeHumidityPercent: 40,
      });
    expect(of('CIPM-2007').relativeStandardUncertaintyPartsPerMillion).toBeCloseTo(22, 9);
    expect(of('simplified').relativeStandardUncertaintyPartsPerMillion).toBeCloseTo(200, 9);
  });

  it('shows both formulas beside the one that was asked for', () => {
    const output = airDensity({ ...example, formula: 'simplified' });
    expect(output.densityKilogramsPerCubicMetre).toBe(
      output.simplifiedDensityKilogramsPerCubicMetre,
    );
    const relative =
      output.simplifiedDensityKilogramsPerCubicMetre / output.cipmDensityKilogramsPerCubicMetre - 1;
    expect(Math.abs(relative)).toBeLessThan(2e-4);
  });

  it.each([
    ['temperatureCelsius', 14.99, 'from 15 to 27 °C'],
    ['temperatureCelsius', 27.01, 'from 15 to 27 °C'],
    ['pressureHectopascals', 599.9, 'from 600 to 1100 hPa'],
    ['pressureHectopascals', 1100.1, 'from 600 to 1100 hPa'],
  ] as const)('refuses %s %s with the full formula', (field, value, accepted) => {
    expect(() => airDensity({ ...example, [field]: value })).toThrow(accepted);
  });

  it.each([
    ['temperatureCelsius', 9.9, 'from 10 to 30 °C'],
    ['pressureHectopascals', 899, 'from 900 to 1100 hPa'],
    ['relativeHumidityPercent', 81, 'from 0 to 80 %'],
  ] as const)('refuses %s %s with the short formula', (field, value, accepted) => {
    const input = { ...example, formula: 'simplified' as const, [field]: value };
    expect(() => airDensity(input)).toThrow(accepted);
  });
});
