import { z } from 'zod';

const share = 'a probability from 0 to 1';

export const foretoldAndFoundInput = z.strictObject({
  cases: z
    .array(
      z.strictObject({
        probability: z.number(share).min(0, share).max(1, share).meta({
          title: 'Foretold with',
          description: 'As it was said before anybody looked',
        }),
        isFound: z.boolean('true or false').meta({ title: 'Found to be so' }),
      }),
      '1 to 20000 things foretold',
    )
    .min(1, '1 to 20000 things foretold')
    .max(20_000, '1 to 20000 things foretold')
    .meta({ title: 'Things foretold' }),
  bandEnds: z
    .array(
      z.number(share).gt(0, share).lt(1, 'a probability below 1').meta({ title: 'End of a band' }),
      '1 to 40 probabilities',
    )
    .min(1, '1 to 40 probabilities')
    .max(40, '1 to 40 probabilities')
    .meta({ title: 'Ends of the bands', description: 'Rising, between 0 and 1' }),
});

export type ForetoldAndFoundInput = z.infer<typeof foretoldAndFoundInput>;

export const foretoldAndFoundOutput = z.strictObject({
  bands: z
    .array(
      z.strictObject({
        from: z.number().meta({ title: 'From' }),
        to: z.number().meta({ title: 'To below' }),
        cases: z.int().meta({ title: 'Foretold so' }),
        foretold: z.number().meta({ title: 'Mean foretold' }),
        found: z.int().meta({ title: 'Found so' }),
        foundShare: z.number().meta({ title: 'Part found' }),
        standardError: z.number().meta({
          title: 'Standard error of the part found',
          description: 'As it would be if what is foretold were right',
        }),
        chanceOfThisOrFarther: z.number().meta({
          title: 'Probability of a part this far off, or farther',
          description: 'Exact, either side, if what is foretold were right',
        }),
        shareLower: z.number().meta({ title: 'Part found, lower limit (95 %)' }),
        shareUpper: z.number().meta({ title: 'Part found, upper limit (95 %)' }),
      }),
    )
    .meta({ title: 'Bands in which something was foretold' }),
  cases: z.int().meta({ title: 'Foretold in all' }),
  found: z.int().meta({ title: 'Found in all' }),
  foretold: z.number().meta({ title: 'To be found, as foretold' }),
  brierScore: z.number().meta({
    title: 'Mean square of foretold less found',
    description: '0 for a prophet, 1/4 for saying one half of everything',
  }),
  brierExpected: z.number().meta({ title: 'The same, if what is foretold were right' }),
  chanceOfThisOrFarther: z.number().meta({
    title: 'Probability of a number this far off, or farther',
    description: 'All cases together, exact, either side',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type ForetoldAndFoundOutput = z.infer<typeof foretoldAndFoundOutput>;
