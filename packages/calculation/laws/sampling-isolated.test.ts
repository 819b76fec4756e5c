import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { acceptZeroPlan } from '../src/sampling/accept-zero-plan.ts';
import { limitingQualityPlan } from '../src/sampling/limiting-quality-plan.ts';

const seed = 4120;

function combinations(from: bigint, take: bigint): bigint {
  if (take < 0n || take > from) return 0n;
  let result = 1n;
  for (let index = 1n; index <= take; index += 1n) {
    result = (result * (from - take + index)) / index;
  }
  return result;
}

/** Whether P(x ≤ Ac) ≤ risk/1000, in whole numbers. */
function isSafe(
  lot: number,
  bad: number,
  sample: number,
  acceptance: number,
  riskPerMille: bigint,
): boolean {
  let ways = 0n;
  for (let count = 0; count <= acceptance; count += 1) {
    ways +=
      combinations(BigInt(bad), BigInt(count)) *
      combinations(BigInt(lot - bad), BigInt(sample - count));
  }
  return ways * 1000n <= riskPerMille * combinations(BigInt(lot), BigInt(sample));
}

const cases = fc.integer({ min: 1, max: 90 }).chain((lot) =>
  fc.record({
    lot: fc.constant(lot),
    tolerated: fc.integer({ min: 0, max: lot - 1 }),
    perMille: fc.constantFrom(500, 800, 900, 950, 990, 999),
  }),
);

describe('plans for one lot', () => {
  it('the faultless sample is the smallest one that exact fractions allow', () => {
    fc.assert(
      fc.property(cases, ({ lot, tolerated, perMille }) => {
        const found = acceptZeroPlan({
          lotSizePieces: lot,
          toleratedPieces: tolerated,
          confidence: perMille / 1000,
        });
        const risk = BigInt(1000 - perMille);
        let least = 1;
        while (!isSafe(lot, tolerated + 1, least, 0, risk)) least += 1;
        expect(found.sampleSizePieces).toBe(least);
        expect(found.examineEveryPiece).toBe(least === lot);
        let half = 1;
        while (!isSafe(lot, half, least, 0, 500n)) half += 1;
        expect(found.halfAcceptedPieces).toBe(half);
      }),
      { seed, numRuns: 300 },
    );
  });

  it('a sample that just reaches the confidence is enough: lots of n/(1 − confidence)', () => {
    // One faulty piece among N is missed with probability exactly (N − n)/N.
    for (const lot of [20, 40, 60, 100, 1000, 20_000]) {
      const plan = acceptZeroPlan({ lotSizePieces: lot, toleratedPieces: 0, confidence: 0.95 });
      expect(plan.sampleSizePieces).toBe((lot * 95) / 100);
    }
  });

  it('is that of the success run for lots without end', () => {
    // n = ⌈ln(1 − C)/ln(1 − p)⌉, common practice: 59 for 95 % at 5 %, 299 at 1 %, 459 for 99 % at 1 %.
    for (const [confidence, percent, pieces] of [
      [0.95, 5, 59],
      [0.95, 1, 299],
      [0.99, 1, 459],
      [0.9, 10, 22],
    ] as const) {
      const lotSizePieces = 10_000_000;
      const found = acceptZeroPlan({
        lotSizePieces,
        toleratedPieces: (lotSizePieces * percent) / 100 - 1,
        confidence,
      });
      expect(found.sampleSizePieces).toBe(pieces);
      expect(Math.ceil(Math.log(1 - confidence) / Math.log(1 - percent / 100))).toBe(pieces);
    }
  });

  it('limiting quality plans are the smallest ones, and each is one piece from failing', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 5, max: 90 }),
        fc.integer({ min: 1, max: 40 }),
        fc.constantFrom(50, 100, 200),
        (lot, percent, perMille) => {
          const found = limitingQualityPlan({
            lotSizePieces: lot,
            limitingQualityPercent: percent,
            consumersRisk: perMille / 1000,
            greatestAcceptanceNumber: 4,
          });
          const bad = Math.ceil((lot * percent) / 100);
          expect(found.limitingPieces).toBe(bad);
          expect(found.plans).toHaveLength(Math.min(5, bad));
          for (const { acceptanceNumber, sampleSizePieces } of found.plans) {
            const risk = BigInt(perMille);
            expect(isSafe(lot, bad, sampleSizePieces, acceptanceNumber, risk)).toBe(true);
            expect(isSafe(lot, bad, sampleSizePieces - 1, acceptanceNumber, risk)).toBe(false);
          }
        },
      ),
      { seed, numRuns: 150 },
    );
  });

  it('a larger confidence, a larger lot and fewer tolerated pieces never ask for less', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 5000 }),
        fc.integer({ min: 0, max: 8 }),
        (lot, tolerated) => {
          const size = (lotSizePieces: number, toleratedPieces: number, confidence: number) =>
            acceptZeroPlan({ lotSizePieces, toleratedPieces, confidence }).sampleSizePieces;
          const sample = size(lot, tolerated, 0.9);
          expect(size(lot, tolerated, 0.95)).toBeGreaterThanOrEqual(sample);
          expect(size(lot + 1, tolerated, 0.9)).toBeGreaterThanOrEqual(sample);
          expect(size(lot, tolerated + 1, 0.9)).toBeLessThanOrEqual(sample);
        },
      ),
      { seed, numRuns: 150 },
    );
  });
});
