import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';
import { screeningFindings } from './bodies.ts';
import type { ScreeningRow } from './books.ts';
import { openScreenings, ScreeningAnswered } from './entries.ts';
import { screeningRefusals } from './refusals.ts';

const answerInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt' }),
  finding: z
    .enum(screeningFindings, `one of ${screeningFindings.join(', ')}`)
    .meta({ title: 'Finding' }),
  reason: reasonSchema.meta({ title: 'Reason', description: 'What was looked at and found.' }),
});

type AnswerInput = z.infer<typeof answerInput>;

function decideAnswer(input: AnswerInput, open: readonly ScreeningRow[]): Decision {
  const { melt } = input;
  if (open.length === 0) {
    return {
      refusals: [
        refuse(screeningRefusals, 'ScreeningNotOpen', {
          message: `Melt ${melt} has no screening that deviates and waits for an answer.`,
          field: 'melt',
          figures: { melt },
        }),
      ],
    };
  }
  const screenings = open.map(({ entry }) => entry);
  return { entries: [draft(ScreeningAnswered, { ...input, screenings })] };
}

/** Says what screenings that deviate mean for their melt. */
export const answerScreening = defineCommand({
  command: 'answer-screening',
  station: 'laboratory',
  title: 'Answer screening',
  input: answerInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: (books: BookReader, { melt }) => openScreenings(books, melt),
  decide: decideAnswer,
});

/** Why a melt may not be released yet: a screening that deviates and that nobody has answered. */
export function screeningGate(melt: string, open: readonly ScreeningRow[]): readonly Refusal[] {
  if (open.length === 0) return [];
  const [first] = open;
  return [
    refuse(screeningRefusals, 'ScreeningNotAnswered', {
      message: `${open.length === 1 ? 'A screening' : `${open.length} screenings`} of melt ${melt} deviate${open.length === 1 ? 's' : ''}: ${first?.words ?? ''}`,
      field: 'melt',
      figures: { melt, screenings: open.map(({ entry }) => entry) },
    }),
  ];
}
