import { z } from 'zod';
import {
  deviation,
  grams,
  labelField,
  piecesField,
  positiveGrams,
  probability,
  probabilityField,
  words,
} from './counting-fields.ts';

const someTubes = 'a list of 3 to 1000 tubes';

export const causes = [
  'steady',
  'mean-step',
  'mean-drift',
  'wrong-counts',
  'count-shift',
  'bad-weighings',
] as const;

export const meanMassDriftInput = z.strictObject({
  tubes: z
    .array(
      z.strictObject({
        label: labelField('tube'),
        bookedPieces: piecesField('Booked count', 'Pieces that should be inside'),
        netGrams: z
          .number('a finite net mass')
          .meta({ title: 'Net reading', description: 'Of the closed tube', unit: 'g' }),
      }),
      someTubes,
    )
    .min(3, someTubes)
    .max(1000, someTubes)
    .meta({ title: 'Tubes', description: 'In the order filled' }),
  referenceMeanGrams: positiveGrams('Mean piece mass', 'Known before these tubes'),
  sharedStandardUncertaintyGrams: deviation(
    'Standard uncertainty of the mean piece mass',
    'Reference mean, lot and span of the scale together: one error for all tubes',
  ),
  pieceStandardDeviationGrams: positiveGrams('Piece standard deviation', 'Within one lot'),
  tareStandardDeviationGrams: deviation('Tare standard deviation', 'One tube against another'),
  repeatabilityGrams: deviation('Repeatability', 'Standard deviation of repeated readings'),
  divisionGrams: positiveGrams('Division', 'Smallest step that the scale shows'),
  stepStandardDeviationGrams: positiveGrams(
    'Usual size of a step of the mean piece mass',
    'New blanks, other dies: standard deviation of such steps',
  ),
  driftStandardDeviationGrams: positiveGrams(
    'Usual size of a drift of the mean piece mass',
    'Wear: standard deviation of its change per tube',
  ),
  priorMassChangeProbability: probabilityField(
    'Chance of a step, and of a drift, of the mean piece mass',
    'Before these tubes were weighed, each',
  ),
  priorCountShiftProbability: probabilityField(
    'Chance that the filling went wrong by one piece from some tube on',
    'A counter or template out of order',
  ),
  priorMiscountProbability: probabilityField(
    'Chance of one piece less, and of one more, in a single tube',
    'From opened tubes',
  ),
  badWeighingProbability: probabilityField(
    'Chance that a weighing is itself wrong',
    'Not zeroed, wrong tare, lid off',
  ),
  badWeighingSpreadGrams: positiveGrams(
    'Spread of wrong weighings',
    'Standard deviation about the booked mass',
  ),
});

const change = z.strictObject({
  fromLabel: z.string().meta({ title: 'From this tube on' }),
  fromPlace: z.int().meta({ title: 'Its place, counted from 1' }),
  probability: probability('Probability of that tube among all, if there was such a change'),
});

export const meanMassDriftOutput = z.strictObject({
  probabilities: z
    .array(
      z.strictObject({
        cause: z.enum(causes).meta({ title: 'Cause' }),
        probability: probability('Probability'),
      }),
    )
    .meta({ title: 'What happened' }),
  mostProbable: z.enum(causes).meta({ title: 'Most probable' }),
  massAgainstCountOdds: z.number().nullable().meta({
    title: 'Odds of a change of mass against a wrong count',
    description: 'None where no count could be wrong',
  }),
  step: change
    .extend({
      sizeGrams: grams('Size of the step of the mean piece mass'),
      sizeStandardUncertaintyGrams: grams('Its standard uncertainty'),
    })
    .meta({ title: 'Step of the mean piece mass' }),
  drift: z
    .strictObject({
      perTubeGrams: grams('Drift of the mean piece mass per tube'),
      perTubeStandardUncertaintyGrams: grams('Its standard uncertainty'),
    })
    .meta({ title: 'Drift of the mean piece mass' }),
  countShift: change
    .extend({ pieces: z.int().meta({ title: 'Pieces more (less) in each', unit: 'pieces' }) })
    .meta({ title: 'Shift of the counts' }),
  tubes: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Tube' }),
        residualGrams: grams('Net reading less booked count times mean piece mass'),
        standardizedResidual: z.number().meta({ title: 'The same in standard uncertainties' }),
        probabilityMiscounted: probability('Probability that its count is wrong'),
        probabilityBadWeighing: probability('Probability that its weighing was bad'),
      }),
    )
    .meta({ title: 'Tube by tube' }),
  words: words(),
});

export type MeanMassDriftInput = z.infer<typeof meanMassDriftInput>;
export type MeanMassDriftOutput = z.infer<typeof meanMassDriftOutput>;
export type Cause = (typeof causes)[number];
