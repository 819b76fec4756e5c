import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { instruments } from '../books.ts';
import { instrumentChecks, suspectIntervals } from './books.ts';

const newestChecks = 100;

/** The checks of one instrument, the newest first, and what they put in doubt. */
const checks = defineQuestion({
  question: 'instrument-checks',
  station: 'registers',
  input: z.strictObject({ instrument: z.string() }),
  answer: async (books, { instrument }) => {
    const row = await books.get(instruments, instrument);
    if (!row) return null;
    const of = { prefix: [instrument], descending: true };
    return {
      stopped: row.stopped ?? null,
      checks: await books.select(instrumentChecks, { ...of, limit: newestChecks }),
      intervals: await books.select(suspectIntervals, of),
    };
  },
});

export const instrumentCheckQuestions = [checks] as const;
