import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { defineQuestion } from '../../../journal/station.ts';
import { personOf } from '../../registers/index.ts';
import { holdName } from './answer-hold.ts';
import { holdAnswers } from './books.ts';
import { type HeldUse, heldUses } from './held-uses.ts';
import { countsOfHeld, wordsOfCounts } from './hold-words.ts';
import { type Hold, holdNamed, holdsOf } from './holds.ts';

const shownUse = ({ trial, ...use }: HeldUse) => ({ ...use, stage: trial?.stage ?? null });

/** A hold in a line of the list: what it keeps in doubt, and who answered last. */
async function lineOf(books: BookReader, hold: Hold) {
  const held = await heldUses(books, hold);
  const answers = await books.select(holdAnswers, { prefix: [hold.hold] });
  const newest = answers.reduce<(typeof answers)[number] | undefined>(
    (last, row) => (!last || row.answered > last.answered ? row : last),
    undefined,
  );
  return {
    ...hold,
    inDoubt: held.length,
    words: hold.words,
    doubt: wordsOfCounts(countsOfHeld(held)),
    answered: answers.length,
    newestAnswer: newest
      ? {
          entry: newest.answered,
          instant: newest.instant,
          author: (await personOf(books, newest.author))?.name ?? newest.author,
        }
      : null,
  };
}

/** Every hold there has been, the newest first: what each still keeps in doubt, and its answers. */
const holds = defineQuestion({
  question: 'holds',
  station: 'laboratory',
  input: z.strictObject({}),
  answer: async (books) => {
    const all = [...(await holdsOf(books))].sort((one, other) => other.through - one.through);
    return Promise.all(all.map((hold) => lineOf(books, hold)));
  },
});

/** One hold: what it keeps in doubt, and what was answered for. */
const hold = defineQuestion({
  question: 'results-hold',
  station: 'laboratory',
  input: z.strictObject({ hold: holdName }),
  answer: async (books, input) => {
    const found = await holdNamed(books, input.hold);
    if (!found) return null;
    return {
      ...found,
      held: (await heldUses(books, found)).map(shownUse),
      answers: await books.select(holdAnswers, { prefix: [found.hold] }),
    };
  },
});

export const controlQuestions = [holds, hold] as const;
