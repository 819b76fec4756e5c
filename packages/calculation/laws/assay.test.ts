import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cupellationRun, cupellationRunCalculation } from '../src/assay/cupellation-run.ts';
import { densityScreen, densityScreenCalculation } from '../src/assay/density-screen.ts';
import { lotFineness } from '../src/assay/lot-fineness.ts';
import { type MeltFinenessInput, meltFineness } from '../src/assay/melt-fineness.ts';
import { proofShares } from '../src/assay/muffle-position.ts';
import {
  spectrometricDifference,
  spectrometricDifferenceCalculation,
} from '../src/assay/spectrometric-difference.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

const runs = { seed: 1848, numRuns: 200 };
const fineness = fc.double({ min: 900, max: 999, noNaN: true });
const part = fc.double({ min: 0.001, max: 1, noNaN: true });

type Portion = MeltFinenessInput['determinations'][number];
const portion = (
  blank: string,
  value: number,
  own: number,
  shared: number,
  method: number,
): Portion => ({
  run: 'R-1',
  label: blank,
  blank,
  finenessPerMille: value,
  ownStandardUncertaintyPerMille: own,
  runStandardUncertaintyPerMille: shared,
  methodStandardUncertaintyPerMille: method,
});

describe('fineness of a melt', () => {
  const several = fc
    .array(fc.tuple(fc.constantFrom('A', 'B', 'C', 'D'), fineness, part), {
      minLength: 2,
      maxLength: 12,
    })
    .filter((list) => new Set(list.map(([blank]) => blank)).size > 1);

  it('never claims less than the shared parts, whatever the order, and its shares add to 100 %', () => {
    fc.assert(
      fc.property(several, part, part, (list, shared, method) => {
        const determinations = list.map(([blank, value, own]) =>
          portion(blank, value, own, shared, method),
        );
        const of = (some: Portion[]) =>
          meltFineness({ statistic: 'mean', ownPart: 'as stated', determinations: some });
        const found = of(determinations);
        const least = Math.hypot(shared, method) * (1 - 1e-12);
        expect(found.standardUncertaintyPerMille).toBeGreaterThanOrEqual(least);
        expect(found.budget.reduce((sum, line) => sum + line.sharePercent, 0)).toBeCloseTo(100, 9);
        const turned = of([...determinations].reverse());
        expect(turned.standardUncertaintyPerMille).toBeCloseTo(
          found.standardUncertaintyPerMille,
          9,
        );
      }),
      runs,
    );
  });

  it('claims, from replicates, the variance that simulated melts show', () => {
    const normal = seededNormal(31);
    // Unbalanced: 3, 2 and 1 portions of three blanks; between 0.3, within 0.15.
    const layout = ['A', 'A', 'A', 'B', 'B', 'C'];
    const rounds = 6000;
    let [claimed, errors] = [0, 0];
    for (let round = 0; round < rounds; round += 1) {
      const blanks = new Map(['A', 'B', 'C'].map((blank) => [blank, 0.3 * normal()]));
      const determinations = layout.map((blank) =>
        portion(blank, 916 + (blanks.get(blank) ?? 0) + 0.15 * normal(), 0, 0, 0),
      );
      const found = meltFineness({ statistic: 'mean', ownPart: 'from replicates', determinations });
      claimed += found.standardUncertaintyPerMille ** 2;
      errors += (found.finenessPerMille - 916) ** 2;
    }
    // Cutting negative parts between blanks at 0 adds a few per cent; scatter of the sums the rest.
    expect(claimed / errors).toBeGreaterThan(0.93);
    expect(claimed / errors).toBeLessThan(1.1);
  });
});

describe('fineness of a lot', () => {
  it('lies between its melts, is unmoved by splitting one, and keeps the shared part whole', () => {
    const mass = fc.double({ min: 10, max: 10_000, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(mass, fineness), { minLength: 1, maxLength: 10 }),
        part,
        (list, shared) => {
          const melt = (label: string, grossMassGrams: number, finenessPerMille: number) => ({
            label,
            grossMassGrams,
            massStandardUncertaintyGrams: 0.001,
            finenessPerMille,
            ownStandardUncertaintyPerMille: 0,
            sharedStandardUncertaintyPerMille: shared,
          });
          const of = (melts: ReturnType<typeof melt>[]) =>
            lotFineness({ melts, guaranteedFinenessPerMille: 900, coverageFactor: 2 });
          const whole = of(list.map(([grams, value], i) => melt(`${i}`, grams, value)));
          const values = list.map(([, value]) => value);
          expect(whole.meanFinenessPerMille).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
          expect(whole.meanFinenessPerMille).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
          expect(whole.worstFinenessPerMille).toBe(Math.min(...values));
          expect(whole.sharedStandardUncertaintyPerMille).toBeCloseTo(shared, 10);
          const halves = of(
            list.flatMap(([grams, value], i) => [
              melt(`${i}a`, grams / 2, value),
              melt(`${i}b`, grams / 2, value),
            ]),
          );
          expect(halves.meanFinenessPerMille).toBeCloseTo(whole.meanFinenessPerMille, 9);
        },
      ),
      runs,
    );
  });
});

