import { z } from 'zod';
import {
  containerNoiseShape,
  deviation,
  grams,
  positiveGrams,
  priorChancesShape,
  probability,
} from './counting-fields.ts';

const wholeCount = 'a whole number from 1 to 100000 pieces';

export const countByWeightInput = z.strictObject({
  nominalPieces: z
    .int(wholeCount)
    .min(1, wholeCount)
    .max(100_000, wholeCount)
    .meta({ title: 'Booked count', description: 'Pieces that should be inside', unit: 'pieces' }),
  pieceMassGrams: positiveGrams('Mean piece mass', 'Mean of the reference pieces'),
  pieceStandardDeviationGrams: positiveGrams(
    'Piece standard deviation',
    'Piece to piece within one lot',
  ),
  lotStandardDeviationGrams: deviation(
    'Lot standard deviation',
    'Lot or die means against the reference lot',
  ),
  referencePieces: z
    .int('a whole number of 1 piece or more')
    .min(1, 'a whole number of 1 piece or more')
    .meta({
      title: 'Reference pieces',
      description: 'Hand-counted pieces behind the mean piece mass',
      unit: 'pieces',
    }),
  referenceMeanStandardUncertaintyGrams: deviation(
    'Standard uncertainty of the mean piece mass',
    'Where the mean was extended; absent: piece standard deviation over the root of the reference pieces',
  ).optional(),
  gainRelative: z
    .number('a relative value from 0 to 0.1')
    .min(0, 'a relative value from 0 to 0.1')
    .max(0.1, 'a relative value from 0 to 0.1')
    .meta({
      title: 'Relative gain uncertainty',
      description: 'Standard uncertainty of the span of the scale, relative, such as 0.0001',
    }),
  ...containerNoiseShape,
  netReadingsGrams: z
    .array(
      z
        .number('a finite mass')
        .meta({ title: 'Net reading', description: 'One weighing from zero', unit: 'g' }),
      '1 to 8 net readings',
    )
    .min(1, '1 to 8 net readings')
    .max(8, '1 to 8 net readings')
    .meta({
      title: 'Net readings',
      description: 'Weighings of the same container, each from zero, oldest first',
      unit: 'g',
    }),
  ...priorChancesShape,
  badWeighingSpreadGrams: positiveGrams(
    'Spread of wrong weighings',
    'Standard deviation about the nominal mass; about 20 g for a tube',
  ),
});

const window = (title: string) =>
  z.strictObject({ lower: grams('From'), upper: grams('To') }).meta({ title, unit: 'g' });

export const countByWeightOutput = z.strictObject({
  expectedGrams: grams('Expected net mass'),
  standardUncertaintyGrams: grams('Standard uncertainty of a net reading'),
  residualGrams: grams('Last reading less expected mass'),
  likelihood: z
    .enum(['normal', 'rounded'])
    .meta({ title: 'Likelihood: normal density, or exact for a coarse division' }),
  posterior: z
    .array(
      z.strictObject({
        pieces: z.int().meta({ title: 'Pieces', unit: 'pieces' }),
        probability: probability('Probability'),
      }),
    )
    .meta({ title: 'Probability of each count' }),
  probabilityBadWeighing: probability('Probability that no weighing was good'),
  badWeighingByReading: z
    .array(probability('Probability'))
    .meta({ title: 'Probability for each reading that it was bad' }),
  misclassificationProbability: probability('Risk of a wrong count by this scale'),
  canProveCount: z.boolean().meta({ title: 'The scale can prove this count' }),
  largestProvableCount: z
    .strictObject({
      atRiskOneInThousand: z.int().meta({ title: 'At a risk of 0.001', unit: 'pieces' }),
      atRiskOneInMillion: z.int().meta({ title: 'At a risk of 0.000001', unit: 'pieces' }),
    })
    .meta({ title: 'Largest count that the scale can prove' }),
  warnWindowGrams: window('Accept window, 3 standard uncertainties'),
  rejectWindowGrams: window('Reject outside, half a piece'),
  verdict: z.enum(['proved', 'weigh-again', 'differs', 'cannot-prove']).meta({ title: 'Verdict' }),
  words: z.string().meta({ title: 'In words' }),
});

export type CountByWeightInput = z.infer<typeof countByWeightInput>;
export type CountByWeightOutput = z.infer<typeof countByWeightOutput>;
