import { z } from 'zod';
import {
  confidenceField,
  nameField,
  nullableField,
  ratioField,
  readingField,
  resultField,
  unitField,
  wordsField,
} from './precision-fields.ts';

const laboratoryWords = '4 to 2000 laboratories';
const excludedWords = 'true or false';

export const youdenPairsInput = z.strictObject({
  characteristic: nameField('Characteristic'),
  unit: unitField,
  laboratories: z
    .array(
      z.strictObject({
        name: nameField('Laboratory'),
        first: readingField('Result on the first sample'),
        second: readingField('Result on the second sample'),
        isExcluded: z.boolean({ error: excludedWords }).meta({
          title: 'Left out',
          description: 'True where a cause for its results was found; it is then only shown',
        }),
      }),
      { error: laboratoryWords },
    )
    .min(4, laboratoryWords)
    .max(2000, laboratoryWords)
    .meta({ title: 'Laboratories', description: 'One result on each of two similar samples' }),
  confidencePercent: confidenceField,
});

export const youdenPairsOutput = z.strictObject({
  laboratoryCount: z.int().meta({ title: 'Laboratories used' }),
  firstMedian: resultField('Median of the first sample'),
  secondMedian: resultField('Median of the second sample'),
  firstMean: resultField('Mean of the first sample'),
  secondMean: resultField('Mean of the second sample'),
  firstStandardDeviation: resultField('Standard deviation of the first sample'),
  secondStandardDeviation: resultField('Standard deviation of the second sample'),
  correlation: nullableField('Correlation', 'None where one sample does not vary'),
  withinStandardDeviation: resultField('Within-laboratory standard deviation'),
  withinLower: resultField('Within-laboratory, lower end', 'In the stated unit; exact'),
  withinUpper: resultField('Within-laboratory, upper end', 'In the stated unit; exact'),
  totalStandardDeviation: resultField(
    'Standard deviation along the line',
    'In the stated unit: of the totals, over √2; both components are in it',
  ),
  betweenStandardDeviation: resultField(
    'Between-laboratory standard deviation',
    'In the stated unit; 0 where its square came out negative',
  ),
  isBetweenVarianceNegative: z
    .boolean()
    .meta({ title: 'Between-laboratory variance came out negative and was set to 0' }),
  betweenLower: resultField('Between-laboratory, lower end', 'Modified large-sample interval'),
  betweenUpper: resultField('Between-laboratory, upper end', 'Modified large-sample interval'),
  ratio: nullableField('F', 'Along over across; none where nothing scatters across the line'),
  probability: nullableField('Probability', 'Of such a ratio where laboratories are alike'),
  circleRadius: resultField(
    'Radius of the circle',
    'In the stated unit: holds the stated share of laboratories without errors of their own',
  ),
  laboratories: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'Laboratory' }),
        isUsed: z.boolean().meta({ title: 'Used' }),
        along: resultField('Deviation along the line', 'From the medians: both samples alike'),
        across: resultField(
          'Deviation across the line',
          'From the medians: samples against each other',
        ),
        ellipseRatio: ratioField(
          'Distance in the ellipse',
          'Square of the distance from the means over that of the ellipse',
        ),
        isOutsideEllipse: z.boolean().meta({ title: 'Outside the ellipse' }),
        fault: z.enum(['none', 'systematic', 'random', 'both']).meta({
          title: 'Kind of deviation',
          description: 'By within-laboratory scatter at the stated confidence',
        }),
      }),
    )
    .meta({ title: 'Laboratories' }),
  ellipse: z
    .strictObject({
      first: z
        .array(z.number().meta({ title: 'First sample' }))
        .meta({ title: 'First sample, in the stated unit' }),
      second: z
        .array(z.number().meta({ title: 'Second sample' }))
        .meta({ title: 'Second sample, in the stated unit' }),
    })
    .meta({ title: 'Ellipse that holds the stated share of laboratories' }),
  words: wordsField,
});

export type YoudenPairsInput = z.infer<typeof youdenPairsInput>;
export type YoudenPairsOutput = z.infer<typeof youdenPairsOutput>;
