import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { reasonSchema } from '../../registers/index.ts';
import { closedTrial } from '../melt-facts.ts';
import { type HeldUse, heldUses } from './held-uses.ts';
import { holdFindings } from './hold-bodies.ts';
import { HoldAnswered } from './hold-entries.ts';
import { type Hold, holdNamed } from './holds.ts';
import { controlRefusals } from './refusals.ts';

const holdForm = 'the name of a hold, up to 120 characters';
const entryForm = 'the number of an entry, 1 or more';

export const holdName = z
  .string(holdForm)
  .min(1, holdForm)
  .max(120, holdForm)
  .meta({ title: 'Hold', description: 'As the docket names it.' });

const answerInput = z.strictObject({
  hold: holdName,
  entries: z
    .array(z.int(entryForm).min(1, entryForm), 'a list of entries')
    .min(1, 'at least one entry')
    .max(2000, 'at most 2000 entries')
    .refine((entries) => new Set(entries).size === entries.length, { error: 'each entry once' })
    .meta({ title: 'Results and weighings', description: 'By the entry that recorded them.' }),
  finding: z.enum(holdFindings, `one of ${holdFindings.join(', ')}`).meta({
    title: 'Finding',
    description: 'What stands counts as before; what is set aside counts no longer.',
  }),
  reason: reasonSchema.meta({ title: 'Reason', description: 'What was looked at and found.' }),
});

type AnswerInput = z.infer<typeof answerInput>;

interface AnswerFacts {
  readonly hold: Hold | undefined;
  readonly held: readonly HeldUse[];
}

async function answerFacts(books: BookReader, input: AnswerInput): Promise<AnswerFacts> {
  const hold = await holdNamed(books, input.hold);
  return { hold, held: hold ? await heldUses(books, hold) : [] };
}

function holdUnknown(hold: string): Refusal {
  return refuse(controlRefusals, 'HoldUnknown', {
    message: `There is no hold ${hold}.`,
    field: 'hold',
    figures: { hold },
  });
}

function notHeld(input: AnswerInput, held: ReadonlyMap<number, HeldUse>): readonly Refusal[] {
  return input.entries.flatMap((entry, index) =>
    held.has(entry)
      ? []
      : refuse(controlRefusals, 'NotHeld', {
          message: `Entry ${entry} is none that ${input.hold} keeps in doubt.`,
          field: `entries.${index}`,
          figures: { hold: input.hold, entry },
        }),
  );
}

/** A measurement is corrected, not set aside; and a ruling stands until it is a hold. */
function cannotSetAside(input: AnswerInput, chosen: readonly HeldUse[]): readonly Refusal[] {
  if (input.finding !== 'set aside') return [];
  const measurements = chosen.filter((use) => use.what === 'measurement of blanks');
  const ofMelts = chosen.filter((use) => use.what !== 'weighing');
  return [
    ...(measurements.length > 0 ? [measurementsStay(measurements)] : []),
    ...ofMelts.flatMap((use) => closedTrial(use.trial)),
  ];
}

/** One refusal for all measurements: of a gauge that was wrong for weeks there are many. */
function measurementsStay(measurements: readonly HeldUse[]): Refusal {
  const each = measurements.map(({ entry, melt }) => `entry ${entry}, of melt ${melt}`);
  return refuse(controlRefusals, 'MeasurementNotSetAside', {
    message: `A measurement of blanks is among what is chosen: ${each.join('; ')}.`,
    field: 'finding',
    figures: {
      entries: measurements.map(({ entry }) => entry),
      melts: measurements.map(({ melt }) => melt),
    },
  });
}

function decideAnswer(input: AnswerInput, { hold, held }: AnswerFacts): Decision {
  if (!hold) return { refusals: [holdUnknown(input.hold)] };
  const byEntry = new Map(held.map((use) => [use.entry, use]));
  const strange = notHeld(input, byEntry);
  if (strange.length > 0) return { refusals: strange };
  const chosen = input.entries.flatMap((entry) => byEntry.get(entry) ?? []);
  const refusals = cannotSetAside(input, chosen);
  if (refusals.length > 0) return { refusals };
  const body = {
    hold: hold.hold,
    words: hold.words,
    finding: input.finding,
    reason: input.reason,
    answeredFor: chosen.map(({ entry, melt, assayRun, what }) => ({ entry, melt, assayRun, what })),
  };
  return {
    entries: [draft(HoldAnswered, body)],
    answer: { hold: hold.hold, finding: input.finding, left: held.length - chosen.length },
  };
}

/** Says of results and weighings in doubt whether they stand. */
export const answerHold = defineCommand({
  command: 'answer-hold',
  station: 'laboratory',
  title: 'Answer for results in doubt',
  input: answerInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: answerFacts,
  decide: decideAnswer,
});
