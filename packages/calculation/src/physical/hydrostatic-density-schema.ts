import { z } from 'zod';
import { budgetSchema } from '../mass/budget-parts.ts';
import { numberField } from '../mass/number-field.ts';

const grams = (what: string) => numberField(what, { above: 0, greatest: 1e6, unit: 'g' });
const spread = (what: string, greatest: number, unit: string) =>
  numberField('standard uncertainty', { greatest, unit })
    .optional()
    .meta({
      title: `Standard uncertainty of the ${what}`,
      description: 'None counts as 0',
      unit,
    });

const water = z.strictObject({
  kind: z.literal('water').meta({ title: 'Kind' }),
  temperatureCelsius: numberField('water temperature', {
    least: 0,
    greatest: 40,
    unit: '°C',
  }).meta({ title: 'Water temperature', unit: '°C' }),
  temperatureStandardUncertaintyKelvin: spread('water temperature', 5, 'K'),
  dissolvedAir: z.enum(['none', 'saturated'], { error: 'none or saturated' }).meta({
    title: 'Dissolved air',
    description: 'None when freshly boiled; saturated when it has stood, up to 25 °C',
  }),
});

const other = z.strictObject({
  kind: z.literal('other').meta({ title: 'Kind' }),
  densityKilogramsPerCubicMetre: numberField('density of the liquid', {
    least: 500,
    greatest: 4000,
    unit: 'kg/m³',
  }).meta({ title: 'Density of the liquid', unit: 'kg/m³' }),
  densityStandardUncertaintyKilogramsPerCubicMetre: spread('density of the liquid', 100, 'kg/m³'),
});

export const hydrostaticDensityInput = z.strictObject({
  readingInAirGrams: grams('reading in air').meta({ title: 'Reading in air', unit: 'g' }),
  readingInLiquidGrams: grams('reading in the liquid').meta({
    title: 'Reading in the liquid',
    description: 'Of the piece alone: the balance was set to zero with the empty cradle in place',
    unit: 'g',
  }),
  readingStandardUncertaintyMilligrams: spread('readings', 1000, 'mg'),
  liquid: z
    .discriminatedUnion('kind', [water, other], { error: 'a liquid of the kind water or other' })
    .meta({ title: 'Liquid' }),
  airDensityKilogramsPerCubicMetre: numberField('air density', {
    least: 0,
    greatest: 2,
    unit: 'kg/m³',
  }).meta({ title: 'Air density', description: '1.2 is usual', unit: 'kg/m³' }),
  airDensityStandardUncertaintyKilogramsPerCubicMetre: spread('air density', 0.2, 'kg/m³'),
  expectedDensityKilogramsPerCubicMetre: numberField('density', {
    least: 500,
    greatest: 25_000,
    unit: 'kg/m³',
  })
    .optional()
    .meta({
      title: 'Density expected of the alloy',
      description: 'None leaves the result unjudged',
      unit: 'kg/m³',
    }),
  expectedDensityStandardUncertaintyKilogramsPerCubicMetre: spread(
    'density expected',
    1000,
    'kg/m³',
  ),
});

export type HydrostaticDensityInput = z.infer<typeof hydrostaticDensityInput>;

const density = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'kg/m³', ...(description === undefined ? {} : { description }) });

export const hydrostaticDensityOutput = z.strictObject({
  densityKilogramsPerCubicMetre: density('Density of the piece'),
  standardUncertaintyKilogramsPerCubicMetre: density('Standard uncertainty'),
  expandedUncertaintyKilogramsPerCubicMetre: density('Expanded uncertainty', 'k = 2'),
  uncorrectedDensityKilogramsPerCubicMetre: density('Density without correction for air'),
  liquidDensityKilogramsPerCubicMetre: density('Density of the liquid'),
  volumeCubicMillimetres: z.number().meta({ title: 'Volume of the piece', unit: 'mm³' }),
  budget: budgetSchema('Budget', 'kg/m³'),
  differenceKilogramsPerCubicMetre: z.number().nullable().meta({
    title: 'Found less expected',
    description: 'None without an expected density',
    unit: 'kg/m³',
  }),
  agrees: z.boolean().nullable().meta({
    title: 'Agrees with the expected density',
    description:
      'Within two standard uncertainties of the difference; none without an expected one',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type HydrostaticDensityOutput = z.infer<typeof hydrostaticDensityOutput>;
