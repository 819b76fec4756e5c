import { z } from 'zod';
import { plottedValues } from './control-points.ts';

const aNumber = 'a finite number';
const aPositive = 'a number above 0';
const aReference = 'a number from 0 to 10 standard deviations';
const anInterval = 'a number above 0 and up to 60 standard deviations';
const aHeadstart = 'a number from 0 up to the decision interval';

export const cusumInput = z.strictObject({
  values: plottedValues,
  target: z.number(aNumber).meta({ title: 'Target' }),
  standardDeviation: z.number(aPositive).positive(aPositive).meta({
    title: 'Standard deviation of a plotted value',
    description: 'That of a reading divided by the root of the subgroup size',
  }),
  referenceValue: z
    .number(aReference)
    .min(0, aReference)
    .max(10, aReference)
    .meta({ title: 'Reference value k', description: 'Half of the shift to be found, often 0.5' }),
  decisionInterval: z
    .number(anInterval)
    .positive(anInterval)
    .max(60, anInterval)
    .meta({ title: 'Decision interval h', description: 'Signal beyond it, often 4 or 5' }),
  headstart: z.number(aHeadstart).min(0, aHeadstart).max(60, aHeadstart).meta({
    title: 'Headstart',
    description: 'Where both sums start; half of h answers faster after a start, 0 is usual',
  }),
});

export type CusumInput = z.infer<typeof cusumInput>;

const sides = ['high', 'low'] as const;

export const cusumOutput = z.strictObject({
  points: z
    .array(
      z.strictObject({
        number: z.int().meta({ title: 'Number of the value' }),
        upperSum: z.number().meta({ title: 'Upper sum', unit: 'standard deviations' }),
        lowerSum: z.number().meta({ title: 'Lower sum', unit: 'standard deviations' }),
        cumulativeSum: z.number().meta({ title: 'Sum of all deviations from the target' }),
      }),
    )
    .meta({ title: 'Sums after each value' }),
  signals: z
    .array(
      z.strictObject({
        side: z.enum(sides).meta({ title: 'Side' }),
        firstNumber: z.int().meta({ title: 'First value that signals' }),
        lastNumber: z.int().meta({ title: 'Last value that signals without a break' }),
        changePoint: z.int().meta({ title: 'First value after the estimated change' }),
        estimatedMean: z.number().meta({ title: 'Estimated mean since the change' }),
      }),
    )
    .meta({ title: 'Signals' }),
  mask: z
    .strictObject({
      leadDistanceValues: z.number().meta({
        title: 'Lead of the vertex before the last value',
        unit: 'values',
      }),
      slopePerValue: z.number().meta({ title: 'Slope of the arms, in the unit of the values' }),
      halfWidthAtLastValue: z.number().meta({
        title: 'Half width of the mask at the last value, in the unit of the values',
      }),
    })
    .nullable()
    .meta({ title: 'V-mask that signals the same; none with a headstart or k = 0' }),
  inControlAverageRunLength: z
    .number()
    .nullable()
    .meta({ title: 'Average run length in control; none above 10^12', unit: 'values' }),
  words: z.string().meta({ title: 'In words' }),
});

export type CusumOutput = z.infer<typeof cusumOutput>;
