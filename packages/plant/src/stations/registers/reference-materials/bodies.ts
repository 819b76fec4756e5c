import { finenessByDifferenceInputSchema } from '@cupel/calculation';
import { z } from 'zod';
import { metals } from '../../../journal/place.ts';
import { massReadingSchema } from '../../../journal/reading.ts';
import { daySchema, idSchema, reasonSchema, titleSchema } from '../identity.ts';

const { element } = finenessByDifferenceInputSchema.shape.impurities.element.shape;

const quantityForm = 'fineness, volume, mass, or the symbol of a chemical element';
const otherQuantities: readonly string[] = ['fineness', 'volume', 'mass'];

/** What a control is about: the fineness, the volume of a blank, or the content of an element. */
export const quantitySchema = z
  .string(quantityForm)
  .refine((name) => otherQuantities.includes(name) || element.safeParse(name).success, {
    error: quantityForm,
  })
  .meta({ title: 'Quantity', description: 'fineness, or the symbol of an element.' });

const certifiedUnits = ['‰', 'mg/kg'] as const;

/** All of a metal, in the units of a certified value. */
const wholeMetal = { '‰': 1000, 'mg/kg': 1_000_000 } as const;

const uncertaintyForm = 'a standard uncertainty above 0';
const valueForm = 'a number of 0 or more';

const certifiedValue = z
  .strictObject({
    quantity: quantitySchema,
    value: z.number(valueForm).min(0, valueForm).meta({ title: 'Certified value' }),
    unit: z.enum(certifiedUnits, `one of ${certifiedUnits.join(', ')}`).meta({ title: 'Unit' }),
    standardUncertainty: z.number(uncertaintyForm).positive(uncertaintyForm).meta({
      title: 'Standard uncertainty',
      description: 'The expanded one of the certificate over its coverage factor.',
    }),
  })
  .refine((one) => (one.quantity === 'fineness') === (one.unit === '‰'), {
    error: '‰ for a fineness, mg/kg for the content of an element',
    path: ['unit'],
  })
  .superRefine(({ value, unit, standardUncertainty }, context) => {
    const whole = wholeMetal[unit];
    if (value > whole) {
      const message = `at most ${whole} ${unit}, which is the whole metal`;
      context.addIssue({ code: 'custom', path: ['value'], message });
    }
    // A content of 0 is certified with what could have been missed.
    const most = unit === '‰' ? value / 10 : value > 0 ? value : whole;
    if (standardUncertainty > most) {
      const message = `a standard uncertainty of at most ${most} ${unit} beside this value`;
      context.addIssue({ code: 'custom', path: ['standardUncertainty'], message });
    }
  });

export const sha256Schema = z
  .string('64 lower-case hexadecimal digits')
  .regex(/^[0-9a-f]{64}$/, '64 lower-case hexadecimal digits')
  .meta({ title: 'Attachment', description: 'SHA-256 of the stored document.' });

const referenceMaterialId = idSchema.meta({
  title: 'Reference material',
  description: 'The id on the label of the bottle or sheet.',
});

export const referenceMaterialReceived = z.strictObject({
  referenceMaterial: referenceMaterialId,
  kind: titleSchema.meta({
    title: 'Kind',
    description: 'The same for the next bottle, such as fine silver.',
  }),
  title: titleSchema.meta({ title: 'Title', description: 'As it stands on its certificate.' }),
  metal: z
    .enum(metals, `one of ${metals.join(', ')}`)
    .meta({ title: 'Metal', description: 'That it consists of.' }),
  certificate: titleSchema.meta({
    title: 'Certificate',
    description: 'Its number and who issued it.',
  }),
  attachmentSha256: sha256Schema.exactOptional(),
  certified: z
    .array(certifiedValue, 'a list of certified values')
    .min(1, 'at least one certified value')
    .max(60, 'at most 60 certified values')
    .refine((all) => new Set(all.map((one) => one.quantity)).size === all.length, {
      error: 'each quantity once',
    })
    .meta({ title: 'Certified values' }),
  received: massReadingSchema.meta({ title: 'Mass received', description: 'As weighed.' }),
  validUntil: daySchema.meta({ title: 'Valid until', description: 'The last day of its use.' }),
});

/** Drawn on by whoever uses it; the register does not know the run itself. */
export const referenceMaterialUsed = z.strictObject({
  referenceMaterial: referenceMaterialId,
  massMicrograms: z.int().min(1).max(Number.MAX_SAFE_INTEGER),
  usedFor: titleSchema,
});

export const referenceMaterialRetired = z.strictObject({
  referenceMaterial: referenceMaterialId,
  reason: reasonSchema,
});

export type ReferenceMaterialReceived = z.infer<typeof referenceMaterialReceived>;
export type ReferenceMaterialUsed = z.infer<typeof referenceMaterialUsed>;
export type ReferenceMaterialRetired = z.infer<typeof referenceMaterialRetired>;
