import { z } from 'zod';
import {
  confidenceField,
  hasUniqueLabels,
  integerField,
  labelField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';

const most = 1e12;
const contentUnit = 'unit of the standards';
const signalUnit = 'unit of the signal';

const point = z.strictObject({
  content: numberField('a content', -most, most).meta({
    title: 'Content of the standard',
    unit: contentUnit,
  }),
  signal: numberField('a signal', -most, most).meta({ title: 'Signal', unit: signalUnit }),
  contentStandardUncertainty: numberField('a standard uncertainty', 0, most).optional().meta({
    title: 'Standard uncertainty of the content',
    description: 'Used where both are uncertain; none counts as 0',
    unit: contentUnit,
  }),
  signalStandardUncertainty: numberField('a standard uncertainty', 1e-12, most).optional().meta({
    title: 'Standard uncertainty of the signal',
    description: 'Needed for every weighting but equal',
    unit: signalUnit,
  }),
});

const reading = z.strictObject({
  label: labelField('Label'),
  signal: numberField('a signal', -most, most).meta({
    title: 'Signal',
    description: 'Mean of the readings',
    unit: signalUnit,
  }),
  readings: integerField('a number of readings', 1, 10_000).meta({ title: 'Readings averaged' }),
  signalStandardUncertainty: numberField('a standard uncertainty', 0, most).optional().meta({
    title: 'Standard uncertainty of the signal',
    description:
      'Of the mean; none takes the residual standard deviation over the root of the readings; 0 for a signal that is given as exact',
    unit: signalUnit,
  }),
});

const weightings = ['equal', 'relative', 'known', 'both'] as const;
const models = ['straight line', 'parabola'] as const;

export const calibrationLineInput = z.strictObject({
  model: z
    .enum(models, { error: `one of ${models.join(', ')}` })
    .meta({ title: 'Model', description: 'Signal as a function of content' }),
  weighting: z.enum(weightings, { error: `one of ${weightings.join(', ')}` }).meta({
    title: 'Weighting',
    description:
      'equal: one unknown spread of all signals; relative: spreads known but for a common factor; known: spreads of the signals known; both: spreads of contents and signals known',
  }),
  points: listField(point, 'points', 3, 10_000).meta({ title: 'Points' }),
  readings: listField(reading, 'readings', 0, 200)
    .refine(hasUniqueLabels, { error: 'readings with different labels' })
    .meta({ title: 'Readings of samples', description: 'Signals to read contents from' }),
  confidencePercent: confidenceField(),
});

export type CalibrationLineInput = z.infer<typeof calibrationLineInput>;

const limit = (title: string, unit?: string) =>
  z
    .number()
    .nullable()
    .meta({
      title,
      description: 'None where there is no such figure',
      ...(unit === undefined ? {} : { unit }),
    });

export const calibrationLineOutput = z.strictObject({
  coefficients: z
    .array(
      z.strictObject({
        power: z.int().meta({ title: 'Power of the content' }),
        estimate: outputNumber('Coefficient'),
        standardUncertainty: outputNumber('Standard uncertainty'),
      }),
    )
    .meta({ title: 'Coefficients' }),
  covariance: z
    .array(z.array(outputNumber('Covariance')))
    .meta({ title: 'Covariance of the coefficients' }),
  degreesOfFreedom: outputNumber('Degrees of freedom'),
  residualStandardDeviation: outputNumber(
    'Residual standard deviation',
    signalUnit,
    'Of a signal of weight 1; near 1 where the spreads are known',
  ),
  chiSquare: outputNumber('Weighted sum of squares'),
  chiSquareProbability: limit('Probability of a sum at least as great, spreads as stated'),
  determination: limit('Coefficient of determination'),
  lackOfFitRatio: limit('Lack of fit against repeated standards, ratio of variances'),
  lackOfFitProbability: limit('Probability of a ratio at least as great for a fitting model'),
  turnsInside: z.boolean().meta({ title: 'The curve turns between the standards' }),
  points: z
    .array(
      z.strictObject({
        content: outputNumber('Content', contentUnit),
        fittedSignal: outputNumber('Fitted signal', signalUnit),
        residual: outputNumber('Residual', signalUnit, 'Observed less fitted'),
        leverage: outputNumber(
          'Leverage',
          undefined,
          'From 0 to 1; 1 for a point that stands alone',
        ),
        leftOutResidual: limit('Residual with the point left out of the fit', signalUnit),
        standardisedResidual: limit('Residual over its standard deviation'),
        influence: limit('Influence on the fit, distance of Cook'),
      }),
    )
    .meta({ title: 'Points' }),
  predictions: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Label' }),
        content: outputNumber('Content', contentUnit),
        standardUncertainty: outputNumber('Standard uncertainty', contentUnit),
        lower: limit('Lower limit', contentUnit),
        upper: limit('Upper limit', contentUnit),
        insideStandards: z.boolean().meta({ title: 'Between the standards' }),
      }),
    )
    .meta({ title: 'Contents read from the curve' }),
  words: wordsField(),
});

export type CalibrationLineOutput = z.infer<typeof calibrationLineOutput>;
