import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { holdName } from './answer-hold.ts';
import { holdAnswers } from './books.ts';
import { type HeldUse, heldUses, holdsOf } from './holds.ts';

const shownUse = ({ trial, ...use }: HeldUse) => ({ ...use, stage: trial?.stage ?? null });

/** The holds there are, with how much each still keeps in doubt. */
const holds = defineQuestion({
  question: 'holds',
  station: 'laboratory',
  input: z.strictObject({}),
  answer: async (books) => {
    const all = await holdsOf(books);
    return Promise.all(
      all.map(async (hold) => ({ ...hold, inDoubt: (await heldUses(books, hold)).length })),
    );
  },
});

/** One hold: what it keeps in doubt, and what was answered for. */
const hold = defineQuestion({
  question: 'results-hold',
  station: 'laboratory',
  input: z.strictObject({ hold: holdName }),
  answer: async (books, input) => {
    const found = (await holdsOf(books)).find((one) => one.hold === input.hold);
    if (!found) return null;
    return {
      ...found,
      held: (await heldUses(books, found)).map(shownUse),
      answers: await books.select(holdAnswers, { prefix: [found.hold] }),
    };
  },
});

export const controlQuestions = [holds, hold] as const;
