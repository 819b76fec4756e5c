import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema } from '../../registers/index.ts';
import { witnessRoles } from '../witness.ts';
import { numberSeries } from './books.ts';
import { NumbersCounted } from './entries.ts';
import { itemRefusals } from './refusals.ts';
import { type SeriesBalance, seriesBalance } from './series-balance.ts';
import { unknownSeries } from './unknown-series.ts';

const foundAccepted = 'a whole number, 0 or more';

const countInput = z.strictObject({
  series: idSchema.meta({ title: 'Series', description: 'That was counted.' }),
  found: z
    .int(foundAccepted)
    .min(0, foundAccepted)
    .max(1_000_000, 'a whole number, at most 1000000')
    .meta({ title: 'Found', description: 'Seals or labels that are left, as two people counted.' }),
});

type CountInput = z.infer<typeof countInput>;

async function countFacts(
  books: BookReader,
  input: CountInput,
): Promise<SeriesBalance | undefined> {
  const series = await books.get(numberSeries, input.series);
  return series && seriesBalance(books, series);
}

function decideCount(input: CountInput, balance: SeriesBalance | undefined): Decision {
  if (!balance) return { refusals: [unknownSeries(input.series)] };
  const { received, used, spoiled, left, series } = balance;
  if (input.found > received) {
    const refusal = refuse(itemRefusals, 'MoreThanReceived', {
      message: `${input.found} are said to be left of series ${input.series}; ${received} were received.`,
      field: 'found',
      figures: { series: input.series, found: input.found, received },
    });
    return { refusals: [refusal] };
  }
  const difference = input.found - left;
  const body = { ...input, item: series.item, received, used, spoiled, difference };
  return {
    entries: [draft(NumbersCounted, body)],
    answer: { series: input.series, agrees: difference === 0 },
  };
}

/** Counts what is left of a series; the difference is said after the count, not before. */
export const countNumbers = defineCommand({
  command: 'count-numbers',
  station: 'account',
  title: 'Count seals or labels',
  input: countInput,
  roles: ['custodian', 'metal accountant', 'inspector'],
  signature: 'author and witness',
  witnessRoles,
  facts: countFacts,
  decide: decideCount,
});
