import { z } from 'zod';
import type { Book, BookReader } from '../../journal/books.ts';
import { defineQuestion } from '../../journal/station.ts';
import type { JsonObject } from '../../ports/json.ts';
import { dies, instruments, people, pieceStandards, purchasers, suppliers } from './books.ts';
import { waitingApprovals } from './docket.ts';
import { plantDay, plantOf } from './index.ts';
import { requiredProbabilityOf } from './piece-standard.ts';

/** All records of a book as plain JSON. */
async function all<Row extends JsonObject>(
  books: BookReader,
  book: Book<Row>,
): Promise<readonly JsonObject[]> {
  return books.select(book);
}

/** Everything in the registers, with what has run out today or soon will. */
const registersDesk = defineQuestion({
  question: 'registers-desk',
  station: 'registers',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const plant = await plantOf(books);
    return {
      plant: plant ?? null,
      day: await plantDay(books, inquirer.instant),
      people: await all(books, people),
      pieceStandards: await all(books, pieceStandards),
      suppliers: await all(books, suppliers),
      purchasers: await all(books, purchasers),
      instruments: await all(books, instruments),
      dies: await all(books, dies),
      runningOut: await waitingApprovals(books, inquirer.instant),
    };
  },
});

/** One piece standard with the dies that strike it. */
const pieceStandard = defineQuestion({
  question: 'piece-standard',
  station: 'registers',
  input: z.strictObject({ pieceStandard: z.string() }),
  answer: async (books, input) => {
    const standard = await books.get(pieceStandards, input.pieceStandard);
    if (!standard) return null;
    const dieRows = await books.select(dies, { by: 'byStandard', prefix: [input.pieceStandard] });
    return { standard, requiredProbability: requiredProbabilityOf(standard), dies: dieRows };
  },
});

/** The full name of everybody who was ever enrolled, by sign-in name: entries bear the latter. */
const peopleNames = defineQuestion({
  question: 'people-names',
  station: 'registers',
  input: z.strictObject({}),
  answer: async (books) =>
    Object.fromEntries((await books.select(people)).map(({ person, name }) => [person, name])),
});

export const registersQuestions = [registersDesk, pieceStandard, peopleNames] as const;
