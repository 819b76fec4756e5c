import { z } from 'zod';
import { budgetSchema } from './budget-parts.ts';
import { integerField, numberField } from './number-field.ts';

const milligramField = (what: string) => numberField(what, { greatest: 1e6, unit: 'mg' });

const calibration = z.strictObject({
  expandedUncertaintyMilligrams: milligramField('expanded uncertainty').meta({
    title: 'Expanded uncertainty of the calibration',
    description: 'Near this load, from the certificate',
    unit: 'mg',
  }),
  coverageFactor: numberField('coverage factor', { above: 0, greatest: 10 }).meta({
    title: 'Its coverage factor',
  }),
});

const cornerLoad = z.strictObject({
  limitMilligrams: milligramField('corner load difference').meta({
    title: 'Greatest corner load difference',
    unit: 'mg',
  }),
  testLoadGrams: numberField('test load', { above: 0, greatest: 1e7, unit: 'g' }).meta({
    title: 'Load of that test',
    unit: 'g',
  }),
});

const temperature = z.strictObject({
  driftPartsPerMillionPerKelvin: numberField('drift of sensitivity', {
    greatest: 10_000,
    unit: 'ppm/K',
  }).meta({ title: 'Drift of sensitivity', unit: 'ppm/K' }),
  rangeKelvin: numberField('temperature range', { greatest: 100, unit: 'K' }).meta({
    title: 'Range of temperature since the adjustment',
    description: 'Highest less lowest',
    unit: 'K',
  }),
});

const buoyancy = z.strictObject({
  objectDensityKilogramsPerCubicMetre: numberField('density of the object', {
    least: 500,
    greatest: 25_000,
    unit: 'kg/m³',
  }).meta({ title: 'Density of the object', unit: 'kg/m³' }),
  airDensityHalfRangeKilogramsPerCubicMetre: numberField('half range of the air density', {
    greatest: 0.5,
    unit: 'kg/m³',
  }).meta({
    title: 'Air density varies by plus or minus',
    description: 'About the air for which the reading counts, 1.2 for conventional mass',
    unit: 'kg/m³',
  }),
});

export const balanceUncertaintyInput = z.strictObject({
  readingGrams: numberField('reading', { above: 0, greatest: 1e7, unit: 'g' }).meta({
    title: 'Net reading',
    unit: 'g',
  }),
  readingsAveraged: integerField('number of readings', 1, 1000).meta({
    title: 'Readings averaged',
  }),
  scaleIntervalMilligrams: numberField('scale interval', {
    above: 0,
    greatest: 1e6,
    unit: 'mg',
  }).meta({ title: 'Scale interval', description: 'Last step of the display', unit: 'mg' }),
  repeatabilityStandardDeviationMilligrams: milligramField('standard deviation').meta({
    title: 'Standard deviation of repeated readings',
    unit: 'mg',
  }),
  repeatabilityReadings: integerField('number of readings', 2, 10_000).optional().meta({
    title: 'Readings behind that standard deviation',
    description: 'None takes it as known',
  }),
  linearityLimitMilligrams: milligramField('linearity limit').optional().meta({
    title: 'Linearity limit',
    description: 'Plus or minus, all values equally likely; none counts as 0',
    unit: 'mg',
  }),
  calibration: calibration.optional().meta({ title: 'Calibration' }),
  cornerLoad: cornerLoad.optional().meta({ title: 'Corner load' }),
  temperature: temperature.optional().meta({ title: 'Temperature' }),
  buoyancy: buoyancy.optional().meta({ title: 'Buoyancy variation' }),
  levelPercent: numberField('coverage probability', {
    least: 50,
    greatest: 99.99,
    unit: '%',
  }).meta({ title: 'Coverage probability', description: '95.45 gives k = 2', unit: '%' }),
});

export type BalanceUncertaintyInput = z.infer<typeof balanceUncertaintyInput>;

const milligrams = (title: string) => z.number().meta({ title, unit: 'mg' });

export const balanceUncertaintyOutput = z.strictObject({
  standardUncertaintyMilligrams: milligrams('Standard uncertainty of the reading'),
  effectiveDegreesOfFreedom: z.number().nullable().meta({
    title: 'Effective degrees of freedom',
    description: 'None for infinitely many',
  }),
  coverageFactor: z.number().meta({ title: 'Coverage factor' }),
  expandedUncertaintyMilligrams: milligrams('Expanded uncertainty'),
  relativeExpandedUncertaintyPercent: z
    .number()
    .meta({ title: 'Relative expanded uncertainty', unit: '%' }),
  budget: budgetSchema('Budget', 'mg'),
  words: z.string().meta({ title: 'In words' }),
});

export type BalanceUncertaintyOutput = z.infer<typeof balanceUncertaintyOutput>;
