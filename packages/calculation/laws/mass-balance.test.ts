import fc from 'fast-check';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import {
  balanceUncertainty,
  balanceUncertaintyCalculation,
} from '../src/mass/balance-uncertainty.ts';
import { leastWeighableMass } from '../src/mass/least-weighable-mass.ts';
import { massComparison } from '../src/mass/mass-comparison.ts';
import { scaleLimits } from '../src/mass/scale-limits.ts';
import { weightDrift } from '../src/mass/weight-drift.ts';
import { weightLimits } from '../src/mass/weight-limits.ts';
import {
  nominalMasses,
  weightClasses,
  weightLimitMilligrams,
} from '../src/mass/weight-limits-table.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

const trials = 40_000;
const tolerance = 4 / Math.sqrt(2 * trials);

describe('uncertainty of a reading', () => {
  it('is the spread of simulated readings of the example, seed 43', () => {
    const input = balanceUncertaintyCalculation.example;
    const normal = seededNormal(43);
    const generator = xoroshiro128plus(43);
    const within = (half: number) => half * (2 * uniformFloat64(generator) - 1);
    const mass = input.readingGrams;
    const errors = Array.from({ length: trials }, () => {
      const repeat = input.repeatabilityStandardDeviationMilligrams * normal();
      const rounding = within(0.05) + within(0.05);
      const corner = within((0.3 * mass) / 200);
      // The sensitivity drifts by 1.5 ppm/K; the temperature lies anywhere within 4 K.
      const warm = 1.5e-6 * within(2) * mass * 1000;
      const lift = within(0.04) * (1 / 19_300 - 1 / 8000) * mass * 1000;
      return repeat + rounding + within(0.2) + 0.075 * normal() + corner + warm + lift;
    });
    const ratio =
      standardDeviation(errors) / balanceUncertainty(input).standardUncertaintyMilligrams;
    // A sum with flat parts has less kurtosis than a normal one, so the bound is on the safe side.
    expect(Math.abs(ratio - 1)).toBeLessThan(tolerance);
  });

  it('has shares that add to 100 % and grows with every part', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 200, noNaN: true }),
        fc.double({ min: 0.001, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (reading, spread, linearity) => {
          const input = {
            readingGrams: reading,
            readingsAveraged: 1,
            scaleIntervalMilligrams: 0.01,
            repeatabilityStandardDeviationMilligrams: spread,
            linearityLimitMilligrams: linearity,
            levelPercent: 95,
          };
          const output = balanceUncertainty(input);
          const shares = output.budget.reduce((sum, line) => sum + line.sharePercent, 0);
          expect(shares).toBeCloseTo(100, 8);
          const more = balanceUncertainty({ ...input, linearityLimitMilligrams: linearity + 1 });
          expect(more.standardUncertaintyMilligrams).toBeGreaterThan(
            output.standardUncertaintyMilligrams,
          );
        },
      ),
      { seed: 431, numRuns: 200 },
    );
  });
});

describe('least weighable mass', () => {
  it('is just the mass with the relative uncertainty required', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-4, max: 10, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 0.9, noNaN: true }),
        (spread, required, safety, share) => {
          const input = {
            repeatability: { kind: 'stated' as const, standardDeviationMilligrams: spread },
            scaleIntervalMilligrams: 0.001,
            coverageFactor: 2,
            requiredRelativeUncertaintyPercent: required,
            safetyFactor: safety,
            proportionalUncertaintyPercent: (share * required) / (2 * safety),
          };
          const least = leastWeighableMass(input).leastMassMilligrams;
          const at = leastWeighableMass({ ...input, intendedMassMilligrams: least });
          expect((at.intendedRelativeUncertaintyPercent ?? 0) / required).toBeCloseTo(1, 9);
          expect(at.isIntendedMassEnough).toBe(true);
        },
      ),
      { seed: 432, numRuns: 300 },
    );
  });
});

const reading = fc.integer({ min: -100_000, max: 100_000 }).map((value) => value / 1e6);

