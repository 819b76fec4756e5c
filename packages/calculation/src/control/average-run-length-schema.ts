import { z } from 'zod';
import { runRules } from './run-rules.ts';

const sides = z.enum(['one', 'two'], 'one or two').meta({
  title: 'Sides',
  description: 'one: only shifts upwards are looked for; two: shifts both ways',
});
const aSmoothing = 'a number from 0.005 to 1';
const aReference = 'a number from 0 to 10 standard deviations';
const aFraction = 'a number from 0 to 1';
const chartKinds = 'one of shewhart, cusum, ewma, with its own fields';

const chart = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({
      kind: z.literal('shewhart').meta({ title: 'Kind of chart' }),
      sides,
      rules: z
        .array(z.enum(runRules, `one of ${runRules.join(', ')}`).meta({ title: 'Rule' }), 'a list')
        .max(runRules.length, 'each rule once')
        .meta({
          title: 'Run rules',
          description: 'Beside the limits; rules of trend and zigzag have no exact run length here',
        }),
    }),
    z.strictObject({
      kind: z.literal('cusum').meta({ title: 'Kind of chart' }),
      sides,
      referenceValue: z.number(aReference).min(0, aReference).max(10, aReference).meta({
        title: 'Reference value k',
        description: 'Half of the shift to be found, in standard deviations of a plotted value',
      }),
      headstartFraction: z.number(aFraction).min(0, aFraction).max(1, aFraction).meta({
        title: 'Headstart',
        description: 'Where the sums start, as a fraction of the decision interval; often 0.5',
      }),
    }),
    z.strictObject({
      kind: z.literal('ewma').meta({ title: 'Kind of chart' }),
      sides,
      smoothing: z
        .number(aSmoothing)
        .min(0.005, aSmoothing)
        .max(1, aSmoothing)
        .meta({ title: 'Smoothing λ', description: 'Weight of the newest value' }),
    }),
  ],
  chartKinds,
);

const aLimit = 'a number above 0 and up to 60 standard deviations';
const aRunLength = 'a number from 2 to 10000000 plotted values';

const limit = z.discriminatedUnion(
  'by',
  [
    z.strictObject({
      by: z.literal('value').meta({ title: 'Limit given by' }),
      value: z.number(aLimit).positive(aLimit).max(60, aLimit).meta({
        title: 'Limit',
        description:
          'Decision interval h of a cumulative sum; else the limits in standard deviations of what is plotted, up to 6',
      }),
    }),
    z.strictObject({
      by: z.literal('in-control-run-length').meta({ title: 'Limit given by' }),
      runLength: z.number(aRunLength).min(2, aRunLength).max(1e7, aRunLength).meta({
        title: 'Average run length in control',
        description: 'Plotted values between false alarms',
        unit: 'values',
      }),
    }),
  ],
  'a limit by value or by in-control-run-length',
);

const aShift = 'a shift from -10 to 10 standard deviations';

export const averageRunLengthInput = z.strictObject({
  chart,
  limit,
  startingState: z.enum(['zero', 'steady'], 'zero or steady').meta({
    title: 'Starting state',
    description: 'zero: the chart starts with the shift; steady: it has run long before it',
  }),
  shifts: z
    .array(
      z
        .number(aShift)
        .min(-10, aShift)
        .max(10, aShift)
        .meta({ title: 'Shift', unit: 'standard deviations' }),
      'a list of shifts',
    )
    .min(1, 'at least one shift')
    .max(40, 'at most 40 shifts')
    .meta({
      title: 'Shifts',
      description: 'Of the mean, in standard deviations of a plotted value; 0 is in control',
    }),
});

export type AverageRunLengthInput = z.infer<typeof averageRunLengthInput>;

export const averageRunLengthOutput = z.strictObject({
  limit: z.number().meta({ title: 'Limit, in standard deviations of what is plotted' }),
  inControlAverageRunLength: z
    .number()
    .meta({ title: 'Average run length in control', unit: 'values' }),
  inControlByMarkovChain: z.number().nullable().meta({
    title: 'The same by a Markov chain, for a chart with a memory that starts with the shift',
    unit: 'values',
  }),
  runLengths: z
    .array(
      z.strictObject({
        shift: z.number().meta({ title: 'Shift', unit: 'standard deviations' }),
        averageRunLength: z.number().meta({ title: 'Average run length', unit: 'values' }),
      }),
    )
    .meta({ title: 'Average run lengths' }),
  words: z.string().meta({ title: 'In words' }),
});

export type AverageRunLengthOutput = z.infer<typeof averageRunLengthOutput>;
