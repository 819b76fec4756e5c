import fc from 'fast-check';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import type { LotQuality } from '../src/sampling/count-distribution.ts';
import { outgoingLimit, outgoingPercent } from '../src/sampling/outgoing-quality.ts';
import { percentAtAcceptance, qualityOfPercent } from '../src/sampling/plan-curve.ts';
import { planOutcome } from '../src/sampling/plan-outcome.ts';
import { allSamplesPieces, type SamplingPlan } from '../src/sampling/sampling-plan.ts';

const seed = 1250;

const plans: fc.Arbitrary<Required<SamplingPlan>> = fc
  .record({
    n1: fc.integer({ min: 1, max: 30 }),
    n2: fc.integer({ min: 1, max: 30 }),
    ac1: fc.integer({ min: 0, max: 3 }),
    width: fc.integer({ min: 2, max: 4 }),
    more: fc.integer({ min: 1, max: 4 }),
    gap: fc.integer({ min: 0, max: 2 }),
  })
  .map(({ n1, n2, ac1, width, more, gap }) => ({
    first: { sampleSizePieces: n1, acceptanceNumber: ac1, rejectionNumber: ac1 + width },
    second: {
      sampleSizePieces: n2,
      acceptanceNumber: ac1 + more,
      rejectionNumber: ac1 + more + 1 + gap,
    },
  }));

interface Walked {
  accepted: number;
  samplePieces: number;
  curtailedPieces: number;
  passed: number;
}

/**
 * The plan walked piece by piece: each state is the number of nonconforming pieces found, and the
 * chance that the next piece is nonconforming follows from what is left. Shares no formula with
 * the library.
 */
function walk(plan: Required<SamplingPlan>, quality: LotQuality): Walked {
  const { first, second } = plan;
  const next = (examined: number, found: number): number => {
    if (quality.basis === 'binomial') return quality.fractionNonconforming;
    if (quality.basis === 'poisson') throw new Error('pieces are not counted so');
    return (quality.nonconformingPieces - found) / (quality.lotSizePieces - examined);
  };
  const bad = quality.basis === 'hypergeometric' ? quality.nonconformingPieces : 0;
  const step = (states: Map<number, number>, examined: number): Map<number, number> => {
    const after = new Map<number, number>();
    const add = (found: number, chance: number) =>
      after.set(found, (after.get(found) ?? 0) + chance);
    for (const [found, chance] of states) {
      const p = next(examined, found);
      add(found + 1, chance * p);
      add(found, chance * (1 - p));
    }
    return after;
  };
  let states = new Map([[0, 1]]);
  for (let piece = 0; piece < first.sampleSizePieces; piece += 1) states = step(states, piece);
  const total = { accepted: 0, samplePieces: 0, curtailedPieces: 0, passed: 0 };
  let going = new Map<number, number>();
  for (const [found, chance] of states) {
    total.samplePieces += chance * first.sampleSizePieces;
    total.curtailedPieces += chance * first.sampleSizePieces;
    if (found <= first.acceptanceNumber) {
      total.accepted += chance;
      total.passed += chance * (bad - found);
    } else if (found < first.rejectionNumber) {
      going.set(found, chance);
      total.samplePieces += chance * second.sampleSizePieces;
    }
  }
  for (let piece = 0; piece < second.sampleSizePieces; piece += 1) {
    for (const [found, chance] of going) {
      if (found >= second.rejectionNumber) going.delete(found);
      else total.curtailedPieces += chance;
    }
    going = step(going, first.sampleSizePieces + piece);
  }
  for (const [found, chance] of going) {
    if (found >= second.rejectionNumber) continue;
    total.accepted += chance;
    total.passed += chance * (bad - found);
  }
  return total;
}