describe('correction over the muffle', () => {
  const place = fc.record({
    row: fc.integer({ min: 1, max: 8 }),
    column: fc.integer({ min: 1, max: 8 }),
  });
  const places = fc.uniqueArray(place, {
    minLength: 3,
    maxLength: 8,
    comparator: (a, b) => a.row === b.row && a.column === b.column,
  });

  it('has shares that add to 1, never negative but under a plane', () => {
    fc.assert(
      fc.property(places, place, (proofs, at) => {
        for (const interpolation of ['mean', 'inverse distance'] as const) {
          const shares = proofShares(interpolation, proofs, at);
          expect(shares.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 12);
          expect(Math.min(...shares)).toBeGreaterThanOrEqual(0);
        }
        const isSpread = new Set(proofs.map((one) => one.row)).size > 2;
        const [first, second, third] = proofs;
        if (!isSpread || !first || !second || !third) return;
        const area =
          (second.row - first.row) * (third.column - first.column) -
          (third.row - first.row) * (second.column - first.column);
        if (area === 0) return;
        const shares = proofShares('plane', proofs, at);
        expect(shares.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 9);
      }),
      runs,
    );
  });

  it('claims the spread of simulated runs under a plane', () => {
    const normal = seededNormal(32);
    const example = cupellationRunCalculation.example;
    const corners = [
      [1, 1],
      [1, 6],
      [6, 1],
      [6, 6],
    ];
    const input = {
      ...example,
      interpolation: 'plane' as const,
      repeatabilityStandardDeviationPerMille: 0.1,
      weighingStandardUncertaintyMilligrams: 0.01,
      proofGoldStandardUncertaintyPerMille: 0.03,
    };
    const truth = (row: number, column: number) => 0.05 + 0.02 * row - 0.01 * column;
    const simulate = (noise: () => number) => {
      const purity = 1 - 0.00003 * noise();
      const proofs = corners.map(([row = 0, column = 0], i) => {
        const gold = 229;
        const cornet = gold * purity - truth(row, column) + 0.025 * noise();
        return {
          label: `P${i}`,
          row,
          column,
          goldTakenMilligrams: gold + 0.01 * noise(),
          cornetMassMilligrams: cornet + 0.01 * noise(),
        };
      });
      const samples = [
        [2, 3],
        [5, 2],
      ].map(([row = 0, column = 0], i) => ({
        label: `A${i}`,
        melt: 'A',
        row,
        column,
        sampleMassMilligrams: 250 + 0.01 * noise(),
        cornetMassMilligrams: 229 - truth(row, column) + 0.025 * noise() + 0.01 * noise(),
      }));
      return cupellationRun({ ...input, proofs, samples }).melts[0];
    };
    const claimed = simulate(() => 0)?.standardUncertaintyPerMille ?? 0;
    const rounds = 3000;
    const means = Array.from({ length: rounds }, () => simulate(normal)?.meanFinenessPerMille ?? 0);
    // Four standard errors of a standard deviation: 4/√(2·3000) = 5.2 %.
    expect(Math.abs(standardDeviation(means) / claimed - 1)).toBeLessThan(0.052);
    expect(means.reduce((sum, one) => sum + one, 0) / rounds).toBeCloseTo(916, 1);
  });
});

describe('difference from a spectrometer', () => {
  it('scales with dilution and mass, and orders its policies', () => {
    const example = spectrometricDifferenceCalculation.example;
    fc.assert(
      fc.property(fc.double({ min: 1.01, max: 20, noNaN: true }), (factor) => {
        const plain = spectrometricDifference(example);
        const diluted = spectrometricDifference({ ...example, dilutionFactor: factor });
        diluted.elements.forEach((one, i) => {
          const before = plain.elements[i]?.contentMilligramsPerKilogram ?? 0;
          expect(one.contentMilligramsPerKilogram / before).toBeCloseTo(factor, 9);
        });
        const { zero, half, limit } = diluted.byPolicy;
        expect(zero).toBeGreaterThanOrEqual(half);
        expect(half).toBeGreaterThanOrEqual(limit);
        expect(zero - half).toBeCloseTo(half - limit, 9);
      }),
      { seed: 2, numRuns: 50 },
    );
  });
});

describe('density of an alloy', () => {
  it('rises with the fineness of the heavier metal', () => {
    const expected = [100, 400, 700, 900, 999].map(
      (declaredFinenessPerMille) =>
        densityScreen({ ...densityScreenCalculation.example, declaredFinenessPerMille })
          .expectedDensityGramsPerCubicCentimetre,
    );
    expect(expected).toEqual([...expected].sort((left, right) => left - right));
  });
});
