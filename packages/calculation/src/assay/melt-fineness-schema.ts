import { z } from 'zod';
import { labelField, listField, numberField, outputNumber, wordsField } from './fields.ts';

const part = (title: string, description: string) =>
  numberField('a standard uncertainty', 0, 1000, '‰').meta({ title, description, unit: '‰' });

export const meltFinenessInput = z.strictObject({
  statistic: z
    .enum(['mean', 'median of four', 'median of all'], {
      error: 'mean, median of four or median of all',
    })
    .meta({
      title: 'Statistic',
      description: 'How the result is made of the determinations',
    }),
  ownPart: z
    .enum(['as stated', 'from replicates'], { error: 'as stated or from replicates' })
    .meta({
      title: 'Spread within a blank',
      description:
        'as stated: the own parts given; from replicates: the spread of several portions of one blank, which the analysis of variance takes apart from that between blanks',
    }),
  determinations: listField(
    z.strictObject({
      run: labelField('Run'),
      label: labelField('Label'),
      blank: labelField('Blank', 'That the portion was cut from'),
      finenessPerMille: numberField('a fineness', 0, 1100, '‰').meta({
        title: 'Fineness',
        unit: '‰',
      }),
      ownStandardUncertaintyPerMille: part(
        'Own part',
        'Independent from one determination to the next',
      ),
      runStandardUncertaintyPerMille: part(
        "Run's part",
        'Shared by the determinations of one run, as the proof correction is',
      ),
      methodStandardUncertaintyPerMille: part(
        "Method's part",
        'Shared by all determinations, as the fineness of the proof gold is',
      ),
    }),
    'determinations',
    2,
    200,
  ).meta({ title: 'Determinations', description: 'Of at least two blanks' }),
});

export type MeltFinenessInput = z.infer<typeof meltFinenessInput>;

const perMille = (title: string, description?: string) => outputNumber(title, '‰', description);

export const meltFinenessOutput = z.strictObject({
  finenessPerMille: perMille('Fineness of the melt'),
  standardUncertaintyPerMille: perMille('Standard uncertainty'),
  effectiveDegreesOfFreedom: z.number().nullable().meta({
    title: 'Effective degrees of freedom',
    description: 'None where nothing was estimated from the spread of this melt',
  }),
  spreadStandardDeviationPerMille: perMille('Spread of the determinations'),
  withinBlanksStandardDeviationPerMille: perMille('Standard deviation within a blank'),
  betweenBlanksStandardDeviationPerMille: perMille(
    'Standard deviation between blanks',
    'What the spread shows beyond that within; 0 where it shows nothing',
  ),
  betweenBlanksProbability: z.number().nullable().meta({
    title: 'Probability of so much spread between blanks by chance',
    description: 'None where the spread within was not estimated',
  }),
  blanks: z
    .array(
      z.strictObject({
        blank: z.string().meta({ title: 'Blank' }),
        determinations: z.int().meta({ title: 'Determinations' }),
        meanFinenessPerMille: perMille('Mean fineness'),
      }),
    )
    .meta({ title: 'Blanks' }),
  budget: z
    .array(
      z.strictObject({
        contribution: z.string().meta({ title: 'Contribution' }),
        standardUncertaintyPerMille: perMille('Standard uncertainty'),
        sharePercent: outputNumber('Share of the variance', '%'),
      }),
    )
    .meta({ title: 'Budget' }),
  words: wordsField(),
});

export type MeltFinenessOutput = z.infer<typeof meltFinenessOutput>;
