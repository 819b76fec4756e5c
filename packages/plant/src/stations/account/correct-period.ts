import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { type PeriodRow, periods } from './books-periods.ts';
import { PeriodCorrected } from './entries-periods.ts';
import { accountRefusals } from './refusals.ts';
import { witnessRoles } from './witness.ts';

const period = 'a closed day or month, as 2026-11-25 or 2026-11';
const entry = 'the number of an entry, from 1';

const correctInput = z.strictObject({
  period: z
    .string(period)
    .regex(/^\d{4}-\d{2}(-\d{2})?$/, period)
    .meta({ title: 'Period' }),
  entry: z
    .int(entry)
    .min(1, entry)
    .meta({ title: 'Entry', description: 'The entry inside the period that was wrong.' }),
  explanation: z
    .string()
    .trim()
    .min(10, 'a sentence of at least 10 characters')
    .max(2000, 'at most 2000 characters')
    .meta({ title: 'Explanation', description: 'What was wrong, and how it is put right now.' }),
});

type CorrectInput = z.infer<typeof correctInput>;

function correctRefusal(input: CorrectInput, row: PeriodRow | undefined): Refusal | undefined {
  if (!row?.statement) {
    return refuse(accountRefusals, 'PeriodNotClosed', {
      message: `${input.period} is ${row ? 'still open' : 'no period in which a shift was closed'}.`,
      field: 'period',
      figures: { period: input.period },
    });
  }
  const { firstEntry, lastEntry } = row.statement;
  if (input.entry >= firstEntry && input.entry <= lastEntry) return undefined;
  return refuse(accountRefusals, 'EntryOutsidePeriod', {
    message: `Entry ${input.entry} is not among entries ${firstEntry} to ${lastEntry}, which ${input.period} covers.`,
    field: 'entry',
    figures: { period: input.period, entry: input.entry, firstEntry, lastEntry },
  });
}

function decideCorrect(input: CorrectInput, row: PeriodRow | undefined): Decision {
  const refusal = correctRefusal(input, row);
  if (refusal) return { refusals: [refusal] };
  const more = { corrects: input.entry, reason: input.explanation };
  return {
    entries: [draft(PeriodCorrected, input, more)],
    answer: { period: input.period, entry: input.entry },
  };
}

/** Says, in the present, what was wrong in a closed period. */
export const correctPeriod = defineCommand({
  command: 'correct-period',
  station: 'account',
  title: 'Record correction',
  input: correctInput,
  roles: ['metal accountant', 'chief assayer'],
  signature: 'author and witness',
  witnessRoles,
  facts: (books: BookReader, input: CorrectInput) => books.get(periods, input.period),
  decide: decideCorrect,
});
