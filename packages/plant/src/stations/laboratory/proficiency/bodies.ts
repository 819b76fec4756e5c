import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { daySchema, idSchema, reasonSchema, titleSchema } from '../../registers/index.ts';

const calculated = calculatedSchema as unknown as z.ZodType<Calculated>;

const valueForm = 'a number from -1000000000000 to 1000000000000';
const value = (title: string) =>
  z.number(valueForm).min(-1e12, valueForm).max(1e12, valueForm).meta({ title });
const positiveForm = 'a number above 0';
const positive = (title: string) =>
  z.number(positiveForm).positive(positiveForm).max(1e12, positiveForm).meta({ title });
const coverageForm = 'a coverage factor from 1 to 10, usually 2';

const stated = z.strictObject({
  expanded: positive('Expanded uncertainty'),
  coverageFactor: z
    .number(coverageForm)
    .min(1, coverageForm)
    .max(10, coverageForm)
    .meta({ title: 'Coverage factor' }),
});

const robustMethods = ['algorithm-a', 'q-hampel'] as const;
const robust = z.strictObject({
  kind: z.literal('robust'),
  method: z
    .enum(robustMethods, `one of ${robustMethods.join(', ')}`)
    .meta({ title: 'Robust method' }),
});

const unitForm = 'a unit of 1 to 20 characters';

/** What a round of a comparison of laboratories says, before it is judged. */
export const roundShape = {
  round: idSchema.meta({ title: 'Round', description: 'A name that no round has had.' }),
  scheme: titleSchema.meta({ title: 'Scheme', description: 'Who organises the comparison.' }),
  item: titleSchema.meta({ title: 'Item', description: 'The material that was sent round.' }),
  characteristic: titleSchema.meta({
    title: 'Characteristic',
    description: 'What was determined; rounds of the same are one history.',
  }),
  unit: z
    .string(unitForm)
    .min(1, unitForm)
    .max(20, unitForm)
    .refine((text) => text.trim() !== '', { error: unitForm })
    .meta({ title: 'Unit', description: 'Of every figure here.' }),
  day: daySchema.meta({ title: 'Day', description: 'Of the report of the round.' }),
  assigned: z
    .discriminatedUnion(
      'kind',
      [
        z.strictObject({
          kind: z.literal('given'),
          value: value('Assigned value'),
          ...stated.shape,
        }),
        robust,
      ],
      { error: 'given, or robust' },
    )
    .meta({ title: 'Assigned value' }),
  assessment: z
    .discriminatedUnion(
      'kind',
      [
        z.strictObject({
          kind: z.literal('given'),
          standardDeviation: positive('Standard deviation for assessment'),
        }),
        robust,
      ],
      { error: 'given, or robust' },
    )
    .meta({ title: 'Standard deviation for assessment' }),
  own: z
    .strictObject({ value: value('Own result'), uncertainty: stated.nullable() })
    .meta({ title: 'Own result' }),
  others: z
    .array(
      z.strictObject({
        name: titleSchema.meta({ title: 'Participant' }),
        value: value('Result'),
        uncertainty: stated.nullable(),
      }),
      'a list of results',
    )
    .max(500, 'at most 500 results')
    .refine((all) => new Set(all.map(({ name }) => name)).size === all.length, {
      error: 'each participant once',
    })
    .meta({ title: 'Other participants', description: 'As far as the report names them.' }),
};

/** How a round was judged. */
const roundVerdicts = ['satisfactory', 'questionable', 'unsatisfactory'] as const;

export const proficiencyRoundRecorded = z.strictObject({
  ...roundShape,
  scores: calculated,
  z: z.number(),
  zPrime: z.number(),
  zeta: z.number().nullable(),
  en: z.number().nullable(),
  /** By z, or by z′ where the assigned value is not certain enough. */
  verdict: z.enum(roundVerdicts),
  /** The score by which the round stands in the history: z, or z′. */
  score: z.number(),
  isEnSatisfactory: z.boolean().nullable(),
});

export const proficiencyRoundAnswered = z.strictObject({
  round: idSchema,
  finding: z.string(),
  reason: reasonSchema,
  signals: z.array(z.string()).min(1),
});

/** What can be found when the signal of a round is looked into. */
export const roundFindings = ['no cause found', 'cause removed', 'not ours'] as const;

export type ProficiencyRoundRecordedBody = z.infer<typeof proficiencyRoundRecorded>;
export type ProficiencyRoundAnsweredBody = z.infer<typeof proficiencyRoundAnswered>;
