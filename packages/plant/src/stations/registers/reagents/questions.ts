import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { plantDay } from '../index.ts';
import { reagentLots, titrantFactors } from './books.ts';

/** Every lot of the register, also those that expired or were condemned. */
const lots = defineQuestion({
  question: 'reagent-lots',
  station: 'registers',
  input: z.strictObject({}),
  answer: async (books, _input, { instant }) => ({
    day: await plantDay(books, instant),
    lots: await books.select(reagentLots),
  }),
});

const newestFactors = 100;

/** One lot, with the factors that were determined of it. */
const lot = defineQuestion({
  question: 'reagent-lot',
  station: 'registers',
  input: z.strictObject({ lot: z.string() }),
  answer: async (books, input, { instant }) => {
    const row = await books.get(reagentLots, input.lot);
    if (!row) return null;
    const factors = await books.select(titrantFactors, {
      prefix: [input.lot],
      descending: true,
      limit: newestFactors,
    });
    return { day: await plantDay(books, instant), row, factors };
  },
});

export const reagentQuestions = [lots, lot] as const;
