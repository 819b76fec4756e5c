import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { methodEditions, methodsInForce } from './books.ts';
import { fittingCalculations, listedCalculation } from './fitting-calculations.ts';

/** Every method in force, and the calculations that a method may name. */
const methods = defineQuestion({
  question: 'methods',
  station: 'registers',
  input: z.strictObject({}),
  answer: async (books) => ({
    methods: await books.select(methodsInForce),
    calculations: fittingCalculations,
  }),
});

/** One method with all its editions, the newest first. */
const method = defineQuestion({
  question: 'method',
  station: 'registers',
  input: z.strictObject({ method: z.string() }),
  answer: async (books, input) => {
    const inForce = await books.get(methodsInForce, input.method);
    if (!inForce) return null;
    const editions = await books.select(methodEditions, {
      prefix: [input.method],
      descending: true,
    });
    return { inForce, editions, calculation: listedCalculation(inForce.calculation) ?? null };
  },
});

export const methodQuestions = [methods, method] as const;
