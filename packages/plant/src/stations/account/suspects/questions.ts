import type { MetalBalanceInput, MetalBalanceOutput } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { insidePlaces } from '../../../journal/place.ts';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json } from '../../../ports/json.ts';
import { instrumentOf } from '../../registers/index.ts';
import type { ClosingLine } from '../bodies.ts';
import { closings } from '../books.ts';
import { lastClosing } from '../read-model.ts';
import { maySeeBook } from '../sees-book.ts';
import { type GramSuspect, gramSuspects, suspectWords } from './gram-suspects.ts';

async function titled(books: BookReader, suspect: GramSuspect) {
  const instrument = suspect.what === 'balance' && (await instrumentOf(books, suspect.name));
  return { ...suspect, title: instrument ? instrument.title : null };
}

async function lineAnswer(books: BookReader, line: ClosingLine): Promise<readonly Json[]> {
  if (!line.balance) return [];
  const input = line.balance.input as unknown as MetalBalanceInput;
  const output = line.balance.output as unknown as MetalBalanceOutput;
  const suspects = gramSuspects(input, output);
  return [
    {
      pieceStandard: line.pieceStandard,
      metal: line.metal,
      missingGrams: output.unexplainedGrossGrams,
      standardUncertaintyGrams: output.standardUncertaintyGrams,
      state: output.state,
      words: suspectWords(output, suspects),
      suspects: await Promise.all(suspects.map((suspect) => titled(books, suspect))),
    } as unknown as Json,
  ];
}

/** Of each piece standard at a place, whose errors explain the grams of a close: the newest, or a shift's. */
const gramSuspectsQuestion = defineQuestion({
  question: 'gram-suspects',
  station: 'account',
  input: z.strictObject({
    place: z.enum(insidePlaces),
    shift: z.string().min(1).max(40).nullable(),
  }),
  answer: async (books, { place, shift }, inquirer) => {
    if (!maySeeBook(inquirer)) return null;
    const closing = shift === null ? await lastClosing(books) : await books.get(closings, shift);
    const lines = closing?.places.find((one) => one.place === place)?.lines ?? [];
    if (!closing) return null;
    return {
      shift: closing.shift,
      lines: (await Promise.all(lines.map((line) => lineAnswer(books, line)))).flat(),
    };
  },
});

export const suspectQuestions = [gramSuspectsQuestion] as const;
