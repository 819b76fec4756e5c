import { z } from 'zod';

const finenessAccepted = 'a fineness from 0 to 1000 ‰';
const fineness = () =>
  z.number(finenessAccepted).min(0, finenessAccepted).max(1000, finenessAccepted);
const uncertaintyAccepted = 'a standard uncertainty from 0 to 100 ‰';
const uncertainty = () =>
  z.number(uncertaintyAccepted).min(0, uncertaintyAccepted).max(100, uncertaintyAccepted);
const listAccepted = 'a list of 2 to 10000 melts';
const name = 'a name of 1 to 100 characters';
const confidence = 'a confidence from 0.5 to 0.9999';

const melt = z.strictObject({
  melt: z.string(name).min(1, name).max(100, name).meta({ title: 'Melt' }),
  supplierFinenessPerMille: fineness().meta({ title: 'Supplier', unit: '‰' }),
  plantFinenessPerMille: fineness().meta({ title: 'Plant', unit: '‰' }),
  differenceStandardUncertaintyPerMille: uncertainty().optional().meta({
    title: 'Standard uncertainty of this difference',
    description: 'Of both results together, without what is shared by all melts',
    unit: '‰',
  }),
});

export const supplierBiasInput = z.strictObject({
  melts: z
    .array(melt, listAccepted)
    .min(2, listAccepted)
    .max(10_000, listAccepted)
    .meta({ title: 'Melts', description: 'In the order of time' }),
  weighting: z.enum(['equal', 'by uncertainty'], 'equal or by uncertainty').meta({
    title: 'Weight of a melt',
    description: 'By uncertainty asks for the uncertainty of every difference',
  }),
  sharedStandardUncertaintyPerMille: uncertainty().meta({
    title: 'Shared standard uncertainty',
    description:
      'Of what is the same in all melts: proofs, reference material, method. More melts do not lessen it',
    unit: '‰',
  }),
  confidence: z
    .number(confidence)
    .min(0.5, confidence)
    .max(0.9999, confidence)
    .meta({ title: 'Confidence', description: 'Of the interval, two-sided; 0.95 is usual' }),
});

const perMille = (title: string, description?: string) =>
  z.number().meta({ title, unit: '‰', ...(description === undefined ? {} : { description }) });
const optional = (title: string, description: string) =>
  z.number().nullable().meta({ title, description });

export const supplierBiasOutput = z.strictObject({
  meanDifferencePerMille: perMille('Bias', 'Supplier less plant, mean or weighted mean'),
  standardDeviationPerMille: perMille('Standard deviation of the differences'),
  meanStandardUncertaintyPerMille: perMille(
    'Standard uncertainty of the mean',
    'Without what is shared by all melts',
  ),
  combinedStandardUncertaintyPerMille: perMille(
    'Combined standard uncertainty of the bias',
    'With what is shared by all melts',
  ),
  effectiveDegreesOfFreedom: optional(
    'Effective degrees of freedom',
    'None when all of the uncertainty was stated',
  ),
  lowerPerMille: perMille('Lower end of the interval'),
  upperPerMille: perMille('Upper end of the interval'),
  biasShown: z.boolean().meta({ title: 'The interval excludes no bias' }),
  studentRatio: optional(
    'Mean difference over its standard error',
    'Of the differences alone, equal weights; none when they are all equal',
  ),
  chiSquare: optional(
    'Chi-square of the stated uncertainties',
    'None when not every difference has an uncertainty above 0',
  ),
  chiSquareProbability: optional(
    'Probability of a scatter as large',
    'Small when the stated uncertainties are too small',
  ),
  birgeRatio: optional(
    'Ratio of the scatter to the stated uncertainties',
    'Above 1 the weighted uncertainty is enlarged by it',
  ),
  slope: optional(
    'Slope of the difference on the level',
    'Per mille of difference for each per mille of fineness; none below three melts or at one level',
  ),
  slopeStandardError: optional('Standard error of the slope', 'None with the slope'),
  slopeProbability: optional(
    'Probability of a slope as large when the bias does not depend on the level',
    'None with the slope',
  ),
  correlation: optional('Correlation of the two results', 'None when one of them is constant'),
  words: z.string().meta({ title: 'In words' }),
});

export type SupplierBiasInput = z.infer<typeof supplierBiasInput>;
export type SupplierBiasOutput = z.infer<typeof supplierBiasOutput>;