describe('mass comparison', () => {
  const base = {
    reference: {
      conventionalMassGrams: 100,
      expandedUncertaintyMilligrams: 0.05,
      coverageFactor: 2,
      driftLimitMilligrams: 0.01,
    },
    pooled: { standardDeviationMilligrams: 0.02 },
    cornerLoadLimitMilligrams: 0,
    buoyancy: { kind: 'limit' as const, limitMilligrams: 0.01 },
    levelPercent: 95,
  };

  it('does not feel a steady drift, and reports it', () => {
    fc.assert(
      fc.property(reading, reading, reading, (reference, unknown, step) => {
        const cycle = (drift: number) =>
          massComparison({
            ...base,
            cycles: [
              {
                firstReferenceGrams: reference,
                firstUnknownGrams: unknown + drift,
                secondUnknownGrams: unknown + 2 * drift,
                secondReferenceGrams: reference + 3 * drift,
              },
            ],
          });
        const still = cycle(0);
        const drifting = cycle(step);
        expect(drifting.meanDifferenceMilligrams).toBeCloseTo(still.meanDifferenceMilligrams, 8);
        expect(drifting.driftsMilligrams[0]).toBeCloseTo(1000 * step, 8);
      }),
      { seed: 433, numRuns: 300 },
    );
  });

  it('turns its sign when reference and unknown are exchanged', () => {
    fc.assert(
      fc.property(fc.tuple(reading, reading, reading, reading), ([a, b, c, d]) => {
        const of = (w: number, x: number, y: number, z: number) =>
          massComparison({
            ...base,
            cycles: [
              {
                firstReferenceGrams: w,
                firstUnknownGrams: x,
                secondUnknownGrams: y,
                secondReferenceGrams: z,
              },
            ],
          }).meanDifferenceMilligrams;
        expect(of(b, a, d, c)).toBe(-of(a, b, c, d) + 0);
      }),
      { seed: 434, numRuns: 300 },
    );
  });

  it('claims the spread of simulated comparisons, seed 44', () => {
    const normal = seededNormal(44);
    const generator = xoroshiro128plus(44);
    const within = (half: number) => half * (2 * uniformFloat64(generator) - 1);
    const claimed = massComparison({
      ...base,
      cycles: Array.from({ length: 3 }, () => ({
        firstReferenceGrams: 0,
        firstUnknownGrams: 0,
        secondUnknownGrams: 0,
        secondReferenceGrams: 0,
      })),
    }).standardUncertaintyMilligrams;
    // One reading scatters by s, so a cycle of two against two by s as well.
    const cycle = () => 0.02 * ((normal() + normal()) / 2 - (normal() + normal()) / 2);
    const errors = Array.from(
      { length: trials },
      () => 0.025 * normal() + within(0.01) + within(0.01) + (cycle() + cycle() + cycle()) / 3,
    );
    expect(Math.abs(standardDeviation(errors) / claimed - 1)).toBeLessThan(tolerance);
  });
});

describe('limits of weights and scales', () => {
  it('grow from class to class, and never fall from a weight to a heavier one', () => {
    for (const weightClass of weightClasses) {
      const limits = nominalMasses
        .toReversed()
        .map((nominal) => Number(weightLimitMilligrams(nominal, weightClass) ?? Number.NaN))
        .filter((limit) => !Number.isNaN(limit));
      expect(limits).toEqual(limits.toSorted((left, right) => left - right));
    }
    for (const nominal of nominalMasses) {
      const limits = weightClasses
        .map((weightClass) => Number(weightLimitMilligrams(nominal, weightClass) ?? Number.NaN))
        .filter((limit) => !Number.isNaN(limit));
      expect(limits).toEqual([...new Set(limits)].toSorted((left, right) => left - right));
    }
  });

  it('let no weight fit a class and fail a coarser one', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...nominalMasses.slice(6)),
        fc.double({ min: -100, max: 100, noNaN: true }),
        fc.option(fc.double({ min: 0, max: 30, noNaN: true }), { nil: undefined }),
        (nominalMass, error, uncertainty) => {
          const { limits } = weightLimits({
            nominalMass,
            weightClass: 'F1',
            errorMilligrams: error,
            ...(uncertainty === undefined ? {} : { expandedUncertaintyMilligrams: uncertainty }),
          });
          const first = limits.findIndex((one) => one.verdict === 'fits');
          if (first < 0) return;
          expect(limits.slice(first).every((one) => one.verdict === 'fits')).toBe(true);
        },
      ),
      { seed: 435, numRuns: 500 },
    );
  });

  it('of a scale never fall with the load', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('I', 'II', 'III'),
        fc.array(fc.integer({ min: 0, max: 3_000_000 }), { minLength: 2, maxLength: 20 }),
        (scaleClass, loads) => {
          const sorted = loads.toSorted((left, right) => left - right);
          const limits = scaleLimits({
            scaleClass,
            verificationIntervalGrams: 0.1,
            capacityGrams: 300_000,
            loads: sorted.map((load) => ({ loadGrams: load / 10 })),
          }).loads.map((one) => one.limitGrams);
          expect(limits).toEqual(limits.toSorted((left, right) => left - right));
        },
      ),
      { seed: 436, numRuns: 200 },
    );
  });
});

describe('drift of a check weight', () => {
  it('covers the next calibration as often as its level says, seed 45', () => {
    const normal = seededNormal(45);
    const dates = Array.from({ length: 8 }, (_, at) => `${2010 + at}-06-01`);
    const runs = 2000;
    let covered = 0;
    let jumps = 0;
    for (let run = 0; run < runs; run += 1) {
      const error = (at: number) => 0.01 + 0.003 * at + 0.005 * normal();
      const output = weightDrift({
        history: dates.map((date, at) => ({ date, errorMilligrams: error(at) })),
        nextDate: '2018-06-01',
        levelPercent: 90,
      });
      const next = error(8);
      if (next >= output.nextLowerMilligrams && next <= output.nextUpperMilligrams) covered += 1;
      if (output.isJumpShown) jumps += 1;
    }
    // Four standard errors of a share of 90 % of that many runs.
    expect(Math.abs(covered / runs - 0.9)).toBeLessThan(4 * Math.sqrt((0.9 * 0.1) / runs));
    // Bonferroni's bound: false jumps at most at 10 %, give or take the same.
    expect(jumps / runs).toBeLessThan(0.1 + 4 * Math.sqrt((0.9 * 0.1) / runs));
    expect(jumps).toBeGreaterThan(0);
  });
});
