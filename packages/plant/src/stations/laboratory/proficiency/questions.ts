import { calculationById } from '@cupel/calculation';
import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json } from '../../../ports/json.ts';
import { idSchema } from '../../registers/index.ts';
import { proficiencyRounds, type RoundRow } from './books.ts';
import { histories, historyOf, openSignals, type RoundHistory } from './history.ts';

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

function lineOf(row: RoundRow, { output }: RoundHistory) {
  const { scores: _scores, others, answered, ...line } = row;
  return {
    ...line,
    participants: others.length + 1,
    open: openSignals(row, output),
    finding: answered?.finding ?? null,
  };
}

/** Every history of rounds with its drawing. */
const proficiency = defineQuestion({
  question: 'proficiency-rounds',
  station: 'laboratory',
  input: z.strictObject({}),
  answer: async (books) =>
    asJson(
      (await histories(books)).map((history) => ({
        characteristic: history.characteristic,
        words: history.output.words,
        drawings: history.drawings,
        rounds: history.rounds.map((row) => lineOf(row, history)),
      })),
    ),
});

/** One round with its scores, drawings and history. */
const proficiencyRound = defineQuestion({
  question: 'proficiency-round',
  station: 'laboratory',
  input: z.strictObject({ round: idSchema }),
  answer: async (books, { round }) => {
    const row = await books.get(proficiencyRounds, round);
    const history = row && (await historyOf(books, row.characteristic));
    if (!row || !history) return null;
    const { calculation, input, output } = row.scores;
    const drawings = calculationById(calculation).draw?.(input as never, output as never) ?? [];
    return asJson({
      ...row,
      open: openSignals(row, history.output),
      drawings,
      historyWords: history.output.words,
      historyDrawings: history.drawings,
    });
  },
});

export const proficiencyQuestions = [proficiency, proficiencyRound] as const;
