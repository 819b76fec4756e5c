import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';
import { roundFindings } from './bodies.ts';
import { proficiencyRounds, type RoundRow } from './books.ts';
import { ProficiencyRoundAnswered } from './entries.ts';
import { historyOf, openSignals } from './history.ts';
import { proficiencyRefusals } from './refusals.ts';

const answerInput = z.strictObject({
  round: idSchema.meta({ title: 'Round' }),
  finding: z.enum(roundFindings, `one of ${roundFindings.join(', ')}`).meta({ title: 'Finding' }),
  reason: reasonSchema.meta({ title: 'Reason', description: 'What was looked at and found.' }),
});

type AnswerInput = z.infer<typeof answerInput>;

interface AnswerFacts {
  readonly row: RoundRow | undefined;
  readonly open: readonly string[];
}

async function answerFacts(books: BookReader, { round }: AnswerInput): Promise<AnswerFacts> {
  const row = await books.get(proficiencyRounds, round);
  const history = row && (await historyOf(books, row.characteristic));
  return { row, open: row && history ? openSignals(row, history.output) : [] };
}

function decideAnswer(input: AnswerInput, { row, open }: AnswerFacts): Decision {
  const { round } = input;
  if (!row) {
    const message = `No round ${round} has been recorded.`;
    const detail = { message, field: 'round', figures: { round } };
    return { refusals: [refuse(proficiencyRefusals, 'RoundUnknown', detail)] };
  }
  if (open.length === 0) {
    const message = row.answered
      ? `Round ${round} was answered in entry ${row.answered.entry}.`
      : `Round ${round} has no signal.`;
    const detail = { message, field: 'round', figures: { round } };
    return { refusals: [refuse(proficiencyRefusals, 'RoundWithoutSignal', detail)] };
  }
  return { entries: [draft(ProficiencyRoundAnswered, { ...input, signals: [...open] })] };
}

/** Says what was found when the signal of a round was looked into. */
export const answerProficiencyRound = defineCommand({
  command: 'answer-proficiency-round',
  station: 'laboratory',
  title: 'Answer signal of a round',
  input: answerInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: answerFacts,
  decide: decideAnswer,
});
