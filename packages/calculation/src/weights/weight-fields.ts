import { z } from 'zod';

const aMass = 'a mass above 0 g';
const aDeviation = 'a value of 0 g or more';

/** A mass above 0 g. */
export const massField = (title: string, description: string) =>
  z.number(aMass).positive(aMass).meta({ title, description, unit: 'g' });

/** A standard deviation or uncertainty, 0 g or more. */
export const deviationField = (title: string, description: string) =>
  z
    .number(aDeviation)
    .min(0, aDeviation)
    .max(1e9, 'a value of at most 1000000000 g')
    .meta({ title, description, unit: 'g' });

/** Masses of single pieces, so many at least and at most. */
export function massesField(least: number, greatest: number, description: string) {
  const accepted = `a list of ${least} to ${greatest} masses`;
  return z
    .array(massField('Mass', 'Mass of one piece'), accepted)
    .min(least, accepted)
    .max(greatest, accepted)
    .meta({ title: 'Masses', description, unit: 'g' });
}

/** A number between two bounds, both included. */
export function boundedField(
  field: { readonly least: number; readonly greatest: number; readonly accepted: string },
  meta: { readonly title: string; readonly description: string; readonly unit?: string },
) {
  return z
    .number(field.accepted)
    .min(field.least, field.accepted)
    .max(field.greatest, field.accepted)
    .meta(meta);
}

/** A confidence level from one half upwards. */
export const confidenceField = () =>
  boundedField(
    { least: 0.5, greatest: 0.9999, accepted: 'a confidence from 0.5 to 0.9999' },
    { title: 'Confidence', description: 'Such as 0.95' },
  );

/** A seed that a whole number states, so that anybody can repeat the simulation. */
export const seedField = () => {
  const accepted = 'a whole number from 0 to 2147483647';
  return z
    .int(accepted)
    .min(0, accepted)
    .max(2_147_483_647, accepted)
    .meta({ title: 'Seed', description: 'The same seed gives the same simulation' });
};

export const grams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'g', ...(description === undefined ? {} : { description }) });
export const gramsOrNull = (title: string, description?: string) =>
  z
    .number()
    .nullable()
    .meta({ title, unit: 'g', ...(description === undefined ? {} : { description }) });
export const figure = (title: string) => z.number().meta({ title });
export const figureOrNull = (title: string) => z.number().nullable().meta({ title });
export const words = () => z.string().meta({ title: 'In words' });
