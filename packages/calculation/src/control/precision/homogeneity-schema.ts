import { z } from 'zod';
import {
  confidenceField,
  nameField,
  nullableField,
  positiveField,
  ratioField,
  readingField,
  resultField,
  unitField,
  wordsField,
} from './precision-fields.ts';

const itemWords = '2 to 1000 units';
const resultWords = '1 to 20000 results';

export const homogeneityInput = z.strictObject({
  characteristic: nameField('Characteristic'),
  unit: unitField,
  items: z
    .array(
      z.strictObject({
        name: nameField('Unit examined'),
        results: z
          .array(readingField('Result'), { error: resultWords })
          .min(1, resultWords)
          .max(20000, resultWords)
          .meta({
            title: 'Results',
            description: 'Independent portions; numbers may differ, one unit needs two at least',
          }),
      }),
      { error: itemWords },
    )
    .min(2, itemWords)
    .max(1000, itemWords)
    .meta({ title: 'Units', description: 'Bars, blanks, bottles, drawn at random from the lot' }),
  confidencePercent: confidenceField,
  assessmentStandardDeviation: positiveField(
    'Standard deviation that the material serves',
    'In the stated unit: of proficiency assessment, or of what the material is used for; 0.3 of it is what the units may differ by',
  ).optional(),
});

const variance = 'In the square of the stated unit';

export const homogeneityOutput = z.strictObject({
  itemCount: z.int().meta({ title: 'Units' }),
  resultCount: z.int().meta({ title: 'Results' }),
  mean: resultField('Mean of all results'),
  sumOfSquaresBetween: resultField('Sum of squares between units', variance),
  sumOfSquaresWithin: resultField('Sum of squares within units', variance),
  degreesOfFreedomBetween: z.int().meta({ title: 'Degrees of freedom between' }),
  degreesOfFreedomWithin: z.int().meta({ title: 'Degrees of freedom within' }),
  meanSquareBetween: resultField('Mean square between units', variance),
  meanSquareWithin: resultField('Mean square within units', variance),
  ratio: nullableField('F', 'Ratio of the mean squares; none where nothing varies within units'),
  criticalRatio: ratioField('F exceeded by chance', 'At the stated confidence, one-sided'),
  probability: nullableField('Probability', 'Of such a ratio where the units are alike'),
  determinationPercent: ratioField('Share of the squares that lies between units, %'),
  effectiveReplicates: ratioField('Results per unit', 'That unequal numbers stand for'),
  repeatabilityStandardDeviation: resultField('Repeatability standard deviation'),
  betweenUnitStandardDeviation: resultField(
    'Between-unit standard deviation',
    'In the stated unit; 0 where the units differ less than repeatability explains',
  ),
  isBetweenUnitVarianceNegative: z
    .boolean()
    .meta({ title: 'Between-unit variance came out negative and was set to 0' }),
  hiddenStandardDeviation: resultField(
    'Between-unit standard deviation that repeatability can hide',
    'In the stated unit: √(mean square within/n)·(2/ν)^¼',
  ),
  homogeneityStandardUncertainty: resultField(
    'Standard uncertainty from inhomogeneity',
    'In the stated unit: the larger of the two',
  ),
  betweenUnitLower: nullableField(
    'Between-unit standard deviation, lower end',
    'Modified large-sample interval; none for unequal numbers',
  ),
  betweenUnitUpper: nullableField(
    'Between-unit standard deviation, upper end',
    'Modified large-sample interval; none for unequal numbers',
  ),
  varianceRatioLower: nullableField(
    'Between-unit over within-unit variance, lower end',
    'Exact interval from F; none for unequal numbers or where nothing varies within units',
  ),
  varianceRatioUpper: nullableField(
    'Between-unit over within-unit variance, upper end',
    'Exact interval from F; none for unequal numbers or where nothing varies within units',
  ),
  permittedStandardDeviation: nullableField(
    'What units may differ by',
    '0.3 of the standard deviation served; none where it is not given',
  ),
  checkLimit: nullableField(
    'Limit for the between-unit standard deviation found',
    'Allows for the scatter of the estimate; none where nothing is served',
  ),
  isSufficient: z
    .boolean()
    .nullable()
    .meta({ title: 'Homogeneous enough', description: 'None where nothing is served' }),
  words: wordsField,
});

export type HomogeneityInput = z.infer<typeof homogeneityInput>;
export type HomogeneityOutput = z.infer<typeof homogeneityOutput>;
