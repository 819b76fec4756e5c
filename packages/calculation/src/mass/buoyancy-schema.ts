import { z } from 'zod';
import { budgetSchema } from './budget-parts.ts';
import { numberField, spreadField } from './number-field.ts';

const knownMasses = ['reading', 'mass', 'conventional mass'] as const;

const solid = { least: 500, greatest: 25_000, unit: 'kg/m³' };
const air = { least: 0, greatest: 2, unit: 'kg/m³' };
export const buoyancyInput = z.strictObject({
  known: z.enum(knownMasses, { error: `one of ${knownMasses.join(', ')}` }).meta({
    title: 'What is known',
    description: 'The reading of the balance, the true mass, or the conventional mass',
  }),
  valueGrams: numberField('value', { above: 0, greatest: 1e7, unit: 'g' }).meta({
    title: 'Its value',
    unit: 'g',
  }),
  objectDensityKilogramsPerCubicMetre: numberField('density of the object', solid).meta({
    title: 'Density of the object',
    description: 'Fine gold 19300, fine silver 10500',
    unit: 'kg/m³',
  }),
  airDensityKilogramsPerCubicMetre: numberField('air density', air).meta({
    title: 'Air density',
    unit: 'kg/m³',
  }),
  adjustingWeightDensityKilogramsPerCubicMetre: numberField(
    'density of the weight that adjusted the balance',
    solid,
  )
    .optional()
    .meta({
      title: 'Density of the adjusting weight',
      description: 'None takes 8000',
      unit: 'kg/m³',
    }),
  adjustingAirDensityKilogramsPerCubicMetre: numberField('air density at the adjustment', air)
    .optional()
    .meta({
      title: 'Air density at the adjustment',
      description: 'None takes the same air as now',
      unit: 'kg/m³',
    }),
  valueStandardUncertaintyMilligrams: spreadField('value', 1e6, 'mg'),
  objectDensityStandardUncertaintyKilogramsPerCubicMetre: spreadField(
    'density of the object',
    5000,
    'kg/m³',
  ),
  airDensityStandardUncertaintyKilogramsPerCubicMetre: spreadField('air density', 0.2, 'kg/m³'),
  adjustingWeightDensityStandardUncertaintyKilogramsPerCubicMetre: spreadField(
    'density of the adjusting weight',
    1000,
    'kg/m³',
  ),
});

export type BuoyancyInput = z.infer<typeof buoyancyInput>;

const grams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'g', ...(description === undefined ? {} : { description }) });
const milligrams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'mg', ...(description === undefined ? {} : { description }) });

export const buoyancyOutput = z.strictObject({
  massGrams: grams('True mass'),
  massStandardUncertaintyMilligrams: milligrams('Standard uncertainty of the true mass'),
  conventionalMassGrams: grams('Conventional mass'),
  conventionalMassStandardUncertaintyMilligrams: milligrams(
    'Standard uncertainty of the conventional mass',
  ),
  readingGrams: grams('Reading', 'Apparent mass: what this balance shows in this air'),
  readingStandardUncertaintyMilligrams: milligrams('Standard uncertainty of the reading'),
  correctionMilligrams: milligrams(
    'Buoyancy correction',
    'True mass less reading: negative for metals denser than the adjusting weight',
  ),
  massBudget: budgetSchema('Budget of the true mass', 'mg'),
  conventionalMassBudget: budgetSchema('Budget of the conventional mass', 'mg'),
  words: z.string().meta({ title: 'In words' }),
});

export type BuoyancyOutput = z.infer<typeof buoyancyOutput>;
