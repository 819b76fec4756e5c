import { z } from 'zod';
import { dixonRatios } from './dixon-ratio.ts';
import {
  nameField,
  nullableField,
  ratioField,
  readingField,
  significanceField,
  unitField,
  wordsField,
} from './precision-fields.ts';

const countWords = '3 to 200 results';
const sideWords = 'one of either, highest, lowest';
const ratioWords = 'one of by-number, r10, r11, r12, r20, r21, r22';
const varianceWords = 'a standard deviation of 0 or more in the stated unit';
const groupWords = '2 to 200 standard deviations';
const replicateWords = 'a whole number of results from 2 to 1000';

const resultsForm = z.strictObject({
  kind: z.literal('results').meta({ title: 'Single results' }),
  results: z
    .array(readingField('Result'), { error: countWords })
    .min(3, countWords)
    .max(200, countWords)
    .meta({ title: 'Results', description: 'Of one quantity, in any order' }),
  side: z.enum(['either', 'highest', 'lowest'], sideWords).meta({
    title: 'Side watched',
    description: 'Either, unless only results on one side could be false for a known reason',
  }),
  dixonRatio: z
    .enum(['by-number', ...(Object.keys(dixonRatios) as (keyof typeof dixonRatios)[])], ratioWords)
    .meta({
      title: "Dixon's ratio",
      description:
        'by-number: r10 up to 7 results, r11 up to 10, r21 up to 13, r22 above; r10 is known as Q',
    }),
});

const spreadsForm = z.strictObject({
  kind: z.literal('spreads').meta({ title: 'Spreads of groups' }),
  groups: z
    .array(
      z.strictObject({
        name: nameField('Group'),
        standardDeviation: z.number({ error: varianceWords }).min(0, varianceWords).meta({
          title: 'Standard deviation',
          description: 'In the stated unit',
        }),
      }),
      { error: groupWords },
    )
    .min(2, groupWords)
    .max(200, groupWords)
    .meta({ title: 'Groups' }),
  replicates: z
    .int(replicateWords)
    .min(2, replicateWords)
    .max(1000, replicateWords)
    .meta({ title: 'Results in each group' }),
});

export const outlierTestsInput = z.strictObject({
  data: z
    .discriminatedUnion('kind', [resultsForm, spreadsForm], {
      error: 'results, or spreads of groups',
    })
    .meta({ title: 'What is examined' }),
  unit: unitField,
  significancePercent: significanceField(
    'Significance',
    'Chance that a test finds an outlier where there is none; 1 or 5',
  ),
});

const tests = [
  'grubbs-one',
  'grubbs-pair-same-side',
  'grubbs-pair-opposite',
  'dixon',
  'cochran',
] as const;

export const outlierTestsOutput = z.strictObject({
  count: z.int().meta({ title: 'Results or groups examined' }),
  mean: nullableField('Mean', 'In the stated unit; none for spreads'),
  standardDeviation: nullableField('Standard deviation', 'In the stated unit; none for spreads'),
  tests: z
    .array(
      z.strictObject({
        test: z.enum(tests).meta({ title: 'Test' }),
        side: z.enum(['highest', 'lowest', 'both', 'largest-spread']).meta({ title: 'Suspect' }),
        suspects: z
          .array(z.string().meta({ title: 'Suspect' }))
          .meta({ title: 'Suspect results or groups' }),
        statistic: ratioField('Statistic'),
        criticalValue: ratioField(
          'Critical value',
          'Significant above it; for the pair on one side below it',
        ),
        probability: ratioField(
          'Probability',
          'Of a statistic as extreme where there is no outlier, for the side or sides watched',
        ),
        isOutlier: z.boolean().meta({ title: 'Outlier' }),
      }),
    )
    .meta({ title: 'Tests' }),
  words: wordsField,
});

export type OutlierTestsInput = z.infer<typeof outlierTestsInput>;
export type OutlierTestsOutput = z.infer<typeof outlierTestsOutput>;
