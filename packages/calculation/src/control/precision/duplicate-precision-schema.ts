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

const pairWords = '3 to 5000 pairs';
const groupWords = 'a whole number of pairs from 3 to 100, usually 11';

export const duplicatePrecisionInput = z.strictObject({
  characteristic: nameField('Characteristic'),
  unit: unitField,
  pairs: z
    .array(
      z.strictObject({
        name: nameField('Sample'),
        first: readingField('First result'),
        second: readingField('Second result'),
      }),
      { error: pairWords },
    )
    .min(3, pairWords)
    .max(5000, pairWords)
    .meta({ title: 'Pairs', description: 'Two results on each of many samples' }),
  groupSizePairs: z
    .int(groupWords)
    .min(3, groupWords)
    .max(100, groupWords)
    .meta({ title: 'Pairs in a group', description: 'For the medians by level', unit: 'pairs' }),
  confidencePercent: confidenceField,
});

const line = {
  atZero: resultField('Standard deviation at level 0'),
  perLevel: ratioField('Increase per unit of level', 'Relative standard deviation at high levels'),
  detectionLevel: nullableField(
    'Level with a precision of 100 %',
    'In the stated unit: where two standard deviations equal the level; none where there is no such level',
  ),
};

export const duplicatePrecisionOutput = z.strictObject({
  pairCount: z.int().meta({ title: 'Pairs' }),
  mean: resultField('Mean of all results'),
  standardDeviation: resultField('Standard deviation of one result', 'One for all levels'),
  standardDeviationLower: resultField('Lower end of it', 'Exact for normal results'),
  standardDeviationUpper: resultField('Upper end of it', 'Exact for normal results'),
  relativeStandardDeviationPercent: nullableField(
    'Relative standard deviation, %',
    'Root mean square of the pairs; none where a pair has mean 0',
  ),
  medianDifferencePercent: nullableField(
    'Median of the differences, %',
    'Of the mean of the pair, without sign; none where a pair has mean 0',
  ),
  meanDifference: resultField('Mean of first less second'),
  differenceT: nullableField('t of the mean difference', 'None where the differences are equal'),
  differenceProbability: nullableField('Probability', 'Two-sided, of such a t without a shift'),
  groups: z
    .array(
      z.strictObject({
        pairCount: z.int().meta({ title: 'Pairs' }),
        level: resultField('Mean level'),
        medianDifference: resultField('Median difference, without sign'),
        standardDeviation: resultField('Standard deviation of one result'),
      }),
    )
    .meta({ title: 'Groups by level', description: 'Incomplete groups join the one before' }),
  grouped: z
    .strictObject(line)
    .nullable()
    .meta({ title: 'Line through the groups', description: 'None for fewer than 3 groups' }),
  fitted: z
    .strictObject(line)
    .nullable()
    .meta({ title: 'Line of greatest likelihood', description: 'None where no pair differs' }),
  pairs: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'Sample' }),
        level: resultField('Mean of the pair'),
        difference: resultField('First less second'),
        limit: nullableField('Limit for the difference', 'By the line of greatest likelihood'),
        isBeyond: z.boolean().meta({ title: 'Beyond the limit' }),
      }),
    )
    .meta({ title: 'Pairs' }),
  beyondCount: z.int().meta({ title: 'Pairs beyond the limit' }),
  expectedBeyondCount: ratioField('Pairs expected beyond it by chance'),
  words: wordsField,
});

export type DuplicatePrecisionInput = z.infer<typeof duplicatePrecisionInput>;
export type DuplicatePrecisionOutput = z.infer<typeof duplicatePrecisionOutput>;
