import { catalogue } from '@cupel/calculation';
import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { methodEditions, methodsInForce } from './books.ts';

/** Every method in force, and the calculations that a method may name. */
const methods = defineQuestion({
  question: 'methods',
  station: 'registers',
  input: z.strictObject({}),
  answer: async (books) => ({
    methods: await books.select(methodsInForce),
    calculations: catalogue
      .filter((one) => one.topic === 'assay')
      .map(({ id, title, cautions }) => ({ id, title, cautions: [...(cautions ?? [])] })),
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
    return { inForce, editions };
  },
});

export const methodQuestions = [methods, method] as const;
