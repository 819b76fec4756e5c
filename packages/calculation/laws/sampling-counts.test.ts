import binomial from '@stdlib/stats-base-dists-binomial';
import poisson from '@stdlib/stats-base-dists-poisson';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countProbabilities, cumulated } from '../src/sampling/count-distribution.ts';

const seed = 4281;

function combinations(from: bigint, take: bigint): bigint {
  if (take < 0n || take > from) return 0n;
  let result = 1n;
  for (let index = 1n; index <= take; index += 1n) {
    result = (result * (from - take + index)) / index;
  }
  return result;
}

/** Quotient of whole numbers as a double with its full relative accuracy, however small. */
function quotient(dividend: bigint, divisor: bigint): number {
  if (dividend === 0n) return 0;
  const shift = BigInt(Math.max(0, divisor.toString(2).length - dividend.toString(2).length + 64));
  return Number((dividend << shift) / divisor) / 2 ** Number(shift);
}

function relative(found: number, exact: number): number {
  return found === exact ? 0 : Math.abs(found - exact) / Math.max(Math.abs(exact), 1e-290);
}

const lots = fc.integer({ min: 1, max: 300 }).chain((lot) =>
  fc.record({
    lot: fc.constant(lot),
    sample: fc.integer({ min: 0, max: lot }),
    bad: fc.integer({ min: 0, max: lot }),
    greatest: fc.integer({ min: -1, max: 30 }),
  }),
);

describe('counts in a sample', () => {
  it('hypergeometric terms and both tails equal the quotients of exact whole numbers', () => {
    fc.assert(
      fc.property(lots, ({ lot, sample, bad, greatest }) => {
        const found = countProbabilities(
          sample,
          { basis: 'hypergeometric', lotSizePieces: lot, nonconformingPieces: bad },
          greatest,
        );
        const all = combinations(BigInt(lot), BigInt(sample));
        const ways = (count: number) =>
          combinations(BigInt(bad), BigInt(count)) *
          combinations(BigInt(lot - bad), BigInt(sample - count));
        for (const [count, probability] of found.probabilities.entries()) {
          expect(relative(probability, quotient(ways(count), all))).toBeLessThan(1e-12);
        }
        let above = 0n;
        for (let count = greatest + 1; count <= sample; count += 1) above += ways(count);
        expect(relative(found.above, quotient(above, all))).toBeLessThan(1e-12);
      }),
      { seed, numRuns: 150 },
    );
  });

  it('binomial and Poisson sums equal the incomplete beta and gamma functions', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 3000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 0, max: 60 }),
        (sample, fraction, greatest) => {
          const binomially = countProbabilities(
            sample,
            { basis: 'binomial', fractionNonconforming: fraction },
            greatest,
          );
          const upTo = cumulated(binomially.probabilities).at(-1) ?? 0;
          expect(Math.abs(upTo - binomial.cdf(greatest, sample, fraction))).toBeLessThan(1e-12);
          expect(upTo + binomially.above).toBeCloseTo(1, 12);
          const counted = countProbabilities(
            sample,
            { basis: 'poisson', nonconformitiesPerPiece: fraction },
            greatest,
          );
          const mean = sample * fraction;
          const expected = mean === 0 ? 1 : poisson.cdf(greatest, mean);
          expect(Math.abs((cumulated(counted.probabilities).at(-1) ?? 0) - expected)).toBeLessThan(
            1e-12,
          );
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  it('sample and nonconforming pieces may change places', () => {
    fc.assert(
      fc.property(lots, ({ lot, sample, bad, greatest }) => {
        const one = {
          basis: 'hypergeometric',
          lotSizePieces: lot,
          nonconformingPieces: bad,
        } as const;
        const other = { ...one, nonconformingPieces: sample };
        const [first, second] = [
          countProbabilities(sample, one, greatest),
          countProbabilities(bad, other, greatest),
        ];
        for (const [count, probability] of first.probabilities.entries()) {
          expect(relative(probability, second.probabilities[count] ?? 0)).toBeLessThan(1e-11);
        }
      }),
      { seed, numRuns: 150 },
    );
  });

  it('a lot of a thousand million makes the hypergeometric the binomial', () => {
    for (const fraction of [0.001, 0.01, 0.2]) {
      const lotSizePieces = 1_000_000_000;
      const one = countProbabilities(
        200,
        { basis: 'hypergeometric', lotSizePieces, nonconformingPieces: fraction * lotSizePieces },
        12,
      );
      const other = countProbabilities(
        200,
        { basis: 'binomial', fractionNonconforming: fraction },
        12,
      );
      for (const [count, probability] of one.probabilities.entries()) {
        expect(relative(probability, other.probabilities[count] ?? 0)).toBeLessThan(1e-4);
      }
    }
  });
});
