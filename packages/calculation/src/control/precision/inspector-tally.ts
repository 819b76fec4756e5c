import beta from '@stdlib/stats-base-dists-beta';
import type { CountedShare, InspectorAgreementInput } from './inspector-agreement-schema.ts';

type Item = InspectorAgreementInput['items'][number];

/**
 * A counted share with its exact interval.
 *
 * Formula: ends from the quantiles of the beta distribution at (1 − confidence)/2 and 1 less that.
 *
 * @param count 0 to of
 * @param of 1 or more; 0 gives null
 * @param confidence two-sided, open range (0, 1)
 * @returns share and interval in %, or null where nothing was counted
 * Validity: exact: covers at least as often as stated.
 * Source: C. J. Clopper and E. S. Pearson (1934), Biometrika 26, 404-413
 * @example countedShare(9, 10, 0.95).lowerPercent // 55.4984
 */
export function countedShare(count: number, of: number, confidence: number): CountedShare | null {
  if (of === 0) return null;
  const tail = (1 - confidence) / 2;
  return {
    count,
    of,
    percent: (100 * count) / of,
    lowerPercent: count === 0 ? 0 : 100 * beta.quantile(tail, count, of - count + 1),
    upperPercent: count === of ? 100 : 100 * beta.quantile(1 - tail, count + 1, of - count),
  };
}

/** Categories that one inspector gave an item, in the order of the repeats. */
export function judgementsOf(item: Item, inspector: string): string[] {
  return item.judgements
    .filter((judgement) => judgement.inspector === inspector)
    .map((judgement) => judgement.category);
}

/** Counts of how often the first of two categories goes with the second. */
export function crossTable(
  pairs: readonly (readonly [string, string])[],
  categories: readonly string[],
): number[][] {
  const place = new Map(categories.map((category, index) => [category, index]));
  const table = categories.map(() => categories.map(() => 0));
  for (const [first, second] of pairs) {
    const row = table[place.get(first) ?? 0] as number[];
    const column = place.get(second) ?? 0;
    row[column] = (row[column] as number) + 1;
  }
  return table;
}

/** Judgements of each item by category, or null where items have different numbers of them. */
export function itemCounts(
  items: readonly Item[],
  categories: readonly string[],
): number[][] | null {
  const place = new Map(categories.map((category, index) => [category, index]));
  const size = items[0]?.judgements.length ?? 0;
  if (size < 2 || items.some((item) => item.judgements.length !== size)) return null;
  return items.map((item) => {
    const counts = categories.map(() => 0);
    for (const { category } of item.judgements) {
      const column = place.get(category) ?? 0;
      counts[column] = (counts[column] as number) + 1;
    }
    return counts;
  });
}

/** Items on which a test of all judgements holds, among those that are counted. */
export function countItems(
  items: readonly Item[],
  isCounted: (item: Item) => boolean,
  holds: (item: Item) => boolean,
  confidence: number,
): CountedShare | null {
  const counted = items.filter(isCounted);
  return countedShare(counted.filter(holds).length, counted.length, confidence);
}
