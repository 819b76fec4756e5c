import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buoyancy } from '../src/mass/buoyancy.ts';
import { conventionalMass, massOfReading, readingOfMass } from '../src/mass/buoyant-mass.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

const solid = fc.double({ min: 1000, max: 22_500, noNaN: true });
const air = fc.double({ min: 0.9, max: 1.3, noNaN: true });
const densities = fc.record({ object: solid, air, adjustingWeight: solid, adjustingAir: air });

describe('laws of buoyancy', () => {
  it('reading and mass are inverse to each other', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e4, noNaN: true }), densities, (mass, all) => {
        expect(massOfReading(readingOfMass(mass, all), all) / mass).toBeCloseTo(1, 13);
      }),
      { seed: 421, numRuns: 500 },
    );
  });

  it('the balance shows the conventional mass of its own adjusting weight in the same air', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e4, noNaN: true }), densities, (mass, all) => {
        const same = { ...all, object: all.adjustingWeight, adjustingAir: all.air };
        const conventional = conventionalMass(mass, all.adjustingWeight);
        expect(readingOfMass(mass, same) / conventional).toBeCloseTo(1, 13);
      }),
      { seed: 422, numRuns: 500 },
    );
  });

  it('the three masses of one object agree from whichever is known', () => {
    fc.assert(
      fc.property(
        solid,
        air,
        fc.double({ min: 0.01, max: 1000, noNaN: true }),
        (object, lift, value) => {
          const input = {
            objectDensityKilogramsPerCubicMetre: object,
            airDensityKilogramsPerCubicMetre: lift,
          };
          const first = buoyancy({ ...input, known: 'reading', valueGrams: value });
          const others = [
            buoyancy({ ...input, known: 'mass', valueGrams: first.massGrams }),
            buoyancy({
              ...input,
              known: 'conventional mass',
              valueGrams: first.conventionalMassGrams,
            }),
          ];
          for (const other of others) {
            expect(other.massGrams / first.massGrams).toBeCloseTo(1, 13);
            expect(other.readingGrams / value).toBeCloseTo(1, 13);
            expect(other.conventionalMassGrams / first.conventionalMassGrams).toBeCloseTo(1, 13);
          }
        },
      ),
      { seed: 423, numRuns: 200 },
    );
  });

  it('agrees with the linear form to second order in the air density', () => {
    fc.assert(
      fc.property(solid, air, (object, lift) => {
        const mass = massOfReading(1, {
          object,
          air: lift,
          adjustingWeight: 8000,
          adjustingAir: lift,
        });
        const linear = 1 + lift * (1 / object - 1 / 8000);
        expect(Math.abs(mass - linear)).toBeLessThan(2 * (lift / Math.min(object, 8000)) ** 2);
      }),
      { seed: 424, numRuns: 500 },
    );
  });

  it('claims the spread of simulated weighings, seed 42', () => {
    const input = {
      known: 'reading',
      valueGrams: 31.1,
      objectDensityKilogramsPerCubicMetre: 17_600,
      airDensityKilogramsPerCubicMetre: 1.17,
      valueStandardUncertaintyMilligrams: 0.02,
      objectDensityStandardUncertaintyKilogramsPerCubicMetre: 200,
      airDensityStandardUncertaintyKilogramsPerCubicMetre: 0.02,
      adjustingWeightDensityStandardUncertaintyKilogramsPerCubicMetre: 50,
    } as const;
    const output = buoyancy(input);
    const normal = seededNormal(42);
    const trials = 40_000;
    const simulated = Array.from({ length: trials }, () => {
      const all = {
        object: 17_600 + 200 * normal(),
        air: 1.17 + 0.02 * normal(),
        adjustingWeight: 8000 + 50 * normal(),
      };
      const mass = massOfReading(31.1 + 0.00002 * normal(), { ...all, adjustingAir: all.air });
      return { mass, conventional: conventionalMass(mass, all.object) };
    });
    const ratios = [
      (1000 * standardDeviation(simulated.map((one) => one.mass))) /
        output.massStandardUncertaintyMilligrams,
      (1000 * standardDeviation(simulated.map((one) => one.conventional))) /
        output.conventionalMassStandardUncertaintyMilligrams,
    ];
    for (const ratio of ratios) {
      expect(Math.abs(ratio - 1)).toBeLessThan(4 / Math.sqrt(2 * trials));
    }
  });
});
