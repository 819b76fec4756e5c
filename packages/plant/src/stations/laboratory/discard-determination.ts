import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';
import { type DeterminationRow, determinations, type TrialRow, trials } from './books.ts';
import { DeterminationDiscarded } from './entries.ts';
import { closedTrial } from './melt-facts.ts';
import { laboratoryRefusals } from './refusals.ts';

const discardInput = z.strictObject({
  assayRun: idSchema.meta({ title: 'Run', description: 'The run of the determination.' }),
  label: idSchema.meta({ title: 'Label', description: 'As it stands on the worksheet.' }),
  reason: reasonSchema.meta({
    title: 'Reason',
    description: 'The cause that was found; that a value looks odd is none.',
  }),
});

interface DiscardFacts {
  readonly row: DeterminationRow | undefined;
  readonly trial: TrialRow | undefined;
}

async function discardFacts(
  books: BookReader,
  input: z.infer<typeof discardInput>,
): Promise<DiscardFacts> {
  const row = await books.get(determinations, input.assayRun, input.label);
  return { row, trial: row && (await books.get(trials, row.melt)) };
}

function whyNotValid(row: DeterminationRow): string {
  return row.discarded
    ? `was discarded in entry ${row.discarded.entry}: ${row.discarded.reason}`
    : 'belongs to a void run';
}

function decideDiscard(
  input: z.infer<typeof discardInput>,
  { row, trial }: DiscardFacts,
): Decision {
  const { assayRun, label, reason } = input;
  if (!row) {
    return {
      refusals: [
        refuse(laboratoryRefusals, 'DeterminationUnknown', {
          message: `Run ${assayRun} has no determination ${label}.`,
          field: 'label',
          figures: { assayRun, label },
        }),
      ],
    };
  }
  const closed = closedTrial(trial);
  if (closed.length > 0) return { refusals: closed };
  if (row.state !== 'valid') {
    return {
      refusals: [
        refuse(laboratoryRefusals, 'DeterminationNotValid', {
          message: `Determination ${label} of run ${assayRun} ${whyNotValid(row)}.`,
          field: 'label',
          figures: { assayRun, label, state: row.state },
        }),
      ],
    };
  }
  if (trial && trial.resultState !== 'none') {
    return {
      refusals: [
        refuse(laboratoryRefusals, 'ResultAlreadySigned', {
          message: `The result of melt ${row.melt} was signed in entry ${trial.result}; its determinations stand.`,
          nextStep: 'Let the person who checks the result send it back first.',
          figures: { melt: row.melt, result: trial.result, verdict: trial.verdict },
        }),
      ],
    };
  }
  return {
    entries: [draft(DeterminationDiscarded, { assayRun, label, melt: row.melt, reason })],
    answer: { assayRun, label, melt: row.melt },
  };
}

/** Takes a determination out of the result; it stays visible with its reason. */
export const discardDetermination = defineCommand({
  command: 'discard-determination',
  station: 'laboratory',
  title: 'Discard determination',
  input: discardInput,
  roles: ['assayer'],
  signature: 'author',
  facts: discardFacts,
  decide: decideDiscard,
});
