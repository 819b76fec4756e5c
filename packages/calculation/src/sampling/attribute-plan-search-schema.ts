import { z } from 'zod';
import { planBases } from './plan-curve.ts';

const quality = 'a number above 0, at most 100000';
const risk = 'a number from 0.0001 to 0.5';
const lot = 'a whole number of pieces from 2 to 1000000';

const percent = (title: string, description: string) =>
  z.number(quality).gt(0, quality).max(100_000, quality).meta({ title, description, unit: '%' });
const risked = (title: string, description: string) =>
  z.number(risk).min(0.0001, risk).max(0.5, risk).meta({ title, description });

export const attributePlanSearchInput = z.strictObject({
  basis: z.enum(planBases, `one of ${planBases.join(', ')}`).meta({
    title: 'Distribution',
    description:
      'Binomial for a series of lots, Poisson for nonconformities, hypergeometric for one lot of known size',
  }),
  lotSizePieces: z.int(lot).min(2, lot).max(1_000_000, lot).optional().meta({
    title: 'Lot size',
    description: 'Needed for one lot; elsewhere it only limits the samples',
    unit: 'pieces',
  }),
  producersQualityPercent: percent(
    'Quality of the producer',
    'Lots as good as this should be accepted; percent, or nonconformities per hundred pieces',
  ),
  producersRisk: risked("Producer's risk", 'How often such lots may be rejected at most'),
  consumersQualityPercent: percent(
    'Quality of the consumer',
    'Lots as bad as this should be rejected; percent, or nonconformities per hundred pieces',
  ),
  consumersRisk: risked("Consumer's risk", 'How often such lots may be accepted at most'),
  secondSampleRatio: z.literal([1, 2], '1 or 2').meta({
    title: 'Second sample of a double plan',
    description: 'As many times the first sample',
  }),
});

export type AttributePlanSearchInput = z.infer<typeof attributePlanSearchInput>;

const whole = (title: string) => z.int().meta({ title });
const pieces = (title: string) => z.int().meta({ title, unit: 'pieces' });
const figure = (title: string, unit?: string) =>
  z.number().meta({ title, ...(unit === undefined ? {} : { unit }) });

export const attributePlanSearchOutput = z.strictObject({
  single: z
    .strictObject({
      sampleSizePieces: pieces('Sample size'),
      acceptanceNumber: whole('Acceptance number'),
      rejectionNumber: whole('Rejection number'),
      producersRisk: figure("Producer's risk of the plan"),
      consumersRisk: figure("Consumer's risk of the plan"),
    })
    .meta({ title: 'Smallest single plan' }),
  double: z
    .strictObject({
      firstSampleSizePieces: pieces('First sample'),
      firstAcceptanceNumber: whole('Acceptance number of the first sample'),
      firstRejectionNumber: whole('Rejection number of the first sample'),
      secondSampleSizePieces: pieces('Second sample'),
      secondAcceptanceNumber: whole('Acceptance number of both samples together'),
      secondRejectionNumber: whole('Rejection number of both samples together'),
      producersRisk: figure("Producer's risk of the plan"),
      consumersRisk: figure("Consumer's risk of the plan"),
      averageSampleOfGoodPieces: figure('Average sample number, good lots', 'pieces'),
      averageSampleOfBadPieces: figure('Average sample number, bad lots', 'pieces'),
    })
    .nullable()
    .meta({
      title: 'Double plan of least effort for good lots',
      description: 'Nothing where none was found or the search would be too long',
    }),
  goodPieces: z.int().nullable().meta({
    title: 'Nonconforming pieces in a good lot',
    description: 'For one lot, rounded down; nothing elsewhere',
    unit: 'pieces',
  }),
  badPieces: z.int().nullable().meta({
    title: 'Nonconforming pieces in a bad lot',
    description: 'For one lot, rounded up; nothing elsewhere',
    unit: 'pieces',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type AttributePlanSearchOutput = z.infer<typeof attributePlanSearchOutput>;
