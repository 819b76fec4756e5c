import { z } from 'zod';
import { controlPoint, plottedValues } from './control-points.ts';

const aNumber = 'a finite number';
const aPositive = 'a number above 0';
const aSmoothing = 'a number from 0.005 to 1';
const aFactor = 'a number above 0 and up to 6';

export const ewmaInput = z.strictObject({
  values: plottedValues,
  target: z.number(aNumber).meta({ title: 'Target', description: 'Where the average starts' }),
  standardDeviation: z.number(aPositive).positive(aPositive).meta({
    title: 'Standard deviation of a plotted value',
    description: 'That of a reading divided by the root of the subgroup size',
  }),
  smoothing: z
    .number(aSmoothing)
    .min(0.005, aSmoothing)
    .max(1, aSmoothing)
    .meta({ title: 'Smoothing λ', description: 'Weight of the newest value, often 0.2' }),
  limitFactor: z
    .number(aFactor)
    .positive(aFactor)
    .max(6, aFactor)
    .meta({ title: 'Limit factor L', description: 'Standard deviations of the average' }),
  limits: z.enum(['exact', 'asymptotic'], 'exact or asymptotic').meta({
    title: 'Limits',
    description:
      'exact: narrow at the start, where the average is still certain; or of the long run',
  }),
});

export type EwmaInput = z.infer<typeof ewmaInput>;

export const ewmaOutput = z.strictObject({
  points: z.array(controlPoint).meta({ title: 'Averages after each value' }),
  asymptoticLowerLimit: z.number().meta({ title: 'Lower limit in the long run' }),
  asymptoticUpperLimit: z.number().meta({ title: 'Upper limit in the long run' }),
  outside: z
    .array(z.int().meta({ title: 'Number' }))
    .meta({ title: 'Values at which the average is outside its limits' }),
  latestAverage: z.number().meta({ title: 'Average after the last value' }),
  inControlAverageRunLength: z.number().nullable().meta({
    title: 'Average run length in control, limits of the long run; none above 10^12',
    unit: 'values',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type EwmaOutput = z.infer<typeof ewmaOutput>;
