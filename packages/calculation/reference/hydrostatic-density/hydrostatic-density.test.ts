import { describe, expect, it } from 'vitest';
import { hydrostaticDensity } from '../../src/physical/hydrostatic-density.ts';
import values from './values.json' with { type: 'json' };

describe('fine gold weighed in air and water', () => {
  it('has the density computed from the published formula, with and without air', () => {
    const [one] = values.cases;
    if (!one) throw new Error('no case');
    const output = hydrostaticDensity({
      readingInAirGrams: one.inputs['W in air'],
      readingInLiquidGrams: one.inputs['W in water'],
      liquid: {
        kind: 'other',
        densityKilogramsPerCubicMetre: 1000 * one.inputs['rho_fl (water 20 degC)'],
      },
      airDensityKilogramsPerCubicMetre: 1000 * one.inputs.rho_a,
    });
    const actual = [
      output.densityKilogramsPerCubicMetre / 1000,
      output.uncorrectedDensityKilogramsPerCubicMetre / 1000,
    ];
    for (const [at, { value, tolerance }] of one.expected.entries()) {
      expect(Math.abs((actual[at] ?? Number.NaN) - value)).toBeLessThanOrEqual(tolerance);
    }
  });
});
