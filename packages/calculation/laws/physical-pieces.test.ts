import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readingOfMass } from '../src/mass/buoyant-mass.ts';
import { alloyDensity, elementDensities } from '../src/physical/alloy-density.ts';
import { dimensionConformity } from '../src/physical/dimension-conformity.ts';
import {
  fieldStatistics,
  grainSizeOfCount,
  grainSizeOfIntercept,
  grainsOfSize,
} from '../src/physical/grain-number.ts';
import { grainSize } from '../src/physical/grain-size.ts';
import { hydrostaticDensity } from '../src/physical/hydrostatic-density.ts';
import { vickers } from '../src/physical/vickers.ts';
import { vickersHardness } from '../src/physical/vickers-number.ts';
import { waterDensity } from '../src/physical/water-density.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

const trials = 40_000;
const tolerance = 4 / Math.sqrt(2 * trials);

describe('density by weighing in water', () => {
  it('finds the density of a body whose readings are worked out from its volume', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2000, max: 22_500, noNaN: true }),
        fc.double({ min: 1, max: 1000, noNaN: true }),
        fc.double({ min: 5, max: 35, noNaN: true }),
        fc.double({ min: 1.05, max: 1.25, noNaN: true }),
        (density, mass, celsius, air) => {
          const shared = { air, adjustingWeight: 8000, adjustingAir: air };
          const inAir = readingOfMass(mass, { ...shared, object: density });
          // Hung in water the body presses as if the air had the density of water.
          const inWater =
            (mass * (1 - waterDensity(celsius) / density) * inAir) / (mass * (1 - air / density));
          const output = hydrostaticDensity({
            readingInAirGrams: inAir,
            readingInLiquidGrams: inWater,
            liquid: { kind: 'water', temperatureCelsius: celsius, dissolvedAir: 'none' },
            airDensityKilogramsPerCubicMetre: air,
          });
          expect(output.densityKilogramsPerCubicMetre / density).toBeCloseTo(1, 9);
        },
      ),
      { seed: 441, numRuns: 300 },
    );
  });

  it('claims the spread of simulated weighings, seed 46', () => {
    const output = hydrostaticDensity({
      readingInAirGrams: 31.1035,
      readingInLiquidGrams: 29.4873,
      readingStandardUncertaintyMilligrams: 0.3,
      liquid: {
        kind: 'water',
        temperatureCelsius: 21,
        temperatureStandardUncertaintyKelvin: 0.5,
        dissolvedAir: 'none',
      },
      airDensityKilogramsPerCubicMetre: 1.19,
      airDensityStandardUncertaintyKilogramsPerCubicMetre: 0.02,
    });
    const normal = seededNormal(46);
    const densities = Array.from({ length: trials }, () => {
      const inAir = 31.1035 + 0.0003 * normal();
      const inWater = 29.4873 + 0.0003 * normal();
      const air = 1.19 + 0.02 * normal();
      const water = waterDensity(21 + 0.5 * normal()) + 0.00042 * normal();
      return (inAir * (water - air)) / (inAir - inWater) + air;
    });
    const ratio = standardDeviation(densities) / output.standardUncertaintyKilogramsPerCubicMetre;
    expect(Math.abs(ratio - 1)).toBeLessThan(tolerance);
  });

  it('has water densest near 4 °C, falling to both sides', () => {
    const grid = Array.from({ length: 401 }, (_, at) => at / 10);
    const densities = grid.map(waterDensity);
    const densest = grid[densities.indexOf(Math.max(...densities))] ?? 0;
    expect(densest).toBeCloseTo(4, 9);
    expect(densities.slice(41)).toEqual(densities.slice(41).toSorted((a, b) => b - a));
  });
});

const elements = Object.keys(elementDensities) as (keyof typeof elementDensities)[];

describe('density of an alloy', () => {
  it('lies between those of its elements and does not depend on their order', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.constantFrom(...elements), { minLength: 2, maxLength: 2 }),
        fc.integer({ min: 1, max: 9999 }),
        ([first, second], tenths) => {
          if (!first || !second) return;
          const components = [
            { element: first, massFractionPerMille: tenths / 10 },
            { element: second, massFractionPerMille: (10_000 - tenths) / 10 },
          ];
          const of = (items: typeof components) =>
            alloyDensity({ components: items, departurePercent: 0 }).densityKilogramsPerCubicMetre;
          const both = [elementDensities[first], elementDensities[second]];
          expect(of(components)).toBeGreaterThan(Math.min(...both));
          expect(of(components)).toBeLessThan(Math.max(...both));
          expect(of(components.toReversed()) / of(components)).toBeCloseTo(1, 13);
        },
      ),
      { seed: 442, numRuns: 300 },
    );
  });
});

