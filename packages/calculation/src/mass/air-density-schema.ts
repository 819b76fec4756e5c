import { z } from 'zod';
import { budgetSchema } from './budget-parts.ts';
import { numberField, spreadField } from './number-field.ts';

const airFormulas = ['CIPM-2007', 'simplified'] as const;

export const airDensityInput = z.strictObject({
  formula: z.enum(airFormulas, { error: `one of ${airFormulas.join(', ')}` }).meta({
    title: 'Formula',
    description: 'CIPM-2007 is the full one; the simplified one is that of OIML R 111',
  }),
  temperatureCelsius: numberField('temperature', { least: -50, greatest: 60, unit: '°C' }).meta({
    title: 'Air temperature',
    unit: '°C',
  }),
  pressureHectopascals: numberField('pressure', { least: 100, greatest: 1500, unit: 'hPa' }).meta({
    title: 'Air pressure',
    description: 'At the balance, not reduced to sea level; 1 mbar is 1 hPa',
    unit: 'hPa',
  }),
  relativeHumidityPercent: numberField('relative humidity', {
    least: 0,
    greatest: 100,
    unit: '%',
  }).meta({ title: 'Relative humidity', unit: '%' }),
  carbonDioxidePartsPerMillion: numberField('carbon dioxide content', {
    least: 0,
    greatest: 10_000,
    unit: 'µmol/mol',
  })
    .optional()
    .meta({
      title: 'Carbon dioxide',
      description: 'Mole fraction; none takes 400. Used by the full formula only',
      unit: 'µmol/mol',
    }),
  temperatureStandardUncertaintyKelvin: spreadField('air temperature', 5, 'K'),
  pressureStandardUncertaintyHectopascals: spreadField('air pressure', 50, 'hPa'),
  humidityStandardUncertaintyPercent: spreadField('relative humidity', 50, '%'),
  carbonDioxideStandardUncertaintyPartsPerMillion: spreadField('carbon dioxide', 5000, 'µmol/mol'),
});

export type AirDensityInput = z.infer<typeof airDensityInput>;

const density = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'kg/m³', ...(description === undefined ? {} : { description }) });

export const airDensityOutput = z.strictObject({
  densityKilogramsPerCubicMetre: density('Air density'),
  standardUncertaintyKilogramsPerCubicMetre: density('Standard uncertainty'),
  expandedUncertaintyKilogramsPerCubicMetre: density('Expanded uncertainty', 'k = 2'),
  relativeStandardUncertaintyPartsPerMillion: z
    .number()
    .meta({ title: 'Relative standard uncertainty', unit: 'ppm' }),
  cipmDensityKilogramsPerCubicMetre: density('Air density by CIPM-2007'),
  simplifiedDensityKilogramsPerCubicMetre: density('Air density by the simplified formula'),
  saturationVapourPressurePascals: z
    .number()
    .meta({ title: 'Saturation vapour pressure', unit: 'Pa' }),
  enhancementFactor: z.number().meta({ title: 'Enhancement factor' }),
  vapourMoleFraction: z.number().meta({ title: 'Mole fraction of water vapour' }),
  compressibilityFactor: z.number().meta({ title: 'Compressibility factor' }),
  budget: budgetSchema('Budget', 'kg/m³'),
  words: z.string().meta({ title: 'In words' }),
});

export type AirDensityOutput = z.infer<typeof airDensityOutput>;
