import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDensity } from '../quantity/normal.ts';
import { subsetsThatSumTo } from './subset-sums.ts';

const whole = 'a whole number of pieces within ten million';
const otherThanNothing = 'a whole number of pieces other than 0';

export const entrySubsetsInput = z.strictObject({
  entries: z
    .array(
      z.strictObject({
        name: z.string().min(1, 'a name').max(200).meta({ title: 'Entry' }),
        pieces: z.int(whole).min(-10_000_000, whole).max(10_000_000, whole).meta({
          title: 'Pieces',
          description: 'With the sign in which the entry counts',
          unit: 'pieces',
        }),
      }),
    )
    .min(1, '1 to 5000 entries')
    .max(5000, '1 to 5000 entries')
    .meta({ title: 'Entries' }),
  difference: z.int(otherThanNothing).min(-1e9, whole).max(1e9, whole).meta({
    title: 'Difference',
    description: 'What some entries are to sum to, exactly',
    unit: 'pieces',
  }),
  mostEntries: z
    .int('a whole number from 1 to 6')
    .min(1, 'a whole number from 1 to 6')
    .max(6, 'a whole number from 1 to 6')
    .meta({ title: 'Entries in a set, at most' }),
});

export type EntrySubsetsInput = z.infer<typeof entrySubsetsInput>;

export const entrySubsetsOutput = z.strictObject({
  sizes: z
    .array(
      z.strictObject({
        entries: z.int().meta({ title: 'Entries in a set' }),
        sets: z.int().meta({ title: 'Sets that make up the difference' }),
        soughtAmong: z.int().meta({
          title: 'Sought among so many entries',
          description: 'The first ones, in the order given',
        }),
        expectedByChance: z.number().nullable().meta({
          title: 'Sets that chance alone would give, about',
          description: 'Nothing where the entries are too alike to say',
        }),
      }),
    )
    .meta({ title: 'By number of entries' }),
  subsets: z
    .array(z.strictObject({ entries: z.array(z.string().meta({ title: 'Entry' })) }))
    .meta({ title: 'Sets, smaller ones first; at most 50' }),
  words: z.string().meta({ title: 'In words' }),
});

export type EntrySubsetsOutput = z.infer<typeof entrySubsetsOutput>;

/** So many entries are looked at in sets of one, two … six, so that none takes more than a few seconds. */
const mostSought = [5000, 5000, 1500, 400, 150, 60] as const;

/** So many sets are listed. */
const mostListed = 50;

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));

/** The number of ways to choose so many of so many. */
function choices(from: number, count: number): number {
  let product = 1;
  for (let at = 0; at < count; at += 1) product = (product * (from - at)) / (at + 1);
  return product;
}

/**
 * Sets of a size that would sum to the difference if sums lay normally about their mean, on the steps in
 * which they can lie.
 */
function expectedByChance(values: readonly number[], size: number, difference: number) {
  const count = values.length;
  if (count < 2 || size > count) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / count;
  const spread = (size * variance * (count - size)) / (count - 1);
  if (spread <= 0) return null;
  const [first = 0] = values;
  const step = values.reduce((most, value) => greatestDivisor(most, Math.abs(value - first)), 0);
  if ((difference - size * first) % step !== 0) return 0;
  return choices(count, size) * step * normalDensity(difference, size * mean, Math.sqrt(spread));
}

function inWords(output: Omit<EntrySubsetsOutput, 'words'>, difference: number): string {
  const [first] = output.subsets;
  const sought = output.sizes.length;
  if (!first) {
    return `No ${sought === 1 ? 'entry makes' : `set of up to ${sought} entries makes`} up ${difference} pieces.`;
  }
  const size = first.entries.length;
  const found = output.sizes[size - 1];
  const others = (found?.sets ?? 1) - 1;
  const named = size === 1 ? `Entry ${first.entries[0]}` : `Together ${first.entries.join(', ')}`;
  const more = others === 0 ? 'no other set of that size does' : `${others} more of that size do`;
  const chance =
    found?.expectedByChance == null
      ? ''
      : `; chance alone would give about ${Number(found.expectedByChance.toPrecision(2))}`;
  return `${named} ${size === 1 ? 'makes' : 'make'} up ${difference} pieces, and ${more}${chance}.`;
}

