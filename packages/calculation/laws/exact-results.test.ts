import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { finenessByDifference } from '../src/assay/fineness-by-difference.ts';
import { rangeQuantile, replicateAcceptance } from '../src/assay/replicate-acceptance.ts';
import { fineMass, fineMicrograms, statedTroyOunces } from '../src/mass/fine-mass.ts';
import { seededNormal } from './simulation.ts';

describe('laws of the fine mass', () => {
  const gross = fc.bigInt({ min: 0n, max: 10n ** 15n });
  const fineness = fc.integer({ min: 0, max: 1_000_000 });

  it('rounded mass and remainder give back the exact product', () => {
    fc.assert(
      fc.property(
        gross,
        fineness,
        fc.constantFrom('half-even', 'half-up', 'down', 'up'),
        (mass, ppm, rule) => {
          const output = fineMass({
            grossMicrograms: mass.toString(),
            finenessPartsPerMillion: ppm,
            roundingRule: rule,
          });
          const [whole = '', fraction = ''] = output.remainderMicrograms.split('.');
          const millionths = BigInt(`${whole}${fraction.padEnd(6, '0')}`);
          expect(BigInt(output.fineMicrograms) * 1_000_000n + millionths).toBe(mass * BigInt(ppm));
        },
      ),
      { seed: 50, numRuns: 500 },
    );
  });

  it('agrees with doubles to their accuracy, a second road', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10 ** 12 }), fineness, (mass, ppm) => {
        const exact = Number(fineMicrograms(BigInt(mass), BigInt(ppm), 'half-even'));
        expect(Math.abs(exact - (mass * ppm) / 1e6)).toBeLessThan(0.501);
        const output = fineMass({
          grossMicrograms: mass,
          finenessPartsPerMillion: ppm,
          roundingRule: 'half-even',
        });
        const ounces = (mass * ppm) / 1e6 / 31_103_476.8;
        expect(Math.abs(Number(output.fineTroyOunces) - ounces)).toBeLessThan(0.000501);
      }),
      { seed: 51, numRuns: 500 },
    );
  });

  it('the stated weight of a bar never exceeds its dead weight less the turn of the scale', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 1_000_000 }), (thousandths) => {
        const text = (thousandths / 1000).toFixed(3);
        const stated = Number(
          statedTroyOunces(text, { stepTroyOunces: '0.025', turnTroyOunces: '0.002' }),
        );
        const excess = Math.round(thousandths - stated * 1000);
        expect(excess).toBeGreaterThanOrEqual(2);
        expect(excess).toBeLessThan(27);
      }),
      { seed: 52, numRuns: 500 },
    );
  });
});

describe('laws of fineness by difference', () => {
  it('orders the three policies and lies midway under half', () => {
    const one = fc.record({
      contentMilligramsPerKilogram: fc.option(fc.double({ min: 0, max: 100, noNaN: true })),
      standardUncertaintyMilligramsPerKilogram: fc.double({ min: 0, max: 10, noNaN: true }),
      detectionLimitMilligramsPerKilogram: fc.double({ min: 0.1, max: 20, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.tuple(one, one, one), (three) => {
        const { byPolicy } = finenessByDifference({
          policy: 'half',
          impurities: ['Ag', 'Cu', 'Fe'].map((element, index) => ({
            element,
            ...(three[index] ?? three[0]),
          })),
        });
        expect(byPolicy.zero).toBeGreaterThanOrEqual(byPolicy.half);
        expect(byPolicy.half).toBeGreaterThanOrEqual(byPolicy.limit);
        expect(byPolicy.half).toBeCloseTo((byPolicy.zero + byPolicy.limit) / 2, 9);
      }),
      { seed: 53, numRuns: 300 },
    );
  });
});

describe('laws of replicates', () => {
  const results = fc.array(
    fc.integer({ min: 915_000, max: 917_000 }).map((millionths) => millionths / 1000),
    { minLength: 2, maxLength: 4 },
  );

  it('do not depend on the order, and the final result lies between the extremes', () => {
    fc.assert(
      fc.property(results, (values) => {
        const judge = (resultsPerMille: number[]) =>
          replicateAcceptance({ resultsPerMille, repeatabilityStandardDeviationPerMille: 0.3 });
        const output = judge(values);
        expect(judge(values.toReversed())).toEqual(output);
        if (output.finalResultPerMille === null) return;
        expect(output.finalResultPerMille).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
        expect(output.finalResultPerMille).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
      }),
      { seed: 54, numRuns: 300 },
    );
  });

  it('of four normal results stay within the exact critical range 95 times of 100, seed 55', () => {
    const normal = seededNormal(55);
    const trials = 100_000;
    const factor = rangeQuantile(0.95, 4);
    let within = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const four = [normal(), normal(), normal(), normal()];
      if (Math.max(...four) - Math.min(...four) <= factor) within += 1;
    }
    expect(Math.abs(within / trials - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / trials));
  });
});
