import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LotQuality } from '../src/sampling/count-distribution.ts';
import { planOutcome } from '../src/sampling/plan-outcome.ts';
import {
  leastEffortDoublePlan,
  smallestSinglePlan,
  type TwoPoints,
} from '../src/sampling/plan-search.ts';
import type { SamplingPlan } from '../src/sampling/sampling-plan.ts';

const seed = 1969;

const accepted = (plan: SamplingPlan, quality: LotQuality): number =>
  planOutcome(plan, quality).accepted;

const keeps = (plan: SamplingPlan, points: TwoPoints): boolean =>
  1 - accepted(plan, points.good) <= points.producersRisk &&
  accepted(plan, points.bad) <= points.consumersRisk;

const risks = fc.record({
  good: fc.double({ min: 0.01, max: 0.1, noNaN: true }),
  ratio: fc.double({ min: 2.5, max: 8, noNaN: true }),
  producersRisk: fc.constantFrom(0.05, 0.1),
  consumersRisk: fc.constantFrom(0.05, 0.1, 0.2),
});

const points = fc.oneof(
  risks.map(({ good, ratio, ...rest }) => ({
    ...rest,
    good: { basis: 'binomial', fractionNonconforming: good } as const,
    bad: { basis: 'binomial', fractionNonconforming: Math.min(0.9, good * ratio) } as const,
    greatestSamplePieces: 120,
  })),
  risks.map(({ good, ratio, ...rest }) => ({
    ...rest,
    good: { basis: 'poisson', nonconformitiesPerPiece: good } as const,
    bad: { basis: 'poisson', nonconformitiesPerPiece: good * ratio } as const,
    greatestSamplePieces: 120,
  })),
  risks.map(({ good, ratio, ...rest }) => ({
    ...rest,
    good: {
      basis: 'hypergeometric',
      lotSizePieces: 90,
      nonconformingPieces: Math.floor(90 * good),
    } as const,
    bad: {
      basis: 'hypergeometric',
      lotSizePieces: 90,
      nonconformingPieces: Math.ceil(90 * Math.min(0.9, good * ratio)),
    } as const,
    greatestSamplePieces: 90,
  })),
);

describe('the search for plans', () => {
  it('finds the smallest single plan, as trying every plan does', () => {
    fc.assert(
      fc.property(points, (two) => {
        const found = smallestSinglePlan(two);
        for (let pieces = 1; pieces <= two.greatestSamplePieces; pieces += 1) {
          for (let number = 0; number < pieces; number += 1) {
            const first = {
              sampleSizePieces: pieces,
              acceptanceNumber: number,
              rejectionNumber: number + 1,
            };
            // Beyond this the bad lot is accepted too often, with every greater number as well.
            if (accepted({ first }, two.bad) > two.consumersRisk) break;
            if (!keeps({ first }, two)) continue;
            expect(found).toEqual({ first });
            return;
          }
        }
        expect(found).toBeNull();
      }),
      { seed, numRuns: 60 },
    );
  });

  it.each([1, 2])('finds the double plan of least effort, second sample times %i', (ratio) => {
    const two: TwoPoints = {
      good: { basis: 'binomial', fractionNonconforming: 0.03 },
      bad: { basis: 'binomial', fractionNonconforming: 0.15 },
      producersRisk: 0.05,
      consumersRisk: 0.1,
      greatestSamplePieces: 400,
    };
    const single = smallestSinglePlan(two)?.first.acceptanceNumber ?? 0;
    const found = leastEffortDoublePlan(two, ratio, single);
    const effort = (plan: SamplingPlan) => planOutcome(plan, two.good).averageSamplePieces;
    let best = Number.POSITIVE_INFINITY;
    for (let pieces = 1; pieces <= 80; pieces += 1) {
      for (let both = 1; both <= 2 * single + 3; both += 1) {
        for (let first = 0; first < both; first += 1) {
          const rejectionNumber = both + 1;
          const plan = {
            first: { sampleSizePieces: pieces, acceptanceNumber: first, rejectionNumber },
            second: {
              sampleSizePieces: ratio * pieces,
              acceptanceNumber: both,
              rejectionNumber,
            },
          };
          if (keeps(plan, two)) best = Math.min(best, effort(plan));
        }
      }
    }
    if (!found) throw new Error('no plan was found');
    expect(keeps(found, two)).toBe(true);
    expect(effort(found)).toBe(best);
  });
});