/**
 * Sets of entries whose pieces sum exactly to a difference: entries of a sheet that was left out or recorded
 * twice.
 *
 * Formula: exact in whole numbers. The last two places of a set are found by looking up what is left, the last
 * four by looking up pairs. About how many sets chance would give: C(N, k) times the normal density of sums of
 * k without replacement at the difference, times the step on which sums lie.
 *
 * @param input 1 to 5000 entries with whole pieces; a difference other than 0; sets of 1 to 6 entries
 * @returns how many sets there are by size, and the first 50, smaller ones first
 * @throws DomainError for a difference of 0
 * Validity: every set of the size is counted among the entries that `soughtAmong` names: all for one and two,
 * the first 1500 for three, 400 for four, 150 for five, 60 for six. Where chance gives several, one that is
 * found says little.
 * Source: E. Horowitz and S. Sahni (1974), Journal of the ACM 21, 277-292 (subset sums by halves); compared with
 * trying every set
 * @example entrySubsets({ entries: [{ name: 'a', pieces: 20 }, { name: 'b', pieces: 480 }, { name: 'c',
 *   pieces: 35 }], difference: 500, mostEntries: 2 }).subsets[0].entries[1] // 'b'
 */
export function entrySubsets(input: EntrySubsetsInput): EntrySubsetsOutput {
  const { entries, difference } = input;
  requireDomain(difference !== 0, {
    field: 'difference',
    value: difference,
    accepted: otherThanNothing,
  });
  const subsets: { entries: string[] }[] = [];
  const sizes = Array.from({ length: input.mostEntries }, (_, at) => {
    const size = at + 1;
    const among = entries.slice(0, mostSought[at] ?? 0);
    const values = among.map(({ pieces }) => pieces);
    let sets = 0;
    subsetsThatSumTo(values, size, difference, (places) => {
      sets += 1;
      if (subsets.length >= mostListed) return;
      subsets.push({ entries: places.map((place) => among[place]?.name ?? '') });
    });
    return {
      entries: size,
      sets,
      soughtAmong: among.length,
      expectedByChance: expectedByChance(values, size, difference),
    };
  });
  const output = { sizes, subsets };
  return { ...output, words: inWords(output, difference) };
}

function drawEntrySubsets(_: EntrySubsetsInput, output: EntrySubsetsOutput): Chart[] {
  const told = output.sizes.filter(({ expectedByChance: chance }) => chance !== null);
  if (told.length === 0) return [];
  return [
    {
      kind: 'chart',
      title: 'Sets that make up the difference',
      xTitle: 'Entries in a set',
      yTitle: 'Sets',
      series: [
        {
          label: 'found',
          kind: 'bars',
          x: told.map(({ entries }) => entries),
          y: told.map(({ sets }) => sets),
        },
        {
          label: 'by chance',
          kind: 'points',
          x: told.map(({ entries }) => entries),
          y: told.map(({ expectedByChance: chance }) => chance ?? 0),
        },
      ],
    },
  ];
}

export const entrySubsetsCalculation = defineCalculation({
  id: 'entry-subsets',
  version: 1,
  topic: 'account',
  title: 'Search for a missing piece: entries that make up a difference',
  purpose:
    'Which entries together make up a difference of pieces exactly, and how many sets would do so by chance.',
  source:
    'E. Horowitz and S. Sahni (1974), Journal of the ACM 21, 277-292; exact in whole numbers, compared with trying every set',
  input: entrySubsetsInput,
  output: entrySubsetsOutput,
  example: {
    entries: [
      { name: 'delivery 14', pieces: 480 },
      { name: 'delivery 18', pieces: 463 },
      { name: 'rejects 19', pieces: 7 },
      { name: 'delivery 22', pieces: 475 },
      { name: 'rejects 25', pieces: 12 },
    ],
    difference: 482,
    mostEntries: 4,
  },
  compute: entrySubsets,
  draw: drawEntrySubsets,
});
