import { z } from 'zod';
import { hasUniqueLabels, labelField, listField, numberField } from './fields.ts';
import { titrantShape, titreField } from './titrant-schema.ts';
import { titrationOutput } from './titration-schema.ts';

const sample = z.strictObject({
  label: labelField('Label'),
  sampleMassMilligrams: numberField('a mass', 0.1, 100_000, 'mg').meta({
    title: 'Sample',
    unit: 'mg',
  }),
  volumeMillilitres: titreField('Volume'),
});

const degreesForm = 'degrees of freedom from 1 to 1000, or none';

export const titrationByFactorInput = z.strictObject({
  factorMilligramsPerMillilitre: numberField('a factor', 0.01, 1000, 'mg/mL').meta({
    title: 'Factor of the titrant',
    description: 'Silver that a millilitre answers for, as it was determined',
    unit: 'mg/mL',
  }),
  factorStandardUncertaintyMilligramsPerMillilitre: numberField(
    'a standard uncertainty',
    0,
    10,
    'mg/mL',
  ).meta({
    title: 'Standard uncertainty of the factor',
    description: 'As it was determined; one error for all portions and all runs by that factor',
    unit: 'mg/mL',
  }),
  factorDegreesOfFreedom: z
    .number({ error: degreesForm })
    .min(1, { error: degreesForm })
    .max(1000, { error: degreesForm })
    .nullable()
    .meta({
      title: 'Degrees of freedom of the factor',
      description: 'None where its repeatability was stated',
    }),
  blankMillilitres: titrantShape.blankMillilitres,
  blankStandardUncertaintyMillilitres: titrantShape.blankStandardUncertaintyMillilitres,
  weighingStandardUncertaintyMilligrams: titrantShape.weighingStandardUncertaintyMilligrams,
  volumeStandardUncertaintyMillilitres: titrantShape.volumeStandardUncertaintyMillilitres,
  repeatabilityPerMille: numberField('a standard deviation', 0, 100, '‰').meta({
    title: 'Repeatability of one titration',
    description: 'Relative standard deviation beyond weighing and volume, from earlier runs',
    unit: '‰',
  }),
  samples: listField(sample, 'samples', 1, 100)
    .refine(hasUniqueLabels, { error: 'samples with different labels' })
    .meta({ title: 'Samples', description: 'Portions of one melt' }),
});

export type TitrationByFactorInput = z.infer<typeof titrationByFactorInput>;

/** The same figures as where standards stand in the run itself. */
export const titrationByFactorOutput = titrationOutput;

export type TitrationByFactorOutput = z.infer<typeof titrationByFactorOutput>;
