import { describe, expect, it } from 'vitest';
import { buoyancy } from '../../src/mass/buoyancy.ts';
import { conventionalMass, massOfReading } from '../../src/mass/buoyant-mass.ts';
import values from './values.json' with { type: 'json' };

const conventional = values.cases.filter((one) => one.id === 'conv-mass-gold');
const readings = values.cases.filter((one) => one.id !== 'conv-mass-gold');

describe('readings corrected for buoyancy', () => {
  it.each(readings.map((one) => [one.id, one] as const))('%s', (_id, one) => {
    const inputs = one.inputs as Record<string, number>;
    const density = inputs['sample density'] ?? inputs.density ?? 0;
    const reading = inputs.reading ?? 0;
    const air = 1000 * (inputs['air density'] ?? 0);
    const mass = massOfReading(reading, {
      object: 1000 * density,
      air,
      adjustingWeight: 1000 * (inputs['weight density'] ?? 0),
      adjustingAir: air,
    });
    const actual = [mass, mass - reading];
    for (const [at, { value, tolerance }] of one.expected.entries()) {
      expect(Math.abs((actual[at] ?? Number.NaN) - value)).toBeLessThanOrEqual(tolerance);
    }
    const output = buoyancy({
      known: 'reading',
      valueGrams: reading / 1000,
      objectDensityKilogramsPerCubicMetre: 1000 * density,
      airDensityKilogramsPerCubicMetre: air,
    });
    expect(output.massGrams * 1000).toBeCloseTo(mass, 9);
  });
});

describe('conventional mass', () => {
  it('of a gold cornet is the computed one', () => {
    const [one] = conventional;
    if (!one) throw new Error('no case');
    const inputs = one.inputs as Record<string, number>;
    const { value = 0, tolerance = 0 } = one.expected[0] ?? {};
    const found = conventionalMass(inputs.m ?? 0, inputs.rho ?? 0);
    expect(Math.abs(found - value)).toBeLessThanOrEqual(tolerance);
  });
});
