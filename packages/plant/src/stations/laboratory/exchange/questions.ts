import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { decimalSignOf } from './choose-decimal-sign.ts';

const decimalSign = defineQuestion({
  question: 'decimal-sign',
  station: 'laboratory',
  input: z.strictObject({}),
  answer: async (books) => ({ decimalMark: await decimalSignOf(books) }),
});

export const exchangeQuestions = [decimalSign] as const;
