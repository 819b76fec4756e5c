import { z } from 'zod';
import { massReadingSchema } from '../../journal/reading.ts';
import { defineQuestion } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { idSchema } from '../registers/index.ts';
import { judgeDrum, weighFacts } from './weigh-rule.ts';

/**
 * What a weighing would say, without recording it: for the eye while the balance settles. The seal is
 * not looked at, so that nobody learns here which one the document names.
 */
export const drumTrial = defineQuestion({
  question: 'drum-trial',
  station: 'receiving',
  input: z.strictObject({
    drum: idSchema,
    gross: massReadingSchema,
    tare: massReadingSchema,
    instrument: idSchema,
  }),
  answer: async (books, input, { instant }) => {
    const facts = await weighFacts(books, input, { instant });
    const judged = judgeDrum({ ...input, sealFound: facts.drum?.seal ?? '' }, facts);
    if ('refusals' in judged) {
      const refusals = judged.refusals.map(({ refusal, message }) => ({ refusal, message }));
      return { refusals, state: null, netMicrograms: null, count: null } as Json;
    }
    const { state, netMicrograms, count } = judged.body;
    return { refusals: [], state, netMicrograms, count };
  },
});
