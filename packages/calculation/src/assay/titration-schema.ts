import { z } from 'zod';
import {
  hasUniqueLabels,
  labelField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';
import { minutesField, titrantShape, titreField } from './titrant-schema.ts';

const sample = z.strictObject({
  label: labelField('Label'),
  minutes: minutesField(),
  sampleMassMilligrams: numberField('a mass', 0.1, 100_000, 'mg').meta({
    title: 'Sample',
    unit: 'mg',
  }),
  volumeMillilitres: titreField('Volume'),
});

export const titrationInput = z.strictObject({
  ...titrantShape,
  samples: listField(sample, 'samples', 1, 100)
    .refine(hasUniqueLabels, { error: 'samples with different labels' })
    .meta({ title: 'Samples', description: 'Portions of one melt' }),
});

export type TitrationInput = z.infer<typeof titrationInput>;

const perMille = (title: string, description?: string) => outputNumber(title, '‰', description);

export const titrationOutput = z.strictObject({
  determinations: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Label' }),
        factorMilligramsPerMillilitre: outputNumber('Factor at its time', 'mg/mL'),
        silverMilligrams: outputNumber('Silver found', 'mg'),
        finenessPerMille: perMille('Fineness'),
        ownStandardUncertaintyPerMille: perMille(
          'Own part',
          'Independent from one determination to the next',
        ),
        sharedStandardUncertaintyPerMille: perMille(
          'Shared part',
          'Factor and blank; one error for all determinations of the run',
        ),
        standardUncertaintyPerMille: perMille('Standard uncertainty'),
      }),
    )
    .meta({ title: 'Determinations' }),
  meanFinenessPerMille: perMille('Mean fineness'),
  standardUncertaintyPerMille: perMille('Standard uncertainty of the mean'),
  effectiveDegreesOfFreedom: z.number().nullable().meta({
    title: 'Effective degrees of freedom',
    description: 'None where the repeatability was stated',
  }),
  budget: z
    .array(
      z.strictObject({
        contribution: z.string().meta({ title: 'Contribution' }),
        isShared: z.boolean().meta({ title: 'Shared by all samples' }),
        standardUncertaintyPerMille: perMille('Standard uncertainty'),
        sharePercent: outputNumber('Share of the variance', '%'),
      }),
    )
    .meta({ title: 'Budget of the mean' }),
  scope: z.enum(['inside', 'outside']).meta({
    title: 'Scope of the method',
    description: 'Inside from 100 ‰ to 999 ‰',
  }),
  words: wordsField(),
});

export type TitrationOutput = z.infer<typeof titrationOutput>;
