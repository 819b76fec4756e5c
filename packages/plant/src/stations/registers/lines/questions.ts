import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { instruments } from '../books.ts';
import { instrumentLines } from './books.ts';

/** An instrument and the line on which it is read; no line where it stands on none. */
const instrumentLine = defineQuestion({
  question: 'instrument-line',
  station: 'registers',
  input: z.strictObject({ instrument: z.string() }),
  answer: async (books, input) => {
    const registered = await books.get(instruments, input.instrument);
    if (!registered) return null;
    const line = await books.get(instrumentLines, input.instrument);
    return { registered, line: line ?? null };
  },
});

export const lineQuestions = [instrumentLine] as const;
