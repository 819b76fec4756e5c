import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalDensity, normalDistribution } from '../src/quantity/normal.ts';
import { type BestTargetMassInput, bestTargetMass } from '../src/weights/best-target-mass.ts';
import { giveaway, giveawayCalculation } from '../src/weights/giveaway.ts';
import { jointConformity } from '../src/weights/joint-conformity.ts';
import {
  bestTarget,
  type TargetCosts,
  type TargetProcess,
  targetCost,
} from '../src/weights/target-cost.ts';
import { seededNormal } from './simulation.ts';

const seed = 1977;

/** The second road: the least of the cost by golden section, without its derivative. */
function goldenSection(value: (at: number) => number, from: number, to: number): number {
  const share = (Math.sqrt(5) - 1) / 2;
  let [lower, upper] = [from, to];
  for (let turn = 0; turn < 100; turn += 1) {
    const [left, right] = [upper - share * (upper - lower), lower + share * (upper - lower)];
    if (value(left) < value(right)) upper = right;
    else lower = left;
  }
  return (lower + upper) / 2;
}

const money = fc.double({ min: 0.1, max: 20, noNaN: true });
const remelted = fc.record({
  kind: fc.constant('remelted' as const),
  makingCost: money,
  remeltCost: money,
  metalPricePerGram: money,
  metalLossShare: fc.double({ min: 0, max: 0.05, noNaN: true }),
});

describe('the best target', () => {
  // Springer (1951): solution from memory, and derived: A·φ(zL) = B·φ(zU).
  it('between two limits with fixed costs is the closed solution of Springer', () => {
    fc.assert(
      fc.property(money, money, (costOfLightPiece, costOfHeavyPiece) => {
        const process: TargetProcess = { standardDeviation: 0.7, lower: 10, upper: 14 };
        const costs: TargetCosts = { kind: 'fixed-costs', costOfLightPiece, costOfHeavyPiece };
        const closed = 12 + (0.7 ** 2 * Math.log(costOfLightPiece / costOfHeavyPiece)) / 4;
        expect(bestTarget(process, costs)).toBeCloseTo(closed, 10);
      }),
      { seed, numRuns: 100 },
    );
  });

  // Hunter and Kartha (1977): condition from memory, and derived from the expected income.
  it('with light pieces sold apart solves the condition of Hunter and Kartha', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2.2, max: 200, noNaN: true }),
        fc.double({ min: 0.2, max: 0.8, noNaN: true }),
        (costOfLightPiece, standardDeviation) => {
          const process = { standardDeviation, lower: 10, upper: Number.POSITIVE_INFINITY };
          const costs: TargetCosts = { kind: 'sold-apart', costOfLightPiece, metalPricePerGram: 1 };
          const target = bestTarget(process, costs) as number;
          const z = (target - 10) / standardDeviation;
          expect(normalDensity(z, 0, 1) / normalDistribution(z, 0, 1)).toBeCloseTo(
            standardDeviation / costOfLightPiece,
            10,
          );
        },
      ),
      { seed, numRuns: 100 },
    );
  });

  it('is where golden section finds it, whatever the costs', () => {
    fc.assert(
      fc.property(remelted, fc.boolean(), (costs, hasUpper) => {
        const process = { standardDeviation: 1, lower: 30, upper: hasUpper ? 36 : Infinity };
        const target = bestTarget(process, costs);
        if (target === null) return;
        const cost = (at: number) => targetCost(at, process, costs).cost;
        const golden = goldenSection(cost, target - 0.8, target + 0.8);
        expect(Math.abs(golden - target)).toBeLessThan(2e-6);
        const step = 1e-5;
        const difference = (cost(target + 0.3 + step) - cost(target + 0.3 - step)) / (2 * step);
        const { slope } = targetCost(target + 0.3, process, costs);
        expect(Math.abs(difference - slope)).toBeLessThan(
          1e-5 * (1 + Math.abs(slope) + cost(target)),
        );
      }),
      { seed, numRuns: 60 },
    );
  });

  it('costs what simulated pieces cost', () => {
    const input: BestTargetMassInput = {
      standardDeviationGrams: 0.5,
      lowerLimitGrams: 10,
      upperLimit: { kind: 'given', massGrams: 11.6 },
      costs: {
        kind: 'remelted',
        makingCost: 1,
        remeltCost: 2,
        metalPricePerGram: 0.8,
        metalLossShare: 0.03,
      },
    };
    const result = bestTargetMass(input);
    const draw = seededNormal(1977);
    const runs = 200_000;
    let [spent, good] = [0, 0];
    for (let run = 0; run < runs; run += 1) {
      const mass = result.targetGrams + 0.5 * draw();
      const isGood = mass >= 10 && mass <= 11.6;
      good += isGood ? 1 : 0;
      spent += 1 + (isGood ? 0.8 * mass : 2 + 0.8 * 0.03 * mass);
    }
    // Cost per attempt scatters by about 3.5, so that 200000 of them give it to 0.01.
    expect(Math.abs(spent / good - result.cost)).toBeLessThan(0.04);
    expect(Math.abs(1 - good / runs - result.lightShare - result.heavyShare)).toBeLessThan(0.005);
  });

  it('with the best upper limit costs no more than with any other', () => {
    const costs = {
      kind: 'remelted' as const,
      makingCost: 0.3,
      remeltCost: 0.1,
      metalPricePerGram: 1,
      metalLossShare: 0,
    };
    const base = { standardDeviationGrams: 1, lowerLimitGrams: 30, costs };
    const best = bestTargetMass({ ...base, upperLimit: { kind: 'best' } });
    const none = bestTargetMass({ ...base, upperLimit: { kind: 'none' } });
    expect(best.cost).toBeLessThan(none.cost);
    for (const shift of [-0.2, -0.05, 0.05, 0.2]) {
      const massGrams = (best.upperLimitGrams as number) + shift;
      const other = bestTargetMass({ ...base, upperLimit: { kind: 'given', massGrams } });
      expect(other.cost).toBeGreaterThan(best.cost);
    }
  });

  it('rises with the cost of a light piece and sinks with the price of the metal', () => {
    const process = { standardDeviation: 0.5, lower: 10, upper: Number.POSITIVE_INFINITY };
    const at = (costOfLightPiece: number, metalPricePerGram: number) =>
      bestTarget(process, { kind: 'sold-apart', costOfLightPiece, metalPricePerGram }) as number;
    expect(at(10, 1)).toBeGreaterThan(at(5, 1));
    expect(at(10, 2)).toBeLessThan(at(10, 1));
    expect(at(20, 2)).toBeCloseTo(at(10, 1), 10);
  });
});

