import { z } from 'zod';

const aNumber = 'a finite number';
const aPositive = 'a number above 0';
const aCount = 'a whole number of 2 or more';
const reading = z.number(aNumber).meta({ title: 'Reading' });

const data = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({
      kind: z.literal('subgroups').meta({ title: 'Data' }),
      subgroups: z
        .array(
          z
            .array(reading, 'a list of readings')
            .min(2, 'at least two readings in a subgroup')
            .max(1000, 'at most 1000 readings in a subgroup')
            .meta({ title: 'Readings of one subgroup' }),
          'a list of subgroups',
        )
        .min(2, 'at least two subgroups')
        .max(20_000, 'at most 20000 subgroups')
        .meta({
          title: 'Subgroups',
          description: 'Taken close together in time; sizes may differ',
        }),
    }),
    z.strictObject({
      kind: z.literal('individuals').meta({ title: 'Data' }),
      values: z
        .array(reading, 'a list of readings')
        .min(3, 'at least three readings')
        .max(1_000_000, 'at most 1000000 readings')
        .meta({ title: 'Single readings', description: 'In the order of time' }),
    }),
    z.strictObject({
      kind: z.literal('summary').meta({ title: 'Data' }),
      mean: z.number(aNumber).meta({ title: 'Mean' }),
      standardDeviation: z
        .number(aPositive)
        .positive(aPositive)
        .meta({ title: 'Standard deviation', description: 'Of all readings, divisor n − 1' }),
      countPieces: z.int(aCount).min(2, aCount).meta({ title: 'Readings' }),
    }),
    z.strictObject({
      kind: z.literal('percentiles').meta({ title: 'Data' }),
      lowPoint: z.number(aNumber).meta({
        title: 'Point with 0.135 % below',
        description: 'Of a fitted distribution, or of many readings',
      }),
      median: z.number(aNumber).meta({ title: 'Median' }),
      highPoint: z.number(aNumber).meta({ title: 'Point with 99.865 % below' }),
    }),
  ],
  'one of subgroups, individuals, summary, percentiles, with its own fields',
);

const aConfidence = 'a number from 0.5 to 0.999';

export const capabilityInput = z.strictObject({
  data,
  method: z.enum(['normal', 'percentile'], 'normal or percentile').meta({
    title: 'Method',
    description:
      'normal: mean and standard deviation, refused where the readings cannot be normal; percentile: for any shape',
  }),
  lowerLimit: z.number(aNumber).optional().meta({ title: 'Lower limit' }),
  upperLimit: z.number(aNumber).optional().meta({ title: 'Upper limit' }),
  target: z.number(aNumber).optional().meta({ title: 'Target', description: 'For Cpm' }),
  confidence: z
    .number(aConfidence)
    .min(0.5, aConfidence)
    .max(0.999, aConfidence)
    .meta({ title: 'Confidence of the intervals' }),
});

export type CapabilityInput = z.infer<typeof capabilityInput>;

const bound = (title: string) => z.number().nullable().meta({ title });

const index = z.strictObject({
  value: z.number().meta({ title: 'Value' }),
  lowerBound: bound('Lower bound, two-sided'),
  upperBound: bound('Upper bound, two-sided'),
  leastAtConfidence: bound('Lower bound, one-sided'),
});

const indices = z.strictObject({
  standardDeviation: z.number().nullable().meta({ title: 'Standard deviation' }),
  degreesOfFreedom: z.number().nullable().meta({ title: 'Degrees of freedom' }),
  potential: index.nullable().meta({ title: 'Potential, Cp or Pp; none with one limit' }),
  toLowerLimit: index.nullable().meta({ title: 'To the lower limit' }),
  toUpperLimit: index.nullable().meta({ title: 'To the upper limit' }),
  actual: index.meta({ title: 'Actual, Cpk or Ppk' }),
  expectedOutsidePartsPerMillion: z
    .number()
    .nullable()
    .meta({ title: 'Expected outside the limits by normal theory', unit: 'per million' }),
});

export const capabilityOutput = z.strictObject({
  countPieces: z.int().nullable().meta({ title: 'Readings' }),
  middle: z.number().meta({ title: 'Mean, or median by percentiles' }),
  within: indices.nullable().meta({ title: 'Within subgroups or between neighbours: Cp, Cpk' }),
  overall: indices.meta({ title: 'Over all readings: Pp, Ppk' }),
  aboutTarget: index.nullable().meta({ title: 'About the target, Cpm' }),
  normality: z
    .strictObject({
      statistic: z.number().meta({ title: 'Anderson–Darling statistic' }),
      probability: z.number().meta({ title: 'Probability for normal readings' }),
    })
    .nullable()
    .meta({ title: 'Test of normality; none where there are no readings' }),
  observedOutsidePieces: z
    .int()
    .nullable()
    .meta({ title: 'Readings outside the limits', unit: 'pieces' }),
  words: z.string().meta({ title: 'In words' }),
});

export type CapabilityOutput = z.infer<typeof capabilityOutput>;
