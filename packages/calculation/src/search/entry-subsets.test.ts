import { describe, expect, it } from 'vitest';
import { entrySubsets } from './entry-subsets.ts';

const entriesOf = (pieces: readonly number[]) =>
  pieces.map((one, at) => ({ name: `e${at}`, pieces: one }));

/** Every set of entries, by trying each: how many of each size sum to the difference. */
function byTrying(pieces: readonly number[], difference: number, most: number): number[] {
  const counts = new Array<number>(most).fill(0);
  for (let set = 1; set < 2 ** pieces.length; set += 1) {
    const chosen = pieces.filter((_, at) => (set >> at) & 1);
    if (chosen.length > most) continue;
    if (chosen.reduce((sum, one) => sum + one, 0) === difference) {
      counts[chosen.length - 1] = (counts[chosen.length - 1] ?? 0) + 1;
    }
  }
  return counts;
}

describe('entrySubsets', () => {
  it('lists the sets, smaller ones first', () => {
    const entries = entriesOf([20, 480, 500, 300, 180, 21]);
    const found = entrySubsets({ entries, difference: 500, mostEntries: 3 });
    expect(found.subsets.map((one) => one.entries)).toEqual([
      ['e2'],
      ['e0', 'e1'],
      ['e0', 'e3', 'e4'],
    ]);
    expect(found.sizes.map(({ sets }) => sets)).toEqual([1, 1, 1]);
  });

  it.each([1, 2, 3, 4, 5])('finds as many as trying every set of 16 entries, seed %i', (seed) => {
    const pieces = Array.from({ length: 16 }, (_, at) => ((at * 7919 + seed * 104_729) % 61) - 30);
    for (const difference of [7, -11, 40]) {
      const found = entrySubsets({ entries: entriesOf(pieces), difference, mostEntries: 6 });
      expect(found.sizes.map(({ sets }) => sets)).toEqual(byTrying(pieces, difference, 6));
      for (const { entries } of found.subsets) {
        const sum = entries.reduce(
          (total, name) => total + (pieces[Number(name.slice(1))] ?? 0),
          0,
        );
        expect(sum).toBe(difference);
        expect(new Set(entries).size).toBe(entries.length);
      }
    }
  });

  it('foretells about how many sets chance gives', () => {
    const pieces = Array.from({ length: 60 }, (_, at) => 400 + ((at * 7919) % 101));
    const found = entrySubsets({ entries: entriesOf(pieces), difference: 1353, mostEntries: 3 });
    const three = found.sizes[2];
    const chance = three?.expectedByChance ?? 0;
    // A number of Poisson: within four of its standard deviations.
    expect(Math.abs((three?.sets ?? 0) - chance)).toBeLessThan(4 * Math.sqrt(chance));
    expect(chance).toBeGreaterThan(50);
  });

  it('knows that sums of even numbers are never odd, and that like entries say nothing', () => {
    const even = entrySubsets({
      entries: entriesOf([2, 4, 8, 20]),
      difference: 11,
      mostEntries: 2,
    });
    expect(even.sizes.map(({ expectedByChance: chance }) => chance)).toEqual([0, 0]);
    const alike = entrySubsets({ entries: entriesOf([20, 20]), difference: 40, mostEntries: 2 });
    expect(alike.sizes[0]?.expectedByChance).toBeNull();
    expect(alike.words).toBe(
      'Together e0, e1 make up 40 pieces, and no other set of that size does.',
    );
  });

  it('looks at fewer entries in larger sets, and says so', () => {
    const entries = entriesOf(Array.from({ length: 200 }, (_, at) => at + 1));
    const found = entrySubsets({ entries, difference: 100_000, mostEntries: 5 });
    expect(found.sizes.map(({ soughtAmong }) => soughtAmong)).toEqual([200, 200, 200, 200, 150]);
    expect(found.words).toBe('No set of up to 5 entries makes up 100000 pieces.');
  });

  it('refuses a difference of nothing', () => {
    expect(() => entrySubsets({ entries: entriesOf([1]), difference: 0, mostEntries: 1 })).toThrow(
      /difference.*other than 0/s,
    );
  });
});
