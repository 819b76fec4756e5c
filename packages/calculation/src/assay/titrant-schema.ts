import { z } from 'zod';
import { hasUniqueLabels, labelField, listField, numberField } from './fields.ts';

export const minutesField = () =>
  numberField('a time', 0, 100_000, 'min').meta({
    title: 'Time of the end point',
    description: 'From any start that all of a run share',
    unit: 'min',
  });

export const titreField = (title: string) =>
  numberField('a volume', 0.01, 1000, 'mL').meta({
    title,
    description: 'Titrant to the end point, the blank not taken off',
    unit: 'mL',
  });

const driftModels = ['none', 'straight line', 'bracketing'] as const;

const standard = z.strictObject({
  label: labelField('Label'),
  minutes: minutesField(),
  silverMassMilligrams: numberField('a mass', 0.1, 100_000, 'mg').meta({
    title: 'Silver taken',
    unit: 'mg',
  }),
  volumeMillilitres: titreField('Volume'),
});

/** What a run shares: standards, blank, drift and the uncertainties that act on all. */
export const titrantShape = {
  standards: listField(standard, 'standards', 2, 100)
    .refine(hasUniqueLabels, { error: 'standards with different labels' })
    .meta({ title: 'Standards', description: 'Pure silver titrated before, between and after' }),
  silverFinenessPerMille: numberField('a fineness', 900, 1000, '‰').meta({
    title: 'Fineness of the standard silver',
    unit: '‰',
  }),
  silverStandardUncertaintyPerMille: numberField('a standard uncertainty', 0, 10, '‰').meta({
    title: 'Standard uncertainty of that fineness',
    unit: '‰',
  }),
  blankMillilitres: numberField('a volume', -1, 10, 'mL').meta({
    title: 'Blank',
    description: 'Titrant that the reagents alone take; taken off every volume',
    unit: 'mL',
  }),
  blankStandardUncertaintyMillilitres: numberField('a standard uncertainty', 0, 1, 'mL').meta({
    title: 'Standard uncertainty of the blank',
    unit: 'mL',
  }),
  drift: z.enum(driftModels, { error: `one of ${driftModels.join(', ')}` }).meta({
    title: 'Drift of the factor',
    description:
      'none: one mean for all; straight line: in time, through all standards; bracketing: between the standard before and the one after',
  }),
  weighingStandardUncertaintyMilligrams: numberField('a standard uncertainty', 0, 100, 'mg').meta({
    title: 'Standard uncertainty of one weighing',
    unit: 'mg',
  }),
  volumeStandardUncertaintyMillilitres: numberField('a standard uncertainty', 0, 1, 'mL').meta({
    title: 'Standard uncertainty of one volume',
    description: 'Burette and end point, independent from one titration to the next',
    unit: 'mL',
  }),
  repeatabilityPerMille: numberField('a standard deviation', 0, 100, '‰').optional().meta({
    title: 'Repeatability of one titration',
    description:
      'Relative standard deviation beyond weighing and volume, from earlier runs; none takes the spread of the factors of this run, which holds all three',
    unit: '‰',
  }),
};

const titrantRun = z.strictObject(titrantShape);
export type TitrantRun = z.infer<typeof titrantRun>;
