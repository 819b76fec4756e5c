import { describe, expect, it } from 'vitest';
import { cohenKappa, fleissKappa, type KappaWeights } from '../../src/control/precision/kappa.ts';
import values from './values.json' with { type: 'json' };

const place = (found: number | null, right: number, places: number) =>
  expect(Math.abs((found ?? Number.NaN) - right)).toBeLessThanOrEqual(0.5 * 10 ** -places + 1e-12);

describe("Cohen's kappa", () => {
  it.each(['none', 'linear'] as const)(
    'of nineteen items, weights %s, to four places',
    (weights) => {
      const found = cohenKappa(values.cohen.table, weights, 0.95);
      for (const [name, right] of Object.entries(values.cohen[weights])) {
        place(found[name as keyof typeof found], right, 4);
      }
    },
  );

  it.each(['none', 'linear', 'quadratic'] as const)(
    'of twenty anxiety ratings, weights %s',
    (weights) => {
      const [first = [], second = []] = values.anxiety.raters;
      const table = Array.from({ length: 6 }, () => Array.from({ length: 6 }, () => 0));
      first.forEach((category, index) => {
        const row = table[category - 1] as number[];
        const column = (second[index] ?? 1) - 1;
        row[column] = (row[column] ?? 0) + 1;
      });
      // The published figures leave out the category 5 that neither of the two raters uses.
      const used = [0, 1, 2, 3, 5].map((i) => [0, 1, 2, 3, 5].map((j) => table[i]?.[j] ?? 0));
      const found = cohenKappa(used, weights as KappaWeights, 0.95);
      const right = values.anxiety[weights];
      place(found.kappa, right.kappa, 6);
      place(found.z, right.z, 5);
      place(found.probability, right.probability, 6);
    },
  );
});

describe("Fleiss' kappa", () => {
  it('of ten items judged fourteen times is 0.210', () => {
    place(fleissKappa(values.fleissCounts.counts).overall.kappa, values.fleissCounts.kappa, 3);
  });

  it('of the thirty diagnoses of Fleiss (1971) is 0.4302 with z 17.65', () => {
    const counts = values.diagnoses.judgements.map((row) =>
      [1, 2, 3, 4, 5].map((category) => row.filter((one) => one === category).length),
    );
    const totals = [0, 1, 2, 3, 4].map((j) => counts.reduce((sum, row) => sum + (row[j] ?? 0), 0));
    expect(totals).toEqual(values.diagnoses.categoryTotals);
    const { overall } = fleissKappa(counts);
    place(overall.kappa, values.diagnoses.kappa, 7);
    place(overall.z, values.diagnoses.z, 5);
  });

  it('of small tables', () => {
    for (const { counts, kappa } of values.smallTables) {
      place(fleissKappa(counts).overall.kappa, kappa, 6);
    }
  });
});