describe('grain size', () => {
  it('of intercept and of count are inverse roads, and finer grain has the higher number', () => {
    fc.assert(
      fc.property(fc.double({ min: -2, max: 14, noNaN: true }), (size) => {
        expect(grainSizeOfCount(grainsOfSize(size))).toBeCloseTo(size, 10);
        const intercept = 0.32 * 2 ** (-size / 2);
        expect(grainSizeOfIntercept(intercept)).toBeCloseTo(size, 10);
        expect(grainSizeOfIntercept(intercept / 2)).toBeCloseTo(size + 2, 10);
      }),
      { seed: 443, numRuns: 300 },
    );
  });

  it('does not depend on magnification when length grows with it, nor on the order of fields', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 5, max: 60 }), { minLength: 2, maxLength: 12 }),
        fc.double({ min: 0.5, max: 4, noNaN: true }),
        (counts, factor) => {
          const of = (items: readonly number[], scale: number) =>
            grainSize({
              count: {
                method: 'intercepts',
                fields: items.map((intercepts) => ({
                  lineLengthMillimetres: 400 * scale,
                  intercepts,
                })),
              },
              magnification: 100 * scale,
            });
          const plain = of(counts, 1);
          expect(of(counts, factor).grainSize).toBeCloseTo(plain.grainSize, 10);
          expect(of(counts.toReversed(), 1).relativeAccuracyPercent).toBeCloseTo(
            plain.relativeAccuracyPercent ?? 0,
            9,
          );
        },
      ),
      { seed: 444, numRuns: 200 },
    );
  });

  it('has the textbook moments of its fields, by another formula', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 500 }), { minLength: 2, maxLength: 40 }),
        (values) => {
          const { mean, standardDeviation: spread } = fieldStatistics(values);
          const sum = values.reduce((total, one) => total + one, 0);
          const squares = values.reduce((total, one) => total + one * one, 0);
          // Whole numbers: both sums are exact.
          const variance = (squares - (sum * sum) / values.length) / (values.length - 1);
          expect(mean).toBeCloseTo(sum / values.length, 10);
          expect((spread ?? 0) ** 2).toBeCloseTo(variance, 6);
        },
      ),
      { seed: 445, numRuns: 300 },
    );
  });

  it('covers the true number as often as its interval says, seed 47', () => {
    const normal = seededNormal(47);
    const runs = 2000;
    let covered = 0;
    for (let run = 0; run < runs; run += 1) {
      const fields = Array.from({ length: 6 }, () => ({
        lineLengthMillimetres: 500,
        intercepts: Math.round(2 * (100 + 8 * normal())) / 2,
      }));
      const output = grainSize({ count: { method: 'intercepts', fields }, magnification: 100 });
      // 100 intercepts on 5 mm of metal: 0.05 mm.
      const truth = grainSizeOfIntercept(0.05);
      if (truth >= (output.grainSizeLower ?? 0) && truth <= (output.grainSizeUpper ?? 0))
        covered += 1;
    }
    expect(Math.abs(covered / runs - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / runs));
  });
});

describe('Vickers hardness', () => {
  it('does not change when force and square of the diagonal grow alike', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 500, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (force, diagonal, factor) => {
          const plain = vickersHardness(force, diagonal);
          expect(vickersHardness(force * factor ** 2, diagonal * factor) / plain).toBeCloseTo(
            1,
            12,
          );
          // The other road: force over the area of the four faces of the pyramid, in kgf/mm².
          const area = diagonal ** 2 / (2 * Math.sin((136 * Math.PI) / 360));
          expect(force / 9.80665 / area / plain).toBeCloseTo(1, 12);
        },
      ),
      { seed: 446, numRuns: 300 },
    );
  });

  it('claims the spread of simulated series, seed 48', () => {
    const normal = seededNormal(48);
    const series = () => {
      const microscope = 0.0004 * normal();
      const force = 4.903 * (1 + 0.004 * normal());
      const diagonals = Array.from({ length: 4 }, () => 0.15 + 0.0008 * normal() + microscope);
      return diagonals.reduce((sum, one) => sum + vickersHardness(force, one), 0) / 4;
    };
    const spread = standardDeviation(Array.from({ length: trials }, series));
    const parts = vickers({
      testForceNewtons: 4.903,
      indentations: [
        { label: 'A', firstDiagonalMillimetres: 0.15, secondDiagonalMillimetres: 0.15 },
      ],
      spacingGroup: 'steel and copper alloys',
      diagonalStandardUncertaintyMillimetres: Math.hypot(0.0004, 0.0008 / 2),
      forceRelativeStandardUncertaintyPercent: 0.4,
    });
    expect(Math.abs(spread / parts.standardUncertainty - 1)).toBeLessThan(tolerance);
  });
});

describe('dimensions against their limits', () => {
  it('never find a place outside its limits to conform, nor one inside not to', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('expanded uncertainty' as const, 'probability 95 %' as const),
        fc.double({ min: 1.9, max: 2.2, noNaN: true }),
        fc.double({ min: 0.001, max: 0.1, noNaN: true }),
        (rule, reading, uncertainty) => {
          const { verdict } = dimensionConformity({
            rule,
            dimensions: [
              {
                label: 'thickness',
                readingsMillimetres: [reading],
                lowerLimitMillimetres: 2,
                upperLimitMillimetres: 2.1,
                standardUncertaintyMillimetres: uncertainty,
              },
            ],
          });
          if (reading < 2 || reading > 2.1) expect(verdict).not.toBe('conforms');
          else expect(verdict).not.toBe('does not conform');
        },
      ),
      { seed: 447, numRuns: 500 },
    );
  });

  it('accept a false place at most as often as 5 %, seed 49', () => {
    const normal = seededNormal(49);
    const runs = 20_000;
    let accepted = 0;
    // The true size lies on the limit itself: the worst of the places that barely do not conform.
    for (let run = 0; run < runs; run += 1) {
      const reading = 2.1 + 0.01 * normal();
      // 95 % by the normal distribution: 1.6449 standard uncertainties within the limit.
      if (reading <= 2.1 - 0.016449) accepted += 1;
    }
    const share = accepted / runs;
    expect(Math.abs(share - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / runs));
    const judge = (reading: number) =>
      dimensionConformity({
        rule: 'probability 95 %',
        dimensions: [
          {
            label: 'thickness',
            readingsMillimetres: [reading],
            upperLimitMillimetres: 2.1,
            standardUncertaintyMillimetres: 0.01,
          },
        ],
      }).verdict;
    expect([judge(2.1 - 0.01645), judge(2.1 - 0.01644)]).toEqual(['conforms', 'undecided']);
  });
});
