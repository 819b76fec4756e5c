import { z } from 'zod';
import {
  correlationList,
  coverageProbability,
  inputQuantities,
  modelText,
} from './input-quantity-schema.ts';
import { resultUnit } from './uncertainty-budget-schema.ts';

const greatestTrials = 10_000_000;
const trialCount = 'a whole number of trials from 1000 to 10 000 000';
const seedRange = 'a whole number from 0 to 9007199254740991';

const trialsField = (title: string, description: string) =>
  z
    .int(trialCount)
    .min(1000, trialCount)
    .max(greatestTrials, trialCount)
    .meta({ title, description });

export const monteCarloInput = z.strictObject({
  model: modelText(),
  resultUnit: resultUnit(),
  inputs: inputQuantities,
  correlations: correlationList('Correlations of inputs (normal ones only)', 'an input'),
  coverageProbability: coverageProbability(),
  seed: z
    .int(seedRange)
    .min(0, seedRange)
    .meta({ title: 'Seed', description: 'The same seed gives the same draws' }),
  trials: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: z.literal('fixed').meta({ title: 'Number of trials' }),
        trials: trialsField('Trials', 'A million as a rule'),
      }),
      z.strictObject({
        kind: z.literal('adaptive').meta({ title: 'Number of trials' }),
        mostTrials: trialsField('Most trials', 'The run ends here even if it has not settled'),
      }),
    ],
    { error: 'trials of kind fixed or adaptive' },
  ),
  significantDigits: z.literal([1, 2], '1 or 2').meta({
    title: 'Significant digits',
    description:
      'Of the standard uncertainty: what an adaptive run settles, and the tolerance of the comparison',
  }),
});

export type MonteCarloInput = z.infer<typeof monteCarloInput>;

const ofResult = (title: string, description = 'Unit of the result') =>
  z.number().meta({ title, description });

const comparison = z.strictObject({
  terms: z.enum(['first order', 'second order']).meta({ title: 'Terms of the law of propagation' }),
  value: ofResult('Result by the law of propagation'),
  standardUncertainty: ofResult('Standard uncertainty by the law of propagation'),
  intervalLower: ofResult('Lower end by the law of propagation'),
  intervalUpper: ofResult('Upper end by the law of propagation'),
  symmetricDifferenceLower: ofResult('Difference of the lower ends, symmetric interval'),
  symmetricDifferenceUpper: ofResult('Difference of the upper ends, symmetric interval'),
  shortestDifferenceLower: ofResult('Difference of the lower ends, shortest interval'),
  shortestDifferenceUpper: ofResult('Difference of the upper ends, shortest interval'),
  isConfirmed: z.boolean().meta({
    title: 'Confirmed by the simulation',
    description: 'Both ends of the symmetric interval agree within the numerical tolerance',
  }),
  isConfirmedByShortest: z.boolean().meta({
    title: 'Confirmed by the shortest interval',
    description: 'Both ends of the shortest interval agree within the numerical tolerance',
  }),
});

export const monteCarloOutput = z.strictObject({
  trials: z.int().meta({ title: 'Trials made' }),
  isSettled: z.boolean().nullable().meta({
    title: 'Settled',
    description: 'Whether an adaptive run settled; none for a fixed number of trials',
  }),
  value: ofResult('Result', 'Mean of the simulated results'),
  standardUncertainty: ofResult('Standard uncertainty', 'Standard deviation of the results'),
  symmetricLower: ofResult('Lower end, equal probability beyond both ends'),
  symmetricUpper: ofResult('Upper end, equal probability beyond both ends'),
  shortestLower: ofResult('Lower end of the shortest interval'),
  shortestUpper: ofResult('Upper end of the shortest interval'),
  numericalTolerance: z.number().nullable().meta({
    title: 'Numerical tolerance',
    description: 'Half a unit of the last digit; none when the results do not vary',
  }),
  comparisons: z.array(comparison),
  histogram: z.strictObject({
    lowerEdge: ofResult('Lower edge of the first bin'),
    binWidth: ofResult('Width of a bin', 'Unit of the result; 0 when the results do not vary'),
    densities: z
      .array(z.number().meta({ title: 'Density', description: 'Per unit of the result' }))
      .meta({ title: 'Densities of the bins' }),
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type MonteCarloOutput = z.infer<typeof monteCarloOutput>;
