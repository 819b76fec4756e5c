import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  binomialAcceptance,
  hypergeometricAcceptance,
  poissonAcceptance,
} from '../src/sampling/acceptance-probability.ts';
import { attributePlan } from '../src/sampling/attribute-plan.ts';
import {
  acceptanceQualityLimits,
  inspectionLevels,
  severities,
} from '../src/sampling/attribute-tables.ts';

const seed = 105;

function combinations(from: bigint, take: bigint): bigint {
  if (take < 0n || take > from) return 0n;
  let result = 1n;
  for (let index = 1n; index <= take; index += 1n)
    result = (result * (from - take + index)) / index;
  return result;
}

describe('acceptance probabilities', () => {
  it('hypergeometric acceptance equals the quotient of exact integers', () => {
    const lots = fc
      .integer({ min: 2, max: 400 })
      .chain((lot) =>
        fc.tuple(
          fc.constant(lot),
          fc.integer({ min: 1, max: lot }),
          fc.integer({ min: 0, max: lot }),
          fc.integer({ min: 0, max: 12 }),
        ),
      );
    fc.assert(
      fc.property(lots, ([lot, sample, bad, acceptance]) => {
        let accepted = 0n;
        for (let x = 0; x <= acceptance; x += 1) {
          accepted +=
            combinations(BigInt(bad), BigInt(x)) *
            combinations(BigInt(lot - bad), BigInt(sample - x));
        }
        const all = combinations(BigInt(lot), BigInt(sample));
        // Eighteen figures of the quotient, taken before anything becomes a double.
        const exact = Number((accepted * 10n ** 18n) / all) / 1e18;
        const found = hypergeometricAcceptance(
          { sampleSizePieces: sample, acceptanceNumber: acceptance },
          { lotSizePieces: lot, nonconformingPieces: bad },
        );
        expect(Math.abs(found - exact)).toBeLessThan(1e-13);
      }),
      { seed, numRuns: 300 },
    );
  });

  it('a lot of a million makes the hypergeometric the binomial, and small fractions the Poisson', () => {
    for (const [sampleSizePieces, acceptanceNumber, fraction] of [
      [80, 2, 0.02],
      [200, 7, 0.03],
      [20, 0, 0.05],
    ] as const) {
      const plan = { sampleSizePieces, acceptanceNumber };
      const lot = { lotSizePieces: 1_000_000, nonconformingPieces: 1_000_000 * fraction };
      const binomial = binomialAcceptance(plan, fraction);
      expect(Math.abs(hypergeometricAcceptance(plan, lot) - binomial)).toBeLessThan(1e-4);
      expect(Math.abs(poissonAcceptance(plan, fraction) - binomial)).toBeLessThan(0.02);
    }
  });

  it('more nonconforming pieces never make acceptance more probable', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 500 }),
        fc.integer({ min: 0, max: 30 }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (sampleSizePieces, acceptanceNumber, fraction, more) => {
          const plan = { sampleSizePieces, acceptanceNumber };
          const worse = fraction + more;
          const slack = 1e-12;
          expect(binomialAcceptance(plan, worse)).toBeLessThanOrEqual(
            binomialAcceptance(plan, fraction) + slack,
          );
          expect(poissonAcceptance(plan, worse)).toBeLessThanOrEqual(
            poissonAcceptance(plan, fraction) + slack,
          );
        },
      ),
      { seed, numRuns: 300 },
    );
  });
});

describe('sampling plans', () => {
  const inputs = fc.record({
    lotSizePieces: fc.integer({ min: 2, max: 2_000_000 }),
    inspectionLevel: fc.constantFrom(...inspectionLevels),
    acceptanceQualityLimitPercent: fc.constantFrom(...acceptanceQualityLimits),
    severity: fc.constantFrom(...severities),
  });

  it('never ask for more pieces than there are, and state every piece when they ask for all', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const plan = attributePlan(input);
        expect(plan.sampleSizePieces).toBeLessThanOrEqual(input.lotSizePieces);
        expect(plan.examineEveryPiece).toBe(plan.sampleSizePieces === input.lotSizePieces);
        expect(plan.rejectionNumber).toBeGreaterThan(plan.acceptanceNumber);
        expect(plan.gap).toBe(plan.rejectionNumber > plan.acceptanceNumber + 1);
        if (plan.gap) expect(input.severity).toBe('reduced');
      }),
      { seed, numRuns: 2000 },
    );
  });

  it('tightened inspection protects at least as well as normal inspection', () => {
    fc.assert(
      fc.property(inputs, fc.double({ min: 0.001, max: 0.3, noNaN: true }), (input, fraction) => {
        const accept = (severity: (typeof severities)[number]) => {
          const plan = attributePlan({ ...input, severity, lotSizePieces: 2_000_000 });
          return binomialAcceptance(plan, fraction);
        };
        expect(accept('tightened')).toBeLessThanOrEqual(accept('normal') + 1e-12);
      }),
      { seed, numRuns: 500 },
    );
  });
});
