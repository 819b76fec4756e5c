import { z } from 'zod';
import {
  correlationList,
  coverageProbability,
  inputQuantities,
  modelText,
  sourceId,
} from './input-quantity-schema.ts';

const termRules = ['where needed', 'first order', 'second order'] as const;
const freedomRules = ['whole', 'fractional'] as const;

export const resultUnit = () =>
  z
    .string({ error: 'a unit, at most 30 characters' })
    .max(30, 'a unit, at most 30 characters')
    .optional()
    .meta({
      title: 'Unit of the result',
      description: 'For words and charts; none to leave it out',
    });

export const uncertaintyBudgetInput = z.strictObject({
  model: modelText(),
  resultUnit: resultUnit(),
  inputs: inputQuantities,
  correlations: correlationList('Correlations of inputs', 'an input'),
  coverageProbability: coverageProbability(),
  terms: z
    .enum(termRules, `one of ${termRules.join(', ')}`)
    .optional()
    .meta({
      title: 'Terms',
      description:
        'Second-order terms of a curved model: where needed (the default) takes them when they change the second significant digit of the standard uncertainty',
    }),
  degreesOfFreedomUse: z
    .enum(freedomRules, `one of ${freedomRules.join(', ')}`)
    .optional()
    .meta({
      title: 'Use of the degrees of freedom',
      description: 'Cut to a whole number (the default) or taken as they are',
    }),
});

export type UncertaintyBudgetInput = z.infer<typeof uncertaintyBudgetInput>;

const ofResult = (title: string, description = 'Unit of the result') =>
  z.number().meta({ title, description });

/** What one source does to a result; results with the same source stay correlated when combined. */
export const contributionSchema = z.strictObject({
  source: sourceId()
    .nullable()
    .meta({ title: 'Source', description: 'None where it belongs to this result alone' }),
  effect: z
    .number({ error: 'a number from -1e100 to 1e100' })
    .min(-1e100, 'a number from -1e100 to 1e100')
    .max(1e100, 'a number from -1e100 to 1e100')
    .meta({
      title: 'Effect',
      description: 'Sensitivity × standard uncertainty, with its sign; unit of the result',
    }),
  degreesOfFreedom: z
    .number({ error: 'degrees of freedom of 1 or more, or none' })
    .min(1, 'degrees of freedom of 1 or more, or none')
    .max(1e9, 'degrees of freedom of at most 1e9')
    .nullable()
    .meta({ title: 'Degrees of freedom', description: 'None for infinite' }),
});

export type Contribution = z.infer<typeof contributionSchema>;

export const sourceCorrelations = () => correlationList('Correlations of sources', 'a source');

export const uncertaintyBudgetOutput = z.strictObject({
  value: ofResult('Result', 'Value of the model at the estimates'),
  standardUncertainty: ofResult('Combined standard uncertainty', 'Of the terms that were used'),
  termsUsed: z.enum(['first order', 'second order']).meta({ title: 'Terms used' }),
  firstOrderStandardUncertainty: ofResult('Standard uncertainty, first order'),
  secondOrderStandardUncertainty: z.number().nullable().meta({
    title: 'Standard uncertainty, second order',
    description: 'None where the series does not hold: simulate then',
  }),
  meanShift: ofResult(
    'Shift of the mean',
    'Mean of the result less its value at the estimates, from the curvature of the model; not added',
  ),
  effectiveDegreesOfFreedom: z.number().nullable().meta({
    title: 'Effective degrees of freedom',
    description: 'None for infinite',
  }),
  coverageFactor: z.number().meta({ title: 'Coverage factor' }),
  expandedUncertainty: ofResult('Expanded uncertainty'),
  intervalLower: ofResult('Lower end of the interval'),
  intervalUpper: ofResult('Upper end of the interval'),
  relativeStandardUncertaintyPercent: z
    .number()
    .nullable()
    .meta({ title: 'Relative standard uncertainty', description: 'None at 0', unit: '%' }),
  budget: z.array(
    z.strictObject({
      name: z.string().meta({ title: 'Input' }),
      estimate: z.number().meta({ title: 'Estimate', description: 'Unit of the input' }),
      standardUncertainty: z
        .number()
        .meta({ title: 'Standard uncertainty', description: 'Unit of the input' }),
      degreesOfFreedom: z
        .number()
        .nullable()
        .meta({ title: 'Degrees of freedom', description: 'None for infinite' }),
      sensitivity: z
        .number()
        .meta({ title: 'Sensitivity', description: 'Unit of the result per unit of the input' }),
      contribution: ofResult('Contribution', 'Sensitivity × standard uncertainty, with its sign'),
      sharePercent: z.number().meta({
        title: 'Share of the variance',
        description: 'Below 0 where a correlation takes uncertainty away',
        unit: '%',
      }),
    }),
  ),
  secondOrderSharePercent: z.number().meta({
    title: 'Share of the second-order terms',
    description: '0 where they are not used',
    unit: '%',
  }),
  contributions: z.array(contributionSchema),
  sourceCorrelations: sourceCorrelations(),
  words: z.string().meta({ title: 'In words' }),
});

export type UncertaintyBudgetOutput = z.infer<typeof uncertaintyBudgetOutput>;
