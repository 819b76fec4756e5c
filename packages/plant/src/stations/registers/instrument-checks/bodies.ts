import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { massReadingSchema } from '../../../journal/reading.ts';
import { idSchema, reasonSchema, titleSchema } from '../identity.ts';
import { instrumentId } from '../instruments.ts';

const checkStandard = idSchema.meta({
  title: 'Check standard',
  description: 'The label of the weight, gauge block, solution or other standard.',
});

const number = (title: string, description: string) => {
  const accepted = 'a number from -1e9 to 1e9';
  return z.number(accepted).min(-1e9, accepted).max(1e9, accepted).meta({ title, description });
};

const limitForm = 'a number of 0 or more';
const isEachOnce = (points: readonly { readonly checkStandard: string }[]): boolean =>
  new Set(points.map((point) => point.checkStandard)).size === points.length;

const points = <Point extends { readonly checkStandard: string }>(point: z.ZodType<Point>) =>
  z
    .array(point, 'a list of readings')
    .min(1, 'at least one reading')
    .max(20, 'at most 20 readings')
    .refine(isEachOnce, { error: 'each check standard once' })
    .meta({ title: 'Readings' });

const weighed = z.strictObject({
  kind: z.literal('weights').meta({ title: 'What is checked' }),
  points: points(
    z.strictObject({
      checkStandard,
      nominal: massReadingSchema.meta({
        title: 'Mass of the weight',
        description: 'Its conventional mass, from its certificate.',
      }),
      reading: massReadingSchema.meta({ title: 'Reading', description: 'As the balance sent it.' }),
    }),
  ),
  limit: massReadingSchema.meta({
    title: 'Greatest error',
    description: 'That each reading may have, in size.',
  }),
});

const measured = z.strictObject({
  kind: z.literal('values').meta({ title: 'What is checked' }),
  unit: titleSchema.meta({ title: 'Unit', description: 'Such as mm, °C, HV or mg/kg.' }),
  points: points(
    z.strictObject({
      checkStandard,
      nominal: number('Nominal value', 'Of the standard.'),
      reading: number('Reading', 'As the instrument showed it.'),
    }),
  ),
  limit: z.number(limitForm).min(0, limitForm).meta({
    title: 'Greatest error',
    description: 'That each reading may have, in size.',
  }),
});

export const checkSchema = z
  .discriminatedUnion('kind', [weighed, measured], { error: 'weights or values' })
  .meta({ title: 'Check' });

export type Check = z.infer<typeof checkSchema>;

export const instrumentChecked = z.strictObject({
  instrument: instrumentId,
  check: checkSchema,
  /** Reading less nominal value of each point, in mg for weights, else in the unit of the check. */
  errors: z.array(z.number()).min(1),
  limit: z.number(),
  unit: z.string(),
  passes: z.boolean(),
  /** The catalogue's check of a balance, where its readings were enough for one. */
  balanceCheck: (calculatedSchema as unknown as z.ZodType<Calculated>).exactOptional(),
  /** Entry of the check, calibration or registration that was good before this one. */
  lastGood: z.int().min(1),
});

export type InstrumentChecked = z.infer<typeof instrumentChecked>;

export const calibrationDoubted = z.strictObject({
  instrument: instrumentId,
  /** Entry of the calibration, or of the registration, that was found wrong. */
  calibration: z.int().min(1),
  reason: reasonSchema,
});

export type CalibrationDoubted = z.infer<typeof calibrationDoubted>;