describe('double plans', () => {
  it('equal the walk piece by piece through one lot', () => {
    const cases = plans.chain((plan) =>
      fc
        .integer({ min: allSamplesPieces(plan), max: allSamplesPieces(plan) + 60 })
        .chain((lotSizePieces) =>
          fc.tuple(
            fc.constant(plan),
            fc.constant(lotSizePieces),
            fc.integer({ min: 0, max: lotSizePieces }),
          ),
        ),
    );
    fc.assert(
      fc.property(cases, ([plan, lotSizePieces, nonconformingPieces]) => {
        const quality = { basis: 'hypergeometric', lotSizePieces, nonconformingPieces } as const;
        const found = planOutcome(plan, quality);
        const walked = walk(plan, quality);
        expect(Math.abs(found.accepted - walked.accepted)).toBeLessThan(1e-12);
        expect(Math.abs(found.averageSamplePieces - walked.samplePieces)).toBeLessThan(1e-10);
        expect(Math.abs(found.averageSampleCurtailedPieces - walked.curtailedPieces)).toBeLessThan(
          1e-10,
        );
        expect(Math.abs((found.passedNonconformingPieces ?? -1) - walked.passed)).toBeLessThan(
          1e-9,
        );
      }),
      { seed, numRuns: 200 },
    );
  });

  it('equal the walk piece by piece through a steady production', () => {
    fc.assert(
      fc.property(plans, fc.double({ min: 0, max: 1, noNaN: true }), (plan, fraction) => {
        const quality = { basis: 'binomial', fractionNonconforming: fraction } as const;
        const found = planOutcome(plan, quality);
        const walked = walk(plan, quality);
        expect(Math.abs(found.accepted - walked.accepted)).toBeLessThan(1e-12);
        expect(Math.abs(found.averageSampleCurtailedPieces - walked.curtailedPieces)).toBeLessThan(
          1e-9,
        );
      }),
      { seed, numRuns: 200 },
    );
  });

  it('accept less the worse the lots, and examine no more when cut short', () => {
    fc.assert(
      fc.property(
        plans,
        fc.constantFrom('binomial' as const, 'poisson' as const),
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        (plan, basis, percent, more) => {
          const better = planOutcome(plan, qualityOfPercent(basis, percent, 1));
          const worse = planOutcome(plan, qualityOfPercent(basis, percent + more, 1));
          expect(worse.accepted).toBeLessThanOrEqual(better.accepted + 1e-12);
          expect(better.averageSampleCurtailedPieces).toBeLessThanOrEqual(
            better.averageSamplePieces + 1e-9,
          );
          const all = better.accepted + better.rejectedOnFirst;
          expect(all).toBeLessThanOrEqual(1 + 1e-12);
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  it('have the quality at a probability that gives this probability back', () => {
    fc.assert(
      fc.property(
        plans,
        fc.constantFrom('binomial' as const, 'poisson' as const),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (plan, basis, probability) => {
          const percent = percentAtAcceptance(plan, probability, basis, 1);
          if (percent === null) return;
          const { accepted } = planOutcome(plan, qualityOfPercent(basis, percent, 1));
          expect(Math.abs(accepted - probability)).toBeLessThan(1e-11);
        },
      ),
      { seed, numRuns: 200 },
    );
  });

  it('a second sample that changes nothing makes the single plan', () => {
    // Re₁ = Ac₁ + 2 and both numbers so high that one nonconforming piece more is always accepted.
    const quality = { basis: 'binomial', fractionNonconforming: 0.07 } as const;
    const double = planOutcome(
      {
        first: { sampleSizePieces: 40, acceptanceNumber: 1, rejectionNumber: 3 },
        second: { sampleSizePieces: 5, acceptanceNumber: 7, rejectionNumber: 8 },
      },
      quality,
    );
    const single = planOutcome(
      { first: { sampleSizePieces: 40, acceptanceNumber: 2, rejectionNumber: 3 } },
      quality,
    );
    expect(double.accepted).toBeCloseTo(single.accepted, 12);
  });
});

describe('simulated lots', () => {
  // A lot of 400 with 20 nonconforming, examined 20 000 times: means within four standard errors.
  it('take the pieces and let pass the faults that the formulas say', () => {
    const generator = xoroshiro128plus(2859);
    const plan = {
      first: { sampleSizePieces: 32, acceptanceNumber: 0, rejectionNumber: 4 },
      second: { sampleSizePieces: 32, acceptanceNumber: 3, rejectionNumber: 4 },
    };
    const [lotSizePieces, bad, runs] = [400, 20, 20_000];
    const seen = { pieces: [] as number[], passed: [] as number[] };
    for (let run = 0; run < runs; run += 1) {
      let found = 0;
      let examined = 0;
      const examine = () => {
        const chance = (bad - found) / (lotSizePieces - examined);
        if (uniformFloat64(generator) < chance) found += 1;
        examined += 1;
      };
      while (examined < 32) examine();
      let accepted = found === 0;
      if (found > 0 && found < 4) {
        while (examined < 64 && found < 4) examine();
        accepted = found < 4;
      }
      seen.pieces.push(examined);
      seen.passed.push(accepted ? bad - found : 0);
    }
    const outcome = planOutcome(plan, {
      basis: 'hypergeometric',
      lotSizePieces,
      nonconformingPieces: bad,
    });
    const work = { plan, basis: 'hypergeometric', lotSizePieces } as const;
    for (const [values, expected] of [
      [seen.pieces, outcome.averageSampleCurtailedPieces],
      [seen.passed, (outgoingPercent(work, 5, outcome) * lotSizePieces) / 100],
    ] as const) {
      const mean = values.reduce((sum, value) => sum + value, 0) / runs;
      const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      const standardError = Math.sqrt(squares / (runs - 1) / runs);
      expect(Math.abs(mean - expected)).toBeLessThan(4 * standardError);
    }
  });
});

describe('the outgoing limit', () => {
  it('of one lot is the greatest of all its qualities, each looked at', () => {
    const plan = { first: { sampleSizePieces: 25, acceptanceNumber: 1, rejectionNumber: 2 } };
    const lotSizePieces = 300;
    const work = { plan, basis: 'hypergeometric', lotSizePieces } as const;
    const all = Array.from({ length: lotSizePieces + 1 }, (_, nonconformingPieces) => {
      const outcome = planOutcome(plan, {
        basis: 'hypergeometric',
        lotSizePieces,
        nonconformingPieces,
      });
      return outgoingPercent(work, 0, outcome);
    });
    expect(outgoingLimit(work).outgoingPercent).toBe(Math.max(...all));
  });

  it('of one large lot comes near that of the production it was made by', () => {
    const plan = { first: { sampleSizePieces: 80, acceptanceNumber: 2, rejectionNumber: 3 } };
    const lotSizePieces = 1_000_000;
    const one = outgoingLimit({ plan, basis: 'hypergeometric', lotSizePieces });
    const series = outgoingLimit({ plan, basis: 'binomial', lotSizePieces });
    expect(one.outgoingPercent / series.outgoingPercent).toBeCloseTo(1, 3);
  });
});
