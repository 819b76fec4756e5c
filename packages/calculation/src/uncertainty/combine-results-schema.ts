import { z } from 'zod';
import { coverageProbability, inputName, modelText } from './input-quantity-schema.ts';
import { contributionSchema, resultUnit, sourceCorrelations } from './uncertainty-budget-schema.ts';

const most = 'a number from -1e100 to 1e100';

export const combineResultsInput = z.strictObject({
  model: modelText(),
  resultUnit: resultUnit(),
  results: z
    .array(
      z.strictObject({
        name: inputName().meta({ title: 'Name', description: 'As it stands in the model' }),
        unit: z
          .string({ error: 'a unit, at most 30 characters' })
          .max(30, 'a unit, at most 30 characters')
          .meta({ title: 'Unit' }),
        value: z
          .number({ error: most })
          .min(-1e100, most)
          .max(1e100, most)
          .meta({ title: 'Value', description: 'Unit of the result' }),
        contributions: z
          .array(contributionSchema, 'the contributions kept with the result')
          .min(1, 'at least 1 contribution')
          .max(200, 'at most 200 contributions'),
      }),
      'a list of results',
    )
    .min(1, 'at least 1 result')
    .max(100, 'at most 100 results'),
  sourceCorrelations: sourceCorrelations(),
  coverageProbability: coverageProbability(),
});

export type CombineResultsInput = z.infer<typeof combineResultsInput>;

const ofResult = (title: string, description = 'Unit of the combined result') =>
  z.number().meta({ title, description });

export const combineResultsOutput = z.strictObject({
  value: ofResult('Combined result'),
  standardUncertainty: ofResult('Standard uncertainty', 'Shared sources kept correlated'),
  sharedStandardUncertainty: ofResult(
    'Part of the shared sources',
    'From sources that two or more of the results have in common; more results do not average it out',
  ),
  ownStandardUncertainty: ofResult('Part of the other sources'),
  standardUncertaintyIfIndependent: ofResult(
    'If nothing were shared',
    'What would be found if the results were wrongly taken as independent',
  ),
  effectiveDegreesOfFreedom: z.number().nullable().meta({
    title: 'Effective degrees of freedom',
    description: 'None for infinite',
  }),
  coverageFactor: z.number().meta({ title: 'Coverage factor' }),
  expandedUncertainty: ofResult('Expanded uncertainty'),
  intervalLower: ofResult('Lower end of the interval'),
  intervalUpper: ofResult('Upper end of the interval'),
  results: z.array(
    z.strictObject({
      name: z.string().meta({ title: 'Result' }),
      standardUncertainty: z
        .number()
        .meta({ title: 'Standard uncertainty', description: 'Unit of the single result' }),
      sensitivity: z.number().meta({
        title: 'Sensitivity',
        description: 'Unit of the combined result per unit of the single one',
      }),
    }),
  ),
  correlations: z.array(
    z.strictObject({
      first: z.string().meta({ title: 'Result' }),
      second: z.string().meta({ title: 'Other result' }),
      coefficient: z.number().nullable().meta({
        title: 'Correlation coefficient',
        description: 'From the common sources; none where a result has no uncertainty',
      }),
    }),
  ),
  sources: z.array(
    z.strictObject({
      source: z.string().nullable().meta({
        title: 'Source',
        description: 'None for all that belongs to single results',
      }),
      resultCount: z.int().meta({ title: 'Results that have it' }),
      effect: ofResult('Effect', 'With its sign; for single results the root of their variance'),
      sharePercent: z.number().meta({ title: 'Share of the variance', unit: '%' }),
    }),
  ),
  contributions: z.array(contributionSchema),
  sourceCorrelations: sourceCorrelations(),
  words: z.string().meta({ title: 'In words' }),
});

export type CombineResultsOutput = z.infer<typeof combineResultsOutput>;
