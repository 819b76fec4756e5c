import { z } from 'zod';
import { measurementList } from './normality-check.ts';

const valueAccepted = 'a value from -1000000000 to 1000000000';
const value = () => z.number(valueAccepted).min(-1e9, valueAccepted).max(1e9, valueAccepted);
const deviationAccepted = 'a standard deviation above 0 and at most 1000000000';
const deviation = () =>
  z.number(deviationAccepted).positive(deviationAccepted).max(1e9, deviationAccepted);
const sizeAccepted = 'a whole number of pieces from 3 to 5000';
const percentAccepted = 'a percentage from 0 to 100';
const maximum = (title: string) =>
  z.number(percentAccepted).min(0, percentAccepted).max(100, percentAccepted).meta({
    title,
    unit: '%',
  });
const constantAccepted = 'a constant from -5 to 10';
const sameUnit = 'In one unit for measurements, deviation and limits';

const sample = z.discriminatedUnion(
  'given',
  [
    z.strictObject({
      given: z.literal('measurements').meta({ title: 'Sample' }),
      measurements: measurementList
        .min(3, 'a list of 3 to 5000 measurements')
        .meta({ title: 'Measurements', description: sameUnit }),
    }),
    z.strictObject({
      given: z.literal('summary').meta({ title: 'Sample' }),
      sampleSizePieces: z
        .int(sizeAccepted)
        .min(3, sizeAccepted)
        .max(5000, sizeAccepted)
        .meta({ title: 'Pieces measured', unit: 'pieces' }),
      mean: value().meta({ title: 'Mean', description: sameUnit }),
      standardDeviation: deviation().meta({
        title: 'Standard deviation of the sample',
        description: 'Divisor n − 1',
      }),
    }),
  ],
  { error: 'the measurements, or their summary' },
);

const criterion = z.discriminatedUnion(
  'form',
  [
    z.strictObject({
      form: z.literal('k').meta({ title: 'Form' }),
      acceptabilityConstant: z
        .number(constantAccepted)
        .min(-5, constantAccepted)
        .max(10, constantAccepted)
        .meta({ title: 'Acceptability constant k', description: 'For one limit only' }),
    }),
    z.strictObject({
      form: z.literal('M').meta({ title: 'Form' }),
      maximumPercent: maximum('Greatest allowable estimate M, of one limit or both together'),
    }),
    z.strictObject({
      form: z.literal('M for each limit').meta({ title: 'Form' }),
      lowerMaximumPercent: maximum('Greatest allowable estimate below the lower limit'),
      upperMaximumPercent: maximum('Greatest allowable estimate above the upper limit'),
    }),
  ],
  { error: 'form k, M, or M for each limit' },
);

export const variablesVerdictInput = z.strictObject({
  sample: sample.meta({ title: 'Sample' }),
  knownStandardDeviation: deviation().optional().meta({
    title: 'Known standard deviation',
    description: 'Of the process, for method sigma; none: method s',
  }),
  lowerLimit: value().optional().meta({ title: 'Lower limit', description: sameUnit }),
  upperLimit: value().optional().meta({ title: 'Upper limit', description: sameUnit }),
  criterion: criterion.meta({ title: 'Criterion' }),
  normality: z.enum(['test', 'shown otherwise'], 'test or shown otherwise').meta({
    title: 'Normal distribution',
    description:
      'Test: contradicting measurements refuse a verdict. Shown otherwise: by many lots of this product; a summary always asks for this',
  }),
});

const optional = (title: string, description: string, unit?: string) =>
  z
    .number()
    .nullable()
    .meta({ title, description, ...(unit === undefined ? {} : { unit }) });
const none = 'None without this limit';

export const variablesVerdictOutput = z.strictObject({
  verdict: z
    .enum(['accept', 'do not accept', 'refused'])
    .meta({ title: 'Verdict', description: 'Refused: normal theory must not be used' }),
  sampleSizePieces: z.int().meta({ title: 'Pieces measured', unit: 'pieces' }),
  mean: z.number().meta({ title: 'Mean' }),
  standardDeviation: z.number().meta({ title: 'Standard deviation used' }),
  lowerQualityIndex: optional('Distance to the lower limit in deviations', none),
  upperQualityIndex: optional('Distance to the upper limit in deviations', none),
  lowerPercent: optional('Estimated below the lower limit', none, '%'),
  upperPercent: optional('Estimated above the upper limit', none, '%'),
  totalPercent: z.number().meta({ title: 'Estimated outside the limits', unit: '%' }),
  normality: z
    .enum(['contradicted', 'not contradicted', 'too few to tell', 'shown otherwise'])
    .meta({ title: 'Normal distribution' }),
  normalityReason: z.string().meta({ title: 'What the measurements say about it' }),
  words: z.string().meta({ title: 'In words' }),
});

export type VariablesVerdictInput = z.infer<typeof variablesVerdictInput>;
export type VariablesVerdictOutput = z.infer<typeof variablesVerdictOutput>;
