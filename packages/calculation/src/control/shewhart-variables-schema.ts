import { z } from 'zod';
import { controlPoint, rulesField, runSignalOutput } from './control-points.ts';
import { runRules } from './run-rules.ts';

const aNumber = 'a finite number';
const mostSubgroups = 20_000;

const reading = z.number(aNumber).meta({ title: 'Reading' });

const subgroups = (greatest: number, description: string) =>
  z
    .array(
      z
        .array(reading, 'a list of readings')
        .min(2, 'at least two readings in a subgroup')
        .max(greatest, `at most ${greatest} readings in a subgroup`)
        .meta({ title: 'Readings of one subgroup' }),
      'a list of subgroups',
    )
    .min(2, 'at least two subgroups')
    .max(mostSubgroups, `at most ${mostSubgroups} subgroups`)
    .meta({ title: 'Subgroups', description });

const aSize = 'a whole number of readings from 2 to 1000';
const aSpread = 'a standard deviation of 0 or more';

const data = z.discriminatedUnion(
  'chart',
  [
    z.strictObject({
      chart: z.literal('mean-range').meta({ title: 'Chart' }),
      subgroups: subgroups(100, 'All of one size, in the order of time'),
    }),
    z.strictObject({
      chart: z.literal('mean-standard-deviation').meta({ title: 'Chart' }),
      subgroups: subgroups(1000, 'Sizes may differ; in the order of time'),
    }),
    z.strictObject({
      chart: z.literal('summaries').meta({ title: 'Chart' }),
      summaries: z
        .array(
          z.strictObject({
            mean: z.number(aNumber).meta({ title: 'Mean' }),
            standardDeviation: z.number(aSpread).min(0, aSpread).meta({
              title: 'Standard deviation',
              description: 'Within the subgroup, divisor n − 1',
            }),
            sizePieces: z.int(aSize).min(2, aSize).max(1000, aSize).meta({ title: 'Readings' }),
          }),
          'a list of summaries',
        )
        .min(2, 'at least two subgroups')
        .max(mostSubgroups, `at most ${mostSubgroups} subgroups`)
        .meta({ title: 'Subgroups by mean and standard deviation' }),
    }),
    z.strictObject({
      chart: z.literal('individuals').meta({ title: 'Chart' }),
      values: z
        .array(reading, 'a list of readings')
        .min(2, 'at least two readings')
        .max(100_000, 'at most 100000 readings')
        .meta({ title: 'Single readings', description: 'In the order of time' }),
    }),
  ],
  'one of mean-range, mean-standard-deviation, summaries, individuals, with its own fields',
);

const aCount = 'a whole number of 2 or more';
const aPosition = 'the number of a subgroup, counted from 1';
const aPositive = 'a number above 0';

const limits = z.discriminatedUnion(
  'from',
  [
    z.strictObject({
      from: z.literal('data').meta({ title: 'Limits from' }),
      phaseOneCount: z.int(aCount).min(2, aCount).optional().meta({
        title: 'Subgroups that set the limits',
        description: 'The first so many; all when left out',
      }),
      excludedNumbers: z
        .array(z.int(aPosition).min(1, aPosition).meta({ title: 'Number' }), 'a list')
        .max(1000, 'at most 1000 numbers')
        .optional()
        .meta({
          title: 'Subgroups left out of the limits',
          description: 'Those with a cause found and removed; they stay on the chart',
        }),
    }),
    z.strictObject({
      from: z.literal('standard').meta({ title: 'Limits from' }),
      mean: z.number(aNumber).meta({ title: 'Standard mean' }),
      standardDeviation: z
        .number(aPositive)
        .positive(aPositive)
        .meta({ title: 'Standard deviation of a single reading' }),
    }),
  ],
  'limits from data or from standard',
);

const aFactor = 'a number from 1 to 6';
const anAlarm = 'a probability above 0 and up to 0.2';

export const shewhartVariablesInput = z.strictObject({
  data,
  limits,
  limitFactor: z.number(aFactor).min(1, aFactor).max(6, aFactor).optional().meta({
    title: 'Limit factor',
    description: 'Limits in standard deviations of what is plotted; 3 when left out',
  }),
  spreadEstimate: z.enum(['mean', 'pooled'], 'mean or pooled').optional().meta({
    title: 'Estimate of the spread from standard deviations',
    description: 'mean of s/c4 (when left out), or pooled: root of the pooled variance',
  }),
  spreadAlarmProbability: z.number(anAlarm).positive(anAlarm).max(0.2, anAlarm).optional().meta({
    title: 'Probability beyond the upper limit of standard deviations',
    description:
      'A one-sided probability limit in place of the limit factor; for charts of standard deviations',
  }),
  rules: rulesField(runRules),
});

export type ShewhartVariablesInput = z.infer<typeof shewhartVariablesInput>;

const factor = (title: string) => z.number().nullable().meta({ title });

export const shewhartVariablesOutput = z.strictObject({
  centreLine: z.number().meta({ title: 'Centre line' }),
  standardDeviation: z.number().meta({ title: 'Standard deviation of a single reading' }),
  phaseOneCount: z
    .int()
    .nullable()
    .meta({ title: 'Subgroups up to which the limits were set; none where they were given' }),
  constants: z
    .strictObject({
      sizePieces: z.int().meta({ title: 'Readings in a subgroup' }),
      c4: factor('c4'),
      d2: factor('d2'),
      d3: factor('d3'),
    })
    .nullable()
    .meta({
      title:
        'Constants of the subgroup size, where all are of one size; d2 and d3 on charts of ranges',
    }),
  location: z.array(controlPoint).meta({ title: 'Means or single readings' }),
  spread: z
    .array(controlPoint)
    .meta({ title: 'Ranges, moving ranges or standard deviations of the subgroups' }),
  locationOutside: z.array(z.int().meta({ title: 'Number' })).meta({
    title: 'Means or readings outside their limits',
  }),
  spreadOutside: z.array(z.int().meta({ title: 'Number' })).meta({
    title: 'Spreads outside their limits',
  }),
  signals: z.array(runSignalOutput).meta({ title: 'Signals of the run rules' }),
  lagOneAutocorrelation: z
    .number()
    .nullable()
    .meta({ title: 'Correlation of neighbouring means or readings' }),
  words: z.string().meta({ title: 'In words' }),
});

export type ShewhartVariablesOutput = z.infer<typeof shewhartVariablesOutput>;
