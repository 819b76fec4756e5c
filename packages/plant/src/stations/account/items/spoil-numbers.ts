import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';
import { witnessRoles } from '../witness.ts';
import { numberSeries, type SeriesRow, type SpoiledRow, spoiledNumbers } from './books.ts';
import { NumbersSpoiled } from './entries.ts';
import { numberField } from './receive-numbers.ts';
import { itemRefusals } from './refusals.ts';
import { numberText, usedNumbers } from './series-balance.ts';
import { unknownSeries } from './unknown-series.ts';

const spoilInput = z.strictObject({
  series: idSchema.meta({ title: 'Series', description: 'That the numbers belong to.' }),
  first: numberField('First number', 'Digits only, as it stands on the seal or label.'),
  last: numberField('Last number', 'The same as the first for a single one.'),
  reason: reasonSchema,
});

type SpoilInput = z.infer<typeof spoilInput>;

interface SpoilFacts {
  readonly series: SeriesRow | undefined;
  readonly used: readonly number[];
  readonly spoiled: readonly SpoiledRow[];
}

async function spoilFacts(books: BookReader, input: SpoilInput): Promise<SpoilFacts> {
  const series = await books.get(numberSeries, input.series);
  return {
    series,
    used: series ? await usedNumbers(books, series, input) : [],
    spoiled: await books.select(spoiledNumbers, { prefix: [input.series] }),
  };
}

function decideSpoil(input: SpoilInput, { series, used, spoiled }: SpoilFacts): Decision {
  if (!series) return { refusals: [unknownSeries(input.series)] };
  const { first, last } = input;
  if (first > last || first < series.first || last > series.last) {
    return {
      refusals: [
        refuse(itemRefusals, 'NumbersOutsideSeries', {
          message: `${numberText(series, first)} to ${numberText(series, last)} is no row of series ${series.series}, which goes from ${numberText(series, series.first)} to ${numberText(series, series.last)}.`,
          field: first < series.first ? 'first' : 'last',
          figures: { first, last, seriesFirst: series.first, seriesLast: series.last },
        }),
      ],
    };
  }
  const earlier = spoiled.find((row) => row.first <= last && first <= row.last);
  const [inUse] = used;
  if (inUse !== undefined || earlier) {
    const number = numberText(series, inUse ?? Math.max(first, earlier?.first ?? 0));
    return {
      refusals: [
        refuse(itemRefusals, 'NumbersInUse', {
          message:
            inUse === undefined
              ? `${number} was spoiled in entry ${earlier?.entry}.`
              : `${number} is in use.`,
          field: 'first',
          figures: { number, entry: earlier?.entry ?? null },
        }),
      ],
    };
  }
  return {
    entries: [draft(NumbersSpoiled, input)],
    answer: { series: series.series, spoiled: last - first + 1 },
  };
}

/** Destroys seals or labels that were never used. */
export const spoilNumbers = defineCommand({
  command: 'spoil-numbers',
  station: 'account',
  title: 'Spoil seals or labels',
  input: spoilInput,
  roles: ['custodian', 'metal accountant'],
  signature: 'author and witness',
  witnessRoles,
  facts: spoilFacts,
  decide: decideSpoil,
});
