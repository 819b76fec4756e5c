import { z } from 'zod';
import {
  nameField,
  nullableField,
  ratioField,
  readingField,
  resultField,
  unitField,
  wordsField,
} from './precision-fields.ts';

const laboratoryWords = '3 to 200 laboratories';
const replicateWords = 'at most 1000 results';
const excludedWords = 'true or false';

export const precisionExperimentInput = z.strictObject({
  characteristic: nameField('Characteristic and level'),
  unit: unitField,
  laboratories: z
    .array(
      z.strictObject({
        name: nameField('Laboratory'),
        results: z.array(readingField('Result')).max(1000, replicateWords).meta({
          title: 'Results',
          description:
            'Under repeatability conditions; fewer than two: the laboratory is left out at this level',
        }),
        isExcluded: z.boolean({ error: excludedWords }).meta({
          title: 'Left out',
          description: 'True where a cause for its results was found; it is then only listed',
        }),
      }),
      { error: laboratoryWords },
    )
    .min(3, laboratoryWords)
    .max(200, laboratoryWords)
    .meta({ title: 'Laboratories' }),
});

const verdict = (title: string) =>
  z.enum(['in-line', 'straggler', 'outlier']).meta({
    title,
    description: 'Straggler beyond the 5 % value, outlier beyond the 1 % value',
  });

const nullableVerdict = (title: string) =>
  verdict(title).nullable().meta({ title, description: 'None where the laboratory is not used' });

const figures = {
  laboratoryCount: z.int().meta({ title: 'Laboratories used' }),
  resultCount: z.int().meta({ title: 'Results used' }),
  generalMean: resultField('General mean m'),
  repeatabilityStandardDeviation: resultField('Repeatability standard deviation'),
  betweenLaboratoryStandardDeviation: resultField(
    'Between-laboratory standard deviation',
    'In the stated unit; 0 where the laboratories differ less than repeatability explains',
  ),
  isBetweenLaboratoryVarianceNegative: z
    .boolean()
    .meta({ title: 'Between-laboratory variance came out negative and was set to 0' }),
  reproducibilityStandardDeviation: resultField('Reproducibility standard deviation'),
  repeatabilityLimit: resultField('Repeatability limit', 'r = 2.8 standard deviations'),
  reproducibilityLimit: resultField('Reproducibility limit', 'R = 2.8 standard deviations'),
  standardDeviationOfMeans: resultField('Standard deviation of the laboratory means'),
  effectiveReplicates: ratioField('Results per laboratory', 'That unequal numbers stand for'),
};

const testFields = {
  statistic: ratioField('Statistic'),
  laboratories: z
    .array(z.string().meta({ title: 'Laboratory' }))
    .meta({ title: 'Laboratories in question' }),
  criticalValue5Percent: ratioField('Critical value, 5 %'),
  criticalValue1Percent: ratioField('Critical value, 1 %'),
  verdict: verdict('Verdict'),
};

const testNames = [
  'cochran',
  'grubbs-high',
  'grubbs-low',
  'grubbs-two-high',
  'grubbs-two-low',
] as const;

export const precisionExperimentOutput = z.strictObject({
  ...figures,
  laboratories: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'Laboratory' }),
        resultCount: z.int().meta({ title: 'Results' }),
        isUsed: z.boolean().meta({ title: 'Used' }),
        mean: nullableField('Mean', 'In the stated unit; none without results'),
        standardDeviation: nullableField('Standard deviation', 'None for fewer than two results'),
        h: nullableField('Mandel h', 'Deviation of its mean; none where not used'),
        hVerdict: nullableVerdict('Verdict on h'),
        k: nullableField('Mandel k', 'Its spread over the pooled one; none where not used'),
        kVerdict: nullableVerdict('Verdict on k'),
      }),
    )
    .meta({ title: 'Laboratories' }),
  h5Percent: ratioField('h exceeded by chance in 5 %'),
  h1Percent: ratioField('h exceeded by chance in 1 %'),
  k5Percent: ratioField('k exceeded by chance in 5 %'),
  k1Percent: ratioField('k exceeded by chance in 1 %'),
  tests: z
    .array(z.strictObject({ test: z.enum(testNames).meta({ title: 'Test' }), ...testFields }))
    .meta({ title: 'Tests on all laboratories used' }),
  scrutiny: z
    .array(z.strictObject({ test: z.enum(testNames).meta({ title: 'Test' }), ...testFields }))
    .meta({
      title: 'Outliers found in turn',
      description: 'Cochran, then Grubbs, each repeated without the outlier before it',
    }),
  withoutOutliers: z
    .strictObject(figures)
    .nullable()
    .meta({ title: 'Figures without those outliers', description: 'None where there are none' }),
  words: wordsField,
});

export type PrecisionExperimentInput = z.infer<typeof precisionExperimentInput>;
export type PrecisionExperimentOutput = z.infer<typeof precisionExperimentOutput>;
export type PrecisionTest = PrecisionExperimentOutput['tests'][number];
export type PrecisionFigures = NonNullable<PrecisionExperimentOutput['withoutOutliers']>;
