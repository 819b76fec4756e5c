import { z } from 'zod';

const result = 'a result from 0 to 1000 ‰';
export const countWords = 'one to ten results, in the order in which they were obtained';
const deviation = 'a repeatability standard deviation above 0 ‰ and at most 1000 ‰';
const duplicate = 'a limit above 0 ‰ and at most 1000 ‰ on the difference of duplicates';
export const oneOfTwo =
  'exactly one of repeatabilityStandardDeviationPerMille and duplicateLimitPerMille';

export const replicateAcceptanceInputSchema = z
  .strictObject({
    resultsPerMille: z
      .array(
        z.number({ error: result }).min(0, { error: result }).max(1000, { error: result }).meta({
          title: 'Result',
          unit: '‰',
        }),
        { error: countWords },
      )
      .min(1, { error: countWords })
      .max(10, { error: countWords })
      .meta({ title: 'Results', description: countWords, unit: '‰' }),
    repeatabilityStandardDeviationPerMille: z
      .number({ error: deviation })
      .gt(0, { error: deviation })
      .max(1000, { error: deviation })
      .optional()
      .meta({
        title: 'Repeatability standard deviation',
        description: 'Of one result of the method; leave out when a duplicate limit is given',
        unit: '‰',
      }),
    duplicateLimitPerMille: z
      .number({ error: duplicate })
      .gt(0, { error: duplicate })
      .max(1000, { error: duplicate })
      .optional()
      .meta({
        title: 'Limit on the difference of duplicates',
        description:
          'As a method standard states it; taken as 2.8 repeatability standard deviations',
        unit: '‰',
      }),
  })
  .superRefine((input, context) => {
    const isDeviationGiven = input.repeatabilityStandardDeviationPerMille !== undefined;
    if (isDeviationGiven !== (input.duplicateLimitPerMille !== undefined)) return;
    context.addIssue({
      code: 'custom',
      path: ['repeatabilityStandardDeviationPerMille'],
      message: oneOfTwo,
    });
  });

const rules = [
  'one result, not judged',
  'mean of two',
  'mean of three',
  'mean of four',
  'median of four',
  'mean of all',
  'median of all',
  'range of two exceeds the critical range',
  'range of three exceeds the critical range',
] as const;

const nullablePerMille = (title: string, description: string) =>
  z.number().nullable().meta({ title, description, unit: '‰' });

export const replicateAcceptanceOutputSchema = z.strictObject({
  state: z
    .enum(['accepted', 'more-needed', 'median-of-four', 'median-of-all'])
    .meta({ title: 'State' }),
  furtherResultsNeeded: z
    .int()
    .min(0)
    .max(3)
    .meta({ title: 'Further results needed', description: 'Before a final result can be stated' }),
  rangePerMille: nullablePerMille('Range', 'Largest less smallest result; none for one result'),
  criticalRangePerMille: nullablePerMille(
    'Critical range',
    'For this number of results at 95 %; none for one result',
  ),
  criticalRangeFactor: z.number().nullable().meta({
    title: 'Critical range factor',
    description: 'f(n) of ISO 5725-6; none for one result',
  }),
  meanPerMille: z.number().meta({
    title: 'Mean of all results',
    description: 'For information; it is the final result only where the rule says so',
    unit: '‰',
  }),
  finalResultPerMille: nullablePerMille('Final result', 'None while more results are needed'),
  rule: z.enum(rules).meta({ title: 'Rule applied' }),
  words: z.string().meta({ title: 'In words' }),
});

export type ReplicateAcceptanceInput = z.infer<typeof replicateAcceptanceInputSchema>;
export type ReplicateAcceptanceOutput = z.infer<typeof replicateAcceptanceOutputSchema>;
