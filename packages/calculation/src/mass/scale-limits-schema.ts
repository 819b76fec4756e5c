import { z } from 'zod';
import { numberField } from './number-field.ts';
import { scaleClasses } from './scale-limits-table.ts';

const gramsRange = { above: 0, greatest: 1e9, unit: 'g' };

const load = z.strictObject({
  loadGrams: numberField('load', { least: 0, greatest: 1e9, unit: 'g' }).meta({
    title: 'Load',
    unit: 'g',
  }),
  indicationGrams: numberField('indication', { least: -1e9, greatest: 1e9, unit: 'g' })
    .optional()
    .meta({
      title: 'Indication',
      description: 'What the scale shows under this load; none gives the limit alone',
      unit: 'g',
    }),
});

export const scaleLimitsInput = z.strictObject({
  scaleClass: z
    .enum(scaleClasses, { error: `one of ${scaleClasses.join(', ')}` })
    .meta({ title: 'Class of the scale', description: 'I is the finest' }),
  verificationIntervalGrams: numberField('verification scale interval', gramsRange).meta({
    title: 'Verification scale interval e',
    unit: 'g',
  }),
  capacityGrams: numberField('capacity', gramsRange).meta({ title: 'Capacity', unit: 'g' }),
  loads: z
    .array(load, { error: 'a list of 1 to 200 loads' })
    .min(1, { error: 'at least one load' })
    .max(200, { error: 'at most 200 loads' })
    .meta({ title: 'Loads' }),
});

export type ScaleLimitsInput = z.infer<typeof scaleLimitsInput>;

const grams = (title: string) => z.number().meta({ title, unit: 'g' });

export const scaleLimitsOutput = z.strictObject({
  intervals: z.number().meta({ title: 'Number of verification scale intervals' }),
  leastIntervals: z.number().meta({ title: 'Least number for the class' }),
  greatestIntervals: z
    .number()
    .nullable()
    .meta({ title: 'Greatest number for the class', description: 'None where there is no end' }),
  fitsClass: z.boolean().meta({ title: 'Number of intervals suits the class' }),
  leastCapacityGrams: grams('Minimum capacity'),
  loads: z
    .array(
      z.strictObject({
        loadGrams: grams('Load'),
        loadIntervals: z.number().meta({ title: 'Load in intervals' }),
        limitGrams: grams('Maximum permissible error on verification'),
        limitInServiceGrams: grams('Maximum permissible error in service'),
        isBelowMinimum: z.boolean().meta({ title: 'Below minimum capacity' }),
        errorGrams: z.number().nullable().meta({
          title: 'Error',
          description: 'Indication less load; none without an indication',
          unit: 'g',
        }),
        isWithinOnVerification: z.boolean().nullable().meta({ title: 'Within on verification' }),
        isWithinInService: z.boolean().nullable().meta({ title: 'Within in service' }),
      }),
    )
    .meta({ title: 'Loads' }),
  words: z.string().meta({ title: 'In words' }),
});

export type ScaleLimitsOutput = z.infer<typeof scaleLimitsOutput>;
