import { z } from 'zod';
import {
  deviation,
  gainField,
  grams,
  labelField,
  piecesField,
  positiveGrams,
  priorChancesShape,
  probability,
  wholePieces,
  words,
} from './counting-fields.ts';

const someReadings = 'a list of 1 to 4 gross readings';
const someTubes = 'a list of 1 to 2000 tubes';
const counted = 'a whole number from 0 to 100000 pieces';
const degrees = 'a number of degrees of freedom from 2 to 10000';
const aRisk = 'a risk from 0.000001 to 0.1';

const tube = z.strictObject({
  label: labelField('tube'),
  bookedPieces: piecesField('Booked count', 'Pieces that should be inside'),
  grossReadingsGrams: z
    .array(positiveGrams('Gross reading', 'One weighing from zero'), someReadings)
    .min(1, someReadings)
    .max(4, someReadings)
    .meta({ title: 'Gross readings', description: 'Of the closed tube, oldest first', unit: 'g' }),
  tareReadingGrams: positiveGrams(
    'Tare reading',
    'Of this tube when empty; none takes the stored tare',
  ).optional(),
  countedPieces: z
    .int(counted)
    .min(0, counted)
    .max(100_000, counted)
    .meta({
      title: 'Counted',
      description: 'Where this tube was opened and counted: it then anchors the mean piece mass',
      unit: 'pieces',
    })
    .optional(),
});

export const countOfSeriesInput = z.strictObject({
  tubes: z
    .array(tube, someTubes)
    .min(1, someTubes)
    .max(2000, someTubes)
    .refine(
      (tubes) => new Set(tubes.map(({ label }) => label)).size === tubes.length,
      'tubes with different labels',
    )
    .meta({ title: 'Tubes', description: 'Of one lot on one scale, in the order weighed' }),
  referenceMeanGrams: positiveGrams('Mean piece mass', 'Known before the series'),
  referenceMeanStandardUncertaintyGrams: deviation(
    'Standard uncertainty of the mean piece mass',
    'Such as piece standard deviation over the root of the hand-counted pieces',
  ),
  lotStandardDeviationGrams: deviation(
    'Lot standard deviation',
    'Lot or die means against the reference lot',
  ),
  gainRelative: gainField(
    'Relative gain uncertainty',
    'Standard uncertainty of the span of the scale: one error for the whole series',
  ),
  pieceStandardDeviationGrams: positiveGrams(
    'Piece standard deviation',
    'Piece to piece within one lot',
  ),
  pieceSpread: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: z.literal('known').meta({ title: 'Piece standard deviation: known' }),
      }),
      z.strictObject({
        kind: z.literal('estimated').meta({ title: 'Piece standard deviation: from a sample' }),
        degreesOfFreedom: z
          .number(degrees)
          .min(2, degrees)
          .max(10_000, degrees)
          .meta({ title: 'Degrees of freedom', description: 'Pieces of the sample less one' }),
      }),
    ],
    'a spread of kind known, or estimated with its degrees of freedom',
  ),
  driftPerTubeGrams: deviation(
    'Drift of the mean piece mass',
    'Standard deviation of its change from one tube to the next; 0 for none',
  ),
  storedTareGrams: positiveGrams('Stored tare', 'Mean mass of an empty tube'),
  tareStandardDeviationGrams: deviation(
    'Tare standard deviation',
    'One tube against another, where the stored tare is used',
  ),
  tareMeanStandardUncertaintyGrams: deviation(
    'Standard uncertainty of the stored tare',
    'One error for all tubes that use it',
  ),
  repeatabilityGrams: deviation('Repeatability', 'Standard deviation of repeated readings'),
  divisionGrams: positiveGrams('Division', 'Smallest step that the scale shows'),
  ...priorChancesShape,
  badWeighingSpreadGrams: positiveGrams(
    'Spread of wrong weighings',
    'Standard deviation about the booked mass; about 20 g for a tube',
  ),
  acceptedRisk: z
    .number(aRisk)
    .min(1e-6, aRisk)
    .max(0.1, aRisk)
    .meta({ title: 'Accepted risk', description: 'Of a wrong count in a tube called proved' }),
});

export const countOfSeriesOutput = z.strictObject({
  tubes: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Tube' }),
        netGrams: grams('Net reading, mean of several'),
        expectedGrams: grams('Expected net mass, from the tubes before'),
        standardUncertaintyGrams: grams('Standard uncertainty of the expectation and the reading'),
        standardizedResidual: z.number().meta({
          title: 'Reading less expectation, in standard uncertainties',
        }),
        proofIndex: z.number().meta({
          title: 'Standard uncertainties between neighbouring counts',
        }),
        snapRisk: probability('Risk of a wrong count by this scale, before the reading'),
        probabilityAsBookedLive: probability('Probability of the booked count when weighed'),
        probabilityAsBooked: probability('Probability of the booked count after the whole series'),
        probabilityBadWeighing: probability('Probability that every reading was bad'),
        posterior: z
          .array(
            z.strictObject({
              pieces: wholePieces('Pieces'),
              probability: probability('Probability'),
            }),
          )
          .meta({ title: 'Probability of each count after the whole series' }),
        verdict: z
          .enum(['proved', 'weigh-again', 'differs', 'cannot-prove', 'counted'])
          .meta({ title: 'Verdict' }),
      }),
    )
    .meta({ title: 'Tube by tube' }),
  meanPieceMassGrams: grams('Mean piece mass on this scale after the series'),
  meanPieceMassStandardUncertaintyGrams: grams('Its standard uncertainty'),
  meanShiftStandardized: z.number().meta({
    title: 'Mean piece mass less the one before the series, in its standard uncertainties then',
  }),
  pieceStandardDeviationGrams: grams('Piece standard deviation after the series'),
  probabilityAllAsBooked: probability('Probability that every tube holds its booked count'),
  expectedWrongTubes: z.number().meta({ title: 'Tubes expected to hold another count' }),
  proved: z.int().meta({ title: 'Tubes proved' }),
  words: words(),
});

export type CountOfSeriesInput = z.infer<typeof countOfSeriesInput>;
export type CountOfSeriesOutput = z.infer<typeof countOfSeriesOutput>;