describe('the probability that all pieces conform', () => {
  it('is that of simulated weighings with a shared error', () => {
    const draw = seededNormal(106);
    const [values, own, common, lower] = [
      [10.1, 10.15, 10.3, 10.12, 10.2],
      0.06,
      0.08,
      10,
    ] as const;
    const stated = jointConformity(values, { own, common }, { lower });
    const runs = 100_000;
    let held = 0;
    for (let run = 0; run < runs; run += 1) {
      const shift = common * draw();
      if (values.every((value) => value - shift - own * draw() >= lower)) held += 1;
    }
    const error = Math.sqrt((stated * (1 - stated)) / runs);
    expect(Math.abs(held / runs - stated)).toBeLessThan(4 * error);
  });

  it('without shared error is the product, without own error the shared interval', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 9.8, max: 10.6, noNaN: true }), { minLength: 1, maxLength: 6 }),
        (values) => {
          const product = values.reduce(
            (all, value) => all * normalDistribution((value - 10) / 0.1, 0, 1),
            1,
          );
          const independent = jointConformity(values, { own: 0.1, common: 0 }, { lower: 10 });
          expect(independent).toBeCloseTo(product, 12);
          const least = normalDistribution((Math.min(...values) - 10) / 0.1, 0, 1);
          const shared = jointConformity(values, { own: 0, common: 0.1 }, { lower: 10 });
          expect(shared).toBeCloseTo(least, 12);
          // A small own error changes little; both limits of the quadrature are met.
          const nearly = jointConformity(values, { own: 1e-4, common: 0.1 }, { lower: 10 });
          expect(Math.abs(nearly - least)).toBeLessThan(2e-3);
        },
      ),
      { seed, numRuns: 60 },
    );
  });

  it('falls when a piece is added or the limit is raised', () => {
    const at = (values: number[], lower: number) =>
      jointConformity(values, { own: 0.05, common: 0.05 }, { lower });
    expect(at([10.1, 10.1], 10)).toBeLessThan(at([10.1], 10));
    expect(at([10.1], 10.05)).toBeLessThan(at([10.1], 10));
    // A shared error hurts less than independent ones of the same total.
    const shared = jointConformity([10.1, 10.1], { own: 0, common: 0.07 }, { lower: 10 });
    const alone = jointConformity([10.1, 10.1], { own: 0.07, common: 0 }, { lower: 10 });
    expect(shared).toBeGreaterThan(alone);
  });
});

describe('metal given away', () => {
  const example = giveawayCalculation.example;

  it('is the sum of its parts, and all of it is fine metal found less declared', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 40, noNaN: true }),
        fc.double({ min: 900, max: 1000, noNaN: true }),
        (meanGrams, finenessPerMille) => {
          const result = giveaway({
            ...example,
            masses: {
              ...example.masses,
              kind: 'summary',
              weighedPieces: 200,
              meanGrams,
              standardDeviationGrams: 0.02,
            },
            finenessPerMille,
          });
          const parts =
            result.byMass.lotGrams + result.byFineness.lotGrams + result.byBoth.lotGrams;
          expect(result.total.lotGrams).toBeCloseTo(parts, 7);
          const direct = (meanGrams * finenessPerMille) / 1000 - result.declaredFineGrams;
          expect(result.total.perPieceGrams).toBeCloseTo(direct, 10);
        },
      ),
      { seed, numRuns: 100 },
    );
  });

  it('has the standard uncertainty that simulated lots show', () => {
    const draw = seededNormal(5);
    const lotPieces = 50;
    const weighed = 20;
    const [own, common, fineness] = [0.004, 0.003, 0.4];
    const errors: number[] = [];
    let stated = 0;
    for (let run = 0; run < 3000; run += 1) {
      const lot = Array.from({ length: lotPieces }, () => 31.12 + 0.02 * draw());
      const shift = common * draw();
      const trueFineness = 999 + fineness * draw();
      const result = giveaway({
        ...example,
        masses: {
          kind: 'pieces',
          massesGrams: lot.slice(0, weighed).map((mass) => mass + shift + own * draw()),
        },
        lotPieces,
        finenessPerMille: 999,
        finenessStandardUncertaintyPerMille: fineness,
        individualStandardUncertaintyGrams: own,
        commonStandardUncertaintyGrams: common,
      });
      const truth =
        (lot.reduce((sum, mass) => sum + mass, 0) * trueFineness) / 1000 -
        lotPieces * result.declaredFineGrams;
      errors.push(result.total.lotGrams - truth);
      stated += result.total.lotStandardUncertaintyGrams ** 2 / 3000;
    }
    const square = errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length;
    expect(Math.abs(Math.sqrt(square / stated) - 1)).toBeLessThan(0.06);
  });
});
