import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { calculate } from '../../journal/calculated.ts';
import { insidePlaces } from '../../journal/place.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { DriftResolved } from './entries-periods.ts';
import { placeName } from './place-name.ts';
import { accountRefusals } from './refusals.ts';
import { type Series, seriesOf } from './series.ts';
import { witnessRoles } from './witness.ts';

const resolveInput = z.strictObject({
  place: z.enum(insidePlaces, `one of ${insidePlaces.join(', ')}`).meta({ title: 'Place' }),
  pieceStandard: idSchema.meta({ title: 'Piece standard' }),
  finding: z
    .string()
    .trim()
    .min(10, 'a sentence of at least 10 characters')
    .max(2000, 'at most 2000 characters')
    .meta({
      title: 'Finding',
      description: 'What was weighed again or recalibrated, and where the grams went.',
    }),
});

type ResolveInput = z.infer<typeof resolveInput>;

function driftRefusal(input: ResolveInput, series: Series | undefined): Refusal | undefined {
  if (series?.signal) return undefined;
  const { place, pieceStandard } = input;
  const last = series?.output.periods.at(-1);
  const why = last
    ? `the sums are ${(last.upperSum ?? 0).toFixed(2)} and ${(last.lowerSum ?? 0).toFixed(2)}, and ${series?.output.decisionInterval} is their limit, or the signal is answered`
    : 'there are too few weighed balances';
  return refuse(accountRefusals, 'DriftNotSignalled', {
    message: `No drift of ${pieceStandard} in ${placeName(place)} waits for an answer: ${why}.`,
    field: 'pieceStandard',
    figures: { place, pieceStandard, balances: series?.rows.length ?? 0 },
  });
}

function decideDrift(input: ResolveInput, series: Series | undefined): Decision {
  const refusal = driftRefusal(input, series);
  const signal = series?.signal;
  const newest = series?.rows.at(-1);
  if (refusal || !signal || !newest) return { refusals: refusal ? [refusal] : [] };
  const { calculated } = calculate('balance-series', series.input);
  const body = {
    ...input,
    closing: newest.entry,
    sinceShift: signal.sincePeriod,
    way: signal.way,
    series: calculated,
  };
  return {
    entries: [draft(DriftResolved, body)],
    answer: { place: input.place, pieceStandard: input.pieceStandard },
  };
}

/** Answers a drift, so that its series begins anew. */
export const resolveDrift = defineCommand({
  command: 'resolve-drift',
  station: 'account',
  title: 'Answer drift',
  input: resolveInput,
  roles: ['chief assayer'],
  signature: 'author and witness',
  witnessRoles,
  facts: (books: BookReader, input: ResolveInput) =>
    seriesOf(books, input.place, input.pieceStandard),
  decide: decideDrift,
});
