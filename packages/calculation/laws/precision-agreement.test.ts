import beta from '@stdlib/stats-base-dists-beta';
import binomial from '@stdlib/stats-base-dists-binomial';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countedShare } from '../src/control/precision/inspector-tally.ts';
import { cohenKappa, fleissKappa } from '../src/control/precision/kappa.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

/** A category from shares by a normal deviate, so that the library's own quantile is not used. */
function categoryOf(deviate: number, cuts: readonly number[]): number {
  return cuts.filter((cut) => deviate > cut).length;
}

function tableOf(pairs: readonly (readonly [number, number])[], categories: number): number[][] {
  const table = Array.from({ length: categories }, () => new Array<number>(categories).fill(0));
  for (const [first, second] of pairs) {
    const row = table[first] as number[];
    row[second] = (row[second] ?? 0) + 1;
  }
  return table;
}

const counts = fc.array(fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 3, maxLength: 3 }), {
  minLength: 3,
  maxLength: 3,
});

describe("laws of Cohen's kappa", () => {
  it('is the same when raters change places and when unweighted categories change names', () => {
    fc.assert(
      fc.property(counts, (table) => {
        fc.pre(table.flat().some((count) => count > 0));
        const turned = table.map((_, j) => table.map((row) => row[j] ?? 0));
        const order = [2, 0, 1];
        const renamed = order.map((i) => order.map((j) => table[i]?.[j] ?? 0));
        const plain = cohenKappa(table, 'none', 0.95);
        for (const other of [turned, renamed]) {
          const found = cohenKappa(other, 'none', 0.95);
          if (plain.kappa === null) expect(found.kappa).toBe(null);
          else {
            expect(found.kappa).toBeCloseTo(plain.kappa, 10);
            expect(found.standardError).toBeCloseTo(plain.standardError ?? 0, 10);
            expect(found.standardErrorNull).toBeCloseTo(plain.standardErrorNull ?? 0, 10);
          }
        }
      }),
      { seed: 61, numRuns: 300 },
    );
  });

  it('is alike with every weight for two categories, and one for full agreement', () => {
    const table = [
      [30, 4],
      [7, 19],
    ];
    const [none, linear, quadratic] = (['none', 'linear', 'quadratic'] as const).map((weights) =>
      cohenKappa(table, weights, 0.95),
    );
    expect(linear).toEqual(none);
    expect(quadratic?.kappa).toBeCloseTo(none?.kappa ?? 0, 14);
    const full = cohenKappa(
      [
        [5, 0],
        [0, 8],
      ],
      'none',
      0.95,
    );
    expect(full).toMatchObject({ kappa: 1, standardError: 0, lower: 1, upper: 1 });
    expect(
      cohenKappa(
        [
          [9, 0],
          [0, 0],
        ],
        'none',
        0.95,
      ).kappa,
    ).toBe(null);
  });

  it.each(['none', 'linear', 'quadratic'] as const)(
    'has the standard errors of simulated tables: %s',
    (weights) => {
      const normal = seededNormal(62);
      const cuts = [-0.3, 0.8];
      const draw = (shared: number) => {
        const pairs = Array.from({ length: 200 }, () => {
          const own = normal();
          const one = Math.sqrt(shared) * own + Math.sqrt(1 - shared) * normal();
          const two = Math.sqrt(shared) * own + Math.sqrt(1 - shared) * normal();
          return [categoryOf(one, cuts), categoryOf(two, cuts)] as const;
        });
        return cohenKappa(tableOf(pairs, 3), weights, 0.95);
      };
      const related = Array.from({ length: 1500 }, () => draw(0.7));
      const found = standardDeviation(related.map((one) => one.kappa ?? 0));
      const claimed = related.reduce((sum, one) => sum + (one.standardError ?? 0), 0) / 1500;
      // Four standard errors of a simulated deviation, and 3 % for 200 items being no large sample.
      expect(Math.abs(found / claimed - 1)).toBeLessThan(4 / Math.sqrt(3000) + 0.03);
      const free = Array.from({ length: 1500 }, () => draw(0));
      const scatter = standardDeviation(free.map((one) => one.kappa ?? 0));
      const none = free.reduce((sum, one) => sum + (one.standardErrorNull ?? 0), 0) / 1500;
      expect(Math.abs(scatter / none - 1)).toBeLessThan(4 / Math.sqrt(3000) + 0.03);
    },
  );
});

describe("laws of Fleiss' kappa", () => {
  it('is the mean of its categories, weighted by p(1 − p)', () => {
    const items = [
      [3, 2, 0],
      [1, 4, 0],
      [0, 0, 5],
      [5, 0, 0],
      [2, 2, 1],
    ];
    const { overall, byCategory } = fleissKappa(items);
    const shares = [0, 1, 2].map((j) => items.reduce((sum, row) => sum + (row[j] ?? 0), 0) / 25);
    const weights = shares.map((share) => share * (1 - share));
    const total = weights.reduce((sum, one) => sum + one, 0);
    const mean = byCategory.reduce((sum, one, j) => sum + (one.kappa ?? 0) * (weights[j] ?? 0), 0);
    expect(mean / total).toBeCloseTo(overall.kappa ?? 0, 13);
  });

  it('has the standard errors of judgements without agreement', () => {
    const normal = seededNormal(63);
    const cuts = [-0.6, 0.5];
    const runs = Array.from({ length: 1500 }, () => {
      const items = Array.from({ length: 60 }, () => {
        const row = [0, 0, 0];
        for (let rater = 0; rater < 5; rater += 1) {
          const category = categoryOf(normal(), cuts);
          row[category] = (row[category] ?? 0) + 1;
        }
        return row;
      });
      return fleissKappa(items);
    });
    const of = (
      pick: (
        run: (typeof runs)[number],
      ) => { kappa: number | null; standardErrorNull: number | null } | undefined,
    ) => {
      const found = standardDeviation(runs.map((run) => pick(run)?.kappa ?? 0));
      const claimed =
        runs.reduce((sum, run) => sum + (pick(run)?.standardErrorNull ?? 0), 0) / 1500;
      return found / claimed;
    };
    const room = 4 / Math.sqrt(3000) + 0.03;
    expect(Math.abs(of((run) => run.overall) - 1)).toBeLessThan(room);
    expect(Math.abs(of((run) => run.byCategory[1]) - 1)).toBeLessThan(room);
  });
});

describe('exact intervals of shares', () => {
  it('end where the binomial tail is half of what is left', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.nat(60), (of, part) => {
        const count = part % (of + 1);
        const share = countedShare(count, of, 0.9);
        if (!share) throw new Error('no share');
        if (count > 0) {
          const above = 1 - binomial.cdf(count - 1, of, share.lowerPercent / 100);
          expect(above).toBeCloseTo(0.05, 9);
        } else expect(share.lowerPercent).toBe(0);
        if (count < of) {
          expect(binomial.cdf(count, of, share.upperPercent / 100)).toBeCloseTo(0.05, 9);
        } else expect(share.upperPercent).toBe(100);
      }),
      { seed: 64, numRuns: 200 },
    );
    expect(beta.cdf(0.5, 3, 3)).toBeCloseTo(0.5, 12);
    expect(countedShare(0, 0, 0.95)).toBe(null);
  });
});
