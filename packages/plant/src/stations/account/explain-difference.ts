import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import type { InsidePlace, Metal } from '../../journal/place.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { differenceOutcomes, type DifferenceExplained as Explained } from './bodies.ts';
import { type DifferenceRow, differences } from './books.ts';
import { DifferenceExplained } from './entries.ts';
import { closedPeriodsOf } from './read-model-periods.ts';
import { accountRefusals } from './refusals.ts';
import { witnessRoles } from './witness.ts';

const explainInput = z.strictObject({
  difference: idSchema.meta({ title: 'Difference' }),
  outcome: z.enum(differenceOutcomes, `one of ${differenceOutcomes.join(', ')}`).meta({
    title: 'Outcome',
    description: 'Found and booked since put the metal back; written off and explained do not.',
  }),
  explanation: z
    .string()
    .trim()
    .min(10, 'a sentence of at least 10 characters')
    .max(2000, 'at most 2000 characters')
    .meta({ title: 'Explanation', description: 'What happened, and how it is known.' }),
});

type ExplainInput = z.infer<typeof explainInput>;

function explainRefusal(input: ExplainInput, row: DifferenceRow | undefined): Refusal | undefined {
  const { difference, outcome } = input;
  if (!row) {
    return refuse(accountRefusals, 'DifferenceUnknown', {
      message: `There is no difference ${difference}.`,
      field: 'difference',
      figures: { difference },
    });
  }
  if (row.state !== 'open') {
    return refuse(accountRefusals, 'DifferenceResolved', {
      message: `Difference ${difference} ended as ${row.state} in entry ${row.resolvedEntry}.`,
      field: 'difference',
      figures: { difference, state: row.state, entry: row.resolvedEntry },
    });
  }
  if (row.form === 'signed' || outcome === 'explained' || outcome === 'written off')
    return undefined;
  return refuse(accountRefusals, 'OutcomeUnfit', {
    message: `Difference ${difference} is of grams only and was never posted; it cannot end as ${outcome}.`,
    field: 'outcome',
    figures: { difference, outcome },
  });
}

function putBackOf(input: ExplainInput, row: DifferenceRow): Explained['putBack'] {
  const posted = row.form === 'signed' && row.finenessDeclaredPartsPerMillion !== null;
  if (!posted || (input.outcome !== 'found' && input.outcome !== 'booked since')) return null;
  return {
    difference: row.difference,
    place: row.place as InsidePlace,
    metal: row.metal as Metal,
    pieceStandard: row.pieceStandard,
    melt: row.melt,
    finenessDeclaredPartsPerMillion: row.finenessDeclaredPartsPerMillion,
    direction: row.pieces < 0 || row.grossMicrograms < 0 ? 'missing' : 'surplus',
    pieces: Math.abs(row.pieces),
    grossMicrograms: Math.abs(row.grossMicrograms),
    fineMicrograms: Math.abs(row.fineMicrograms),
  };
}

interface ExplainFacts {
  readonly row: DifferenceRow | undefined;
  /** True when the difference belongs to a closed day or month. */
  readonly isLate: boolean;
}

async function explainFacts(books: BookReader, input: ExplainInput): Promise<ExplainFacts> {
  const row = await books.get(differences, input.difference);
  const closed = row ? await closedPeriodsOf(books, row.shift) : [];
  return { row, isLate: closed.length > 0 };
}

function decideExplain(input: ExplainInput, { row, isLate }: ExplainFacts): Decision {
  const refusal = explainRefusal(input, row);
  if (refusal) return { refusals: [refusal] };
  const { entry } = row as DifferenceRow;
  const body = { ...input, putBack: putBackOf(input, row as DifferenceRow) };
  // What belongs to a closed period ends in the present one, and points back.
  const more = isLate ? { corrects: entry, reason: input.explanation } : {};
  return {
    entries: [draft(DifferenceExplained, body, more)],
    answer: { difference: input.difference },
  };
}

/** Says how a difference ended, and takes it off the docket. */
export const explainDifference = defineCommand({
  command: 'explain-difference',
  station: 'account',
  title: 'Explain difference',
  input: explainInput,
  roles: ['chief assayer'],
  signature: 'author and witness',
  witnessRoles,
  facts: explainFacts,
  decide: decideExplain,
});
