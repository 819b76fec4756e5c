import { z } from 'zod';
import {
  confidenceField,
  nameField,
  nullableField,
  positiveField,
  ratioField,
  readingField,
  resultField,
  significanceField,
  unitField,
  wordsField,
} from './precision-fields.ts';

const designWords = 'crossed, or nested';
const readingsWords = '8 to 20000 readings';
const multiplierWords = 'a number from 1 to 10, usually 6';
const methodWords = 'modified-large-sample, or satterthwaite';

export const gaugeStudyInput = z.strictObject({
  characteristic: nameField('Characteristic'),
  unit: unitField,
  design: z.enum(['crossed', 'nested'], designWords).meta({
    title: 'Design',
    description:
      'Crossed: every operator measures every part; nested: every operator measures parts of their own, as where measuring destroys them',
  }),
  readings: z
    .array(
      z.strictObject({
        part: nameField('Part'),
        operator: nameField('Operator'),
        value: readingField('Reading'),
      }),
      { error: readingsWords },
    )
    .min(8, readingsWords)
    .max(20000, readingsWords)
    .meta({
      title: 'Readings',
      description: 'Equally many repeats, 2 or more, of every operator on every part',
    }),
  poolingSignificancePercent: significanceField(
    'Significance for the interaction',
    'In a crossed study the interaction joins repeatability when its probability is above this; often 25',
  ),
  studyMultiplier: z
    .number({ error: multiplierWords })
    .min(1, multiplierWords)
    .max(10, multiplierWords)
    .meta({ title: 'Standard deviations that make the study variation' }),
  toleranceWidth: positiveField(
    'Width of the tolerance',
    'Upper less lower limit in the stated unit; leave out where there is none',
  ).optional(),
  confidencePercent: confidenceField,
  intervalMethod: z.enum(['modified-large-sample', 'satterthwaite'], methodWords).meta({
    title: 'Method of the intervals',
    description:
      'Both are exact for repeatability; the first holds its confidence better elsewhere',
  }),
});

const anovaSources = ['part', 'operator', 'part-by-operator', 'repeatability'] as const;
const componentSources = [
  'repeatability',
  'operator',
  'part-by-operator',
  'reproducibility',
  'gauge',
  'part',
  'total',
] as const;
const square = 'In the square of the stated unit';

const component = z.strictObject({
  source: z.enum(componentSources).meta({ title: 'Source of variation' }),
  variance: resultField('Variance', `${square}; 0 where the estimate came out negative`),
  estimate: resultField('Estimate as it came out', `${square}; may be negative`),
  standardDeviation: resultField('Standard deviation'),
  contributionPercent: ratioField('Share of the total variance, %'),
  studyVariationPercent: ratioField('Share of the total standard deviation, %'),
  tolerancePercent: nullableField(
    'Share of the tolerance, %',
    'Study variation over the width; none without a tolerance',
  ),
  standardDeviationLower: nullableField(
    'Standard deviation, lower end',
    'In the stated unit; none where the method gives no interval',
  ),
  standardDeviationUpper: nullableField(
    'Standard deviation, upper end',
    'In the stated unit; none where the method gives no interval',
  ),
});

const rangeMethod = z.strictObject({
  repeatabilityStandardDeviation: resultField('Repeatability'),
  reproducibilityStandardDeviation: resultField('Reproducibility'),
  gaugeStandardDeviation: resultField('Gauge'),
  partStandardDeviation: resultField('Part'),
  totalStandardDeviation: resultField('Total'),
  gaugeStudyVariationPercent: ratioField('Gauge, share of the total standard deviation, %'),
  distinctCategories: nullableField('Distinct categories', 'None for a gauge without variation'),
});

export const gaugeStudyOutput = z.strictObject({
  partCount: z.int().meta({ title: 'Parts', description: 'Of one operator in a nested study' }),
  operatorCount: z.int().meta({ title: 'Operators' }),
  repeatCount: z.int().meta({ title: 'Repeats' }),
  mean: resultField('Mean of all readings'),
  analysis: z
    .array(
      z.strictObject({
        source: z.enum(anovaSources).meta({ title: 'Source' }),
        degreesOfFreedom: z.int().meta({ title: 'Degrees of freedom' }),
        sumOfSquares: resultField('Sum of squares', square),
        meanSquare: resultField('Mean square', square),
        ratio: nullableField('F', 'Against the mean square that it is compared with'),
        probability: nullableField('Probability', 'Of such a ratio where the source adds nothing'),
      }),
    )
    .meta({ title: 'Analysis of variance', description: 'Before any pooling' }),
  isInteractionPooled: z.boolean().meta({ title: 'Interaction joined to repeatability' }),
  components: z.array(component).meta({ title: 'Components of variation' }),
  distinctCategories: nullableField(
    'Distinct categories',
    '√2 times part over gauge, before it is cut to a whole number; none for a gauge without variation',
  ),
  distinctCategoriesWhole: z
    .int()
    .nullable()
    .meta({ title: 'Distinct categories, whole', description: 'At least 1' }),
  rangeMethod: rangeMethod.nullable().meta({
    title: 'By averages and ranges',
    description: 'The second road, for crossed studies up to 100 parts, operators and repeats',
  }),
  intervalMethod: z.string().meta({ title: 'Method of the intervals' }),
  words: wordsField,
});

export type GaugeStudyInput = z.infer<typeof gaugeStudyInput>;
export type GaugeStudyOutput = z.infer<typeof gaugeStudyOutput>;
export type GaugeComponent = GaugeStudyOutput['components'][number];
export type GaugeAnalysisRow = GaugeStudyOutput['analysis'][number];
