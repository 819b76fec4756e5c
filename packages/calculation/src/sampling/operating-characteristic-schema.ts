import { z } from 'zod';
import { planBases } from './plan-curve.ts';
import { samplingPlanInput } from './sampling-plan.ts';

const lot = 'a whole number of pieces from 1 to 1000000000';
const quality = 'a number from 0 to 100000';
const probability = 'a number above 0 and below 1';

const percent = () =>
  z.number(quality).min(0, quality).max(100_000, quality).meta({
    title: 'Quality',
    description: 'Percent nonconforming, or nonconformities per hundred pieces (Poisson)',
    unit: '%',
  });

export const operatingCharacteristicInput = z.strictObject({
  plan: samplingPlanInput,
  basis: z.enum(planBases, `one of ${planBases.join(', ')}`).meta({
    title: 'Distribution',
    description:
      'Binomial for a series of lots, Poisson for nonconformities, hypergeometric for one lot of known size',
  }),
  lotSizePieces: z.int(lot).min(1, lot).max(1_000_000_000, lot).optional().meta({
    title: 'Lot size',
    description: 'Needed for one lot and for total inspection; absent for large lots',
    unit: 'pieces',
  }),
  qualitiesPercent: z
    .array(percent(), 'a list of qualities')
    .min(1, 'at least one quality')
    .max(200, 'at most 200 qualities')
    .meta({ title: 'Qualities', description: 'Those for which the figures are wanted' }),
  acceptanceProbabilities: z
    .array(
      z
        .number(probability)
        .gt(0, probability)
        .lt(1, probability)
        .meta({ title: 'Probability of acceptance' }),
      'a list of probabilities',
    )
    .min(1, 'at least one probability')
    .max(50, 'at most 50 probabilities')
    .optional()
    .meta({
      title: 'Probabilities of acceptance',
      description:
        'Those for which the quality is wanted; absent for 99, 95, 90, 75, 50, 25, 10, 5 and 1 %',
    }),
  producersQualityPercent: percent().optional().meta({
    title: "Quality of the producer's risk",
    description: 'Lots as good as this should be accepted',
    unit: '%',
  }),
  consumersQualityPercent: percent().optional().meta({
    title: "Quality of the consumer's risk",
    description: 'Lots as bad as this should be rejected',
    unit: '%',
  }),
});

export type OperatingCharacteristicInput = z.infer<typeof operatingCharacteristicInput>;

const pieces = (title: string) => z.number().meta({ title, unit: 'pieces' });
const inPercent = (title: string) => z.number().meta({ title, unit: '%' });
const risk = (title: string) =>
  z.number().nullable().meta({ title, description: 'Nothing where no quality was given' });

const point = z.strictObject({
  qualityPercent: inPercent('Quality').meta({
    title: 'Quality',
    description: 'For one lot that of the nearest whole number of pieces',
    unit: '%',
  }),
  nonconformingPieces: z.int().nullable().meta({
    title: 'Nonconforming pieces in the lot',
    description: 'Nothing but for one lot',
    unit: 'pieces',
  }),
  acceptanceProbability: z.number().meta({ title: 'Probability of acceptance' }),
  acceptedOnFirst: z.number().meta({ title: 'Probability of acceptance on the first sample' }),
  rejectedOnFirst: z.number().meta({ title: 'Probability of rejection on the first sample' }),
  averageSamplePieces: pieces('Average sample number'),
  averageSampleCurtailedPieces: pieces(
    'Average sample number, second sample cut short at rejection',
  ),
  averageOutgoingPercent: inPercent('Average outgoing quality'),
  averageTotalInspectionPieces: z.number().nullable().meta({
    title: 'Average total inspection',
    description: 'Rejected lots examined piece by piece; nothing without a lot size',
    unit: 'pieces',
  }),
});

export const operatingCharacteristicOutput = z.strictObject({
  points: z.array(point).meta({ title: 'Figures at the qualities' }),
  qualities: z
    .array(
      z.strictObject({
        acceptanceProbability: z.number().meta({ title: 'Probability of acceptance' }),
        qualityPercent: z.number().nullable().meta({
          title: 'Quality',
          description: 'Nothing where the plan accepts every lot more often than that',
          unit: '%',
        }),
      }),
    )
    .meta({ title: 'Qualities at given probabilities of acceptance' }),
  averageOutgoingLimitPercent: inPercent('Average outgoing quality limit'),
  averageOutgoingLimitAtPercent: inPercent('Incoming quality at that limit'),
  producersRisk: risk("Producer's risk"),
  consumersRisk: risk("Consumer's risk"),
  words: z.string().meta({ title: 'In words' }),
});

export type OperatingCharacteristicOutput = z.infer<typeof operatingCharacteristicOutput>;
