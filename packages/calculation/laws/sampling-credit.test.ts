import fc from 'fast-check';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { hypergeometricAcceptance } from '../src/sampling/acceptance-probability.ts';
import { type EarnedCreditInput, earnedCredit } from '../src/sampling/earned-credit.ts';

const seed = 2001;

/** Sample for a lot under a credit, as one accepted lot of that size earns it. */
function sampleUnder(limitPercent: number, lotPieces: number, creditPieces: number): number {
  const history: EarnedCreditInput['history'] =
    creditPieces === 0 ? [] : [{ lot: 'before', pieces: creditPieces, outcome: 'accepted' }];
  return earnedCredit({
    outgoingLimitPercent: limitPercent,
    lotSizePieces: lotPieces,
    history,
  }).sampleSizePieces;
}

/**
 * The worst a supplier can do in so many lots who may choose the faulty pieces of each after seeing
 * how the last ones went: mean of faulty pieces passed less the limit times the pieces presented.
 */
function worstExcess(
  limitPercent: number,
  lotPieces: number,
  lots: number,
  sampleOf: (sample: number) => number = (sample) => sample,
): number {
  // Value by credit, in lots accepted since the last refusal, with so many lots still to come.
  let value = new Array<number>(lots + 2).fill(0);
  for (let left = 1; left <= lots; left += 1) {
    value = value.map((_, credit) => {
      if (credit > lots - left) return 0;
      const sample = sampleOf(sampleUnder(limitPercent, lotPieces, credit * lotPieces));
      let best = Number.NEGATIVE_INFINITY;
      for (let bad = 0; bad <= lotPieces; bad += 1) {
        const pass = hypergeometricAcceptance(
          { sampleSizePieces: sample, acceptanceNumber: 0 },
          { lotSizePieces: lotPieces, nonconformingPieces: bad },
        );
        const passed = pass * (bad + (value[credit + 1] ?? 0)) + (1 - pass) * (value[0] ?? 0);
        best = Math.max(best, passed - (limitPercent / 100) * lotPieces);
      }
      return best;
    });
  }
  return value[0] ?? Number.NaN;
}

describe('earned credit', () => {
  it.each([
    [1, 50, 12],
    [5, 20, 15],
    [0.5, 100, 10],
    [20, 10, 20],
  ])('keeps %d %% against the worst strategy of all, lots of %i, %i lots', (limit, lot, lots) => {
    const excess = worstExcess(limit, lot, lots);
    expect(excess).toBeLessThanOrEqual(1e-9);
  });

  it('would not keep it with half the sample: the search does find the way to cheat', () => {
    const half = (sample: number) => Math.ceil(sample / 2);
    expect(worstExcess(1, 50, 12, half)).toBeGreaterThan(0);
    expect(worstExcess(0.5, 100, 10, half)).toBeGreaterThan(0);
  });

  it('keeps the limit in a long simulated series with a supplier who waits and then cheats', () => {
    // Lots of 500 at 0.2 %: forty clean lots, then every lot with so many faulty pieces.
    const generator = xoroshiro128plus(212);
    const [limit, lot] = [0.2, 500];
    for (const faulty of [1, 3, 10]) {
      let credit = 0;
      let passed = 0;
      let lots = 0;
      while (lots < 20_000) {
        lots += 1;
        const bad = credit >= 40 * lot ? faulty : 0;
        const sample = sampleUnder(limit, lot, credit);
        let missed = 1;
        for (let piece = 0; piece < bad; piece += 1)
          missed *= (lot - sample - piece) / (lot - piece);
        if (uniformFloat64(generator) < missed) {
          credit += lot;
          passed += bad;
        } else credit = 0;
      }
      expect(passed / (lots * lot)).toBeLessThan(limit / 100);
      expect(passed).toBeGreaterThan(0);
    }
  });

  it('more credit never asks for more, and bounds on credit and sample never for less', () => {
    const lots = fc.record({
      limit: fc.double({ min: 0.01, max: 20, noNaN: true }),
      lot: fc.integer({ min: 1, max: 100_000 }),
      credit: fc.integer({ min: 1, max: 10_000_000 }),
      more: fc.integer({ min: 0, max: 10_000_000 }),
      cap: fc.integer({ min: 0, max: 1_000_000 }),
      least: fc.integer({ min: 1, max: 500 }),
    });
    fc.assert(
      fc.property(lots, ({ limit, lot, credit, more, cap, least }) => {
        const sample = sampleUnder(limit, lot, credit);
        expect(sampleUnder(limit, lot, credit + more)).toBeLessThanOrEqual(sample);
        const bounded = earnedCredit({
          outgoingLimitPercent: limit,
          lotSizePieces: lot,
          history: [{ lot: 'before', pieces: credit, outcome: 'accepted' }],
          greatestCreditPieces: cap,
          leastSamplePieces: least,
        });
        expect(bounded.sampleSizePieces).toBeGreaterThanOrEqual(sample);
        expect(bounded.sampleSizePieces).toBeLessThanOrEqual(lot);
        // The rule as a formula in doubles, one piece open at its edge.
        const fraction = 1 / (1 + (limit / 100) * (credit + lot));
        expect(Math.abs(sample - Math.ceil(lot * fraction))).toBeLessThanOrEqual(1);
        expect(sample).toBeGreaterThanOrEqual(lot * fraction - 1e-6);
      }),
      { seed, numRuns: 300 },
    );
  });
});
