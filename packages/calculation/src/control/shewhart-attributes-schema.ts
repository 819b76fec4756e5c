import { z } from 'zod';
import { controlPoint, rulesField, runSignalOutput } from './control-points.ts';

/** The rules that need no zones: counts are skew and lie on a few steps, so that zones mislead. */
const attributeRules = ['western-electric-4', 'nelson-2', 'nelson-3', 'nelson-4'] as const;

const mostSubgroups = 20_000;
const aCount = 'a whole number from 0 to 1000000000';
const aSize = 'a whole number of pieces from 1 to 1000000000';
const greatestCount = 1_000_000_000;

const count = (title: string) =>
  z.int(aCount).min(0, aCount).max(greatestCount, aCount).meta({ title });
const size = z
  .int(aSize)
  .min(1, aSize)
  .max(greatestCount, aSize)
  .meta({ title: 'Pieces examined', unit: 'pieces' });

const list = <Item extends z.ZodType>(item: Item, title: string, description: string) =>
  z
    .array(item, 'a list')
    .min(2, 'at least two samples')
    .max(mostSubgroups, `at most ${mostSubgroups} samples`)
    .meta({ title, description });

const anArea = 'a number of units above 0';

const data = z.discriminatedUnion(
  'chart',
  [
    z.strictObject({
      chart: z.literal('p').meta({ title: 'Chart' }),
      samples: list(
        z.strictObject({ nonconformingPieces: count('Nonconforming pieces'), sizePieces: size }),
        'Samples',
        'Fraction nonconforming; sizes may differ',
      ),
    }),
    z.strictObject({
      chart: z.literal('np').meta({ title: 'Chart' }),
      sizePieces: size,
      nonconformingPieces: list(
        count('Nonconforming pieces'),
        'Nonconforming pieces',
        'Number nonconforming in samples of one size',
      ),
    }),
    z.strictObject({
      chart: z.literal('c').meta({ title: 'Chart' }),
      nonconformities: list(
        count('Nonconformities'),
        'Nonconformities',
        'Faults found in equal areas, times or numbers of pieces',
      ),
    }),
    z.strictObject({
      chart: z.literal('u').meta({ title: 'Chart' }),
      samples: list(
        z.strictObject({
          nonconformities: count('Nonconformities'),
          sizeUnits: z
            .number(anArea)
            .positive(anArea)
            .meta({ title: 'Units examined', description: 'Pieces, areas or hours' }),
        }),
        'Samples',
        'Faults for each unit; sizes may differ',
      ),
    }),
  ],
  'one of p, np, c, u, with its own fields',
);

const aPhase = 'a whole number of 2 or more';
const aStandard = 'a number of 0 or more; below 1 for a fraction';

const limits = z.discriminatedUnion(
  'from',
  [
    z.strictObject({
      from: z.literal('data').meta({ title: 'Limits from' }),
      phaseOneCount: z.int(aPhase).min(2, aPhase).optional().meta({
        title: 'Samples that set the limits',
        description: 'The first so many; all when left out',
      }),
    }),
    z.strictObject({
      from: z.literal('standard').meta({ title: 'Limits from' }),
      rate: z.number(aStandard).min(0, aStandard).meta({
        title: 'Standard',
        description:
          'Fraction nonconforming (p, np), mean nonconformities of a sample (c) or of a unit (u)',
      }),
    }),
  ],
  'limits from data or from standard',
);

const aFactor = 'a number from 1 to 6';
const anAlarm = 'a probability from 0.000001 to 0.2';

const kindOfLimits = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({
      kind: z.literal('sigma').meta({ title: 'Kind of limits' }),
      limitFactor: z
        .number(aFactor)
        .min(1, aFactor)
        .max(6, aFactor)
        .meta({ title: 'Limit factor', description: 'Standard deviations; commonly 3' }),
    }),
    z.strictObject({
      kind: z.literal('probability').meta({ title: 'Kind of limits' }),
      falseAlarmProbability: z.number(anAlarm).min(1e-6, anAlarm).max(0.2, anAlarm).meta({
        title: 'Probability outside',
        description: 'At most, half of it on each side; 0.0027 is that of three sigma',
      }),
    }),
  ],
  'limits of kind sigma or probability',
);

export const shewhartAttributesInput = z.strictObject({
  data,
  limits,
  limitKind: kindOfLimits,
  rules: rulesField(attributeRules),
});

export type ShewhartAttributesInput = z.infer<typeof shewhartAttributesInput>;

export const shewhartAttributesOutput = z.strictObject({
  centreLine: z.number().meta({ title: 'Centre line' }),
  phaseOneCount: z
    .int()
    .nullable()
    .meta({ title: 'Samples up to which the limits were set; none where they were given' }),
  points: z.array(controlPoint).meta({ title: 'Plotted values' }),
  outside: z
    .array(z.int().meta({ title: 'Number' }))
    .meta({ title: 'Samples outside their limits' }),
  greatestFalseAlarmProbability: z
    .number()
    .meta({ title: 'Exact probability outside while in control, the greatest of all samples' }),
  lowerLimitWatches: z.boolean().meta({ title: 'A sample could fall below its lower limit' }),
  dispersionRatio: z.number().meta({
    title: 'Observed spread of the counts over that of their distribution, squared',
  }),
  signals: z.array(runSignalOutput).meta({ title: 'Signals of the run rules' }),
  words: z.string().meta({ title: 'In words' }),
});

export type ShewhartAttributesOutput = z.infer<typeof shewhartAttributesOutput>;
