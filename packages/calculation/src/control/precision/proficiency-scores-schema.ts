import { z } from 'zod';
import {
  nameField,
  nullableField,
  positiveField,
  readingField,
  resultField,
  unitField,
  wordsField,
} from './precision-fields.ts';

const participantsWords = '2 to 2000 participants';
const coverageWords = 'a coverage factor from 1 to 10, usually 2';
const kindWords = 'given, or robust';
const robustWords = 'one of algorithm-a, q-hampel';

const coverage = z
  .number({ error: coverageWords })
  .min(1, coverageWords)
  .max(10, coverageWords)
  .meta({ title: 'Coverage factor' });

const method = z.enum(['algorithm-a', 'q-hampel'], robustWords).meta({
  title: 'Robust method',
  description: 'Algorithm A stands about a fifth of gross results, Q with Hampel about a half',
});

export const proficiencyScoresInput = z.strictObject({
  characteristic: nameField('Characteristic'),
  unit: unitField,
  participants: z
    .array(
      z.strictObject({
        name: nameField('Participant'),
        value: readingField('Result'),
        uncertainty: z
          .strictObject({
            expanded: positiveField('Expanded uncertainty'),
            coverageFactor: coverage,
          })
          .optional()
          .meta({ title: 'Uncertainty stated', description: 'Needed for zeta and En' }),
      }),
      { error: participantsWords },
    )
    .min(2, participantsWords)
    .max(2000, participantsWords)
    .meta({ title: 'Participants' }),
  assignedValue: z
    .discriminatedUnion(
      'kind',
      [
        z.strictObject({
          kind: z.literal('given').meta({ title: 'Known beforehand' }),
          value: readingField('Assigned value'),
          expandedUncertainty: positiveField('Its expanded uncertainty'),
          coverageFactor: coverage,
        }),
        z.strictObject({
          kind: z.literal('robust').meta({ title: 'From the results' }),
          method,
        }),
      ],
      { error: kindWords },
    )
    .meta({ title: 'Assigned value' }),
  assessment: z
    .discriminatedUnion(
      'kind',
      [
        z.strictObject({
          kind: z.literal('given').meta({ title: 'Set beforehand' }),
          standardDeviation: positiveField('Standard deviation for assessment'),
        }),
        z.strictObject({
          kind: z.literal('robust').meta({ title: 'From the results' }),
          method,
        }),
      ],
      { error: kindWords },
    )
    .meta({ title: 'Standard deviation for assessment' }),
});

const verdict = z.enum(['satisfactory', 'questionable', 'unsatisfactory']);

export const proficiencyScoresOutput = z.strictObject({
  participantCount: z.int().meta({ title: 'Participants' }),
  assignedValue: resultField('Assigned value'),
  assignedStandardUncertainty: resultField('Its standard uncertainty'),
  assessmentStandardDeviation: resultField('Standard deviation for assessment'),
  robustMean: resultField('Robust mean of the results'),
  robustStandardDeviation: resultField('Robust standard deviation of the results'),
  median: resultField('Median of the results'),
  greatestUncertainty: resultField(
    'Greatest uncertainty that may be neglected',
    '0.3 of the standard deviation for assessment, in the stated unit',
  ),
  isUncertaintyNegligible: z
    .boolean()
    .meta({ title: 'Assigned value certain enough for z', description: 'Otherwise z′ decides' }),
  participants: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'Participant' }),
        value: resultField('Result'),
        deviation: resultField('Deviation from the assigned value'),
        z: resultField('z', 'Deviation over the standard deviation for assessment'),
        zPrime: resultField('z′', 'With the uncertainty of the assigned value'),
        zeta: nullableField('zeta', 'Over both standard uncertainties; none without one stated'),
        en: nullableField('En', 'Over both expanded uncertainties; none without one stated'),
        verdict: verdict.meta({
          title: 'Verdict',
          description: 'By z, or by z′ where the assigned value is uncertain: 2 and 3',
        }),
        zetaVerdict: verdict.nullable().meta({ title: 'Verdict by zeta' }),
        isEnSatisfactory: z.boolean().nullable().meta({ title: 'En within 1' }),
        words: wordsField,
      }),
    )
    .meta({ title: 'Participants' }),
  questionableCount: z.int().meta({ title: 'Questionable' }),
  unsatisfactoryCount: z.int().meta({ title: 'Unsatisfactory' }),
  words: wordsField,
});

export type ProficiencyScoresInput = z.infer<typeof proficiencyScoresInput>;
export type ProficiencyScoresOutput = z.infer<typeof proficiencyScoresOutput>;
