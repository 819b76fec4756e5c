import { z } from 'zod';
import {
  hasUniqueLabels,
  integerField,
  labelField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';
import { interpolations } from './muffle-position.ts';

const position = {
  row: integerField('a row', 1, 50).meta({ title: 'Row', description: 'From the door inwards' }),
  column: integerField('a column', 1, 50).meta({ title: 'Column', description: 'From the left' }),
};
const mass = (title: string, description?: string) =>
  numberField('a mass', 0.001, 100_000, 'mg').meta({
    title,
    unit: 'mg',
    ...(description === undefined ? {} : { description }),
  });

const proof = z.strictObject({
  label: labelField('Label'),
  ...position,
  goldTakenMilligrams: mass('Gold taken', 'Fine gold weighed in for the proof'),
  cornetMassMilligrams: mass('Cornet'),
});

const sample = z.strictObject({
  label: labelField('Label'),
  melt: labelField('Melt', 'Portions of one melt are judged together'),
  ...position,
  sampleMassMilligrams: mass('Sample'),
  cornetMassMilligrams: mass('Cornet'),
});

const goldAlloys = ['yellow or red', 'white', '990 ‰ and above'] as const;

const perMilleField = (what: string, most: number) => numberField(what, 0, most, '‰');

export const cupellationRunInput = z
  .strictObject({
    methodVersion: labelField('Method version', 'The written method and its version in force'),
    correction: z.enum(['absolute', 'proportional'], { error: 'absolute or proportional' }).meta({
      title: 'Proof correction',
      description: 'Absolute adds a loss to each cornet; proportional divides by a recovery',
    }),
    interpolation: z.enum(interpolations, { error: `one of ${interpolations.join(', ')}` }).meta({
      title: 'Correction over the muffle',
      description:
        'mean: one for all; inverse distance: nearer proofs count more, by 1/distance²; plane: the plane through the proofs, three or more',
    }),
    proofs: listField(proof, 'proofs', 2, 100)
      .refine(hasUniqueLabels, { error: 'proofs with different labels' })
      .meta({ title: 'Proofs' }),
    samples: listField(sample, 'samples', 1, 200)
      .refine(hasUniqueLabels, { error: 'samples with different labels' })
      .meta({ title: 'Samples' }),
    weighingStandardUncertaintyMilligrams: numberField(
      'a standard uncertainty',
      0,
      1000,
      'mg',
    ).meta({ title: 'Standard uncertainty of one weighing', unit: 'mg' }),
    proofGoldStandardUncertaintyPerMille: perMilleField('a standard uncertainty', 1000).meta({
      title: 'Standard uncertainty of the proof gold',
      description: 'Of its fineness, from its certificate',
      unit: '‰',
    }),
    repeatabilityStandardDeviationPerMille: perMilleField('a standard deviation', 1000)
      .optional()
      .meta({
        title: 'Repeatability standard deviation',
        description: 'Of one determination, from earlier runs; none takes the spread of the proofs',
        unit: '‰',
      }),
    alloy: z.enum(goldAlloys, { error: `one of ${goldAlloys.join(', ')}` }).meta({
      title: 'Kind of gold',
      description: 'Which duplicate limit holds where none is stated',
    }),
    duplicateLimitPerMille: perMilleField('a limit', 100).optional().meta({
      title: 'Limit on the range of duplicates',
      description:
        'Of this method version; none takes 0.5, 1 or 0.2 by the kind of gold, which are from memory of ISO 11426 and to be confirmed against the purchased standard',
      unit: '‰',
    }),
    scope: z
      .strictObject({
        lowestPerMille: perMilleField('a fineness', 1000).meta({ title: 'Lowest', unit: '‰' }),
        highestPerMille: perMilleField('a fineness', 1000).meta({ title: 'Highest', unit: '‰' }),
      })
      .optional()
      .meta({
        title: 'Scope of this method version',
        description: 'None takes 100 ‰ to 999.5 ‰, the scope of ISO 11426:2021',
      }),
  })
  .superRefine((input, context) => {
    const seen = new Set<string>();
    for (const [kind, list] of [
      ['proofs', input.proofs],
      ['samples', input.samples],
    ] as const) {
      for (const [index, one] of list.entries()) {
        const place = `${one.row}/${one.column}`;
        if (seen.has(place)) {
          const message = `a place that nothing else of the run holds, unlike row ${one.row} column ${one.column}`;
          context.addIssue({ code: 'custom', path: [kind, index, 'row'], message });
        }
        seen.add(place);
      }
    }
  });

export type CupellationRunInput = z.infer<typeof cupellationRunInput>;

const perMille = (title: string, description?: string) => outputNumber(title, '‰', description);
const milligrams = (title: string, description?: string) => outputNumber(title, 'mg', description);

export const cupellationRunOutput = z.strictObject({
  proofCorrectionMilligrams: milligrams('Mean proof correction', 'Gold taken less cornet'),
  recoveryRatio: outputNumber('Mean recovery', undefined, 'Cornet over gold taken'),
  proofSpreadMilligrams: milligrams('Spread of the proofs', 'Largest less smallest loss'),
  gradient: z
    .strictObject({
      perRowMilligrams: milligrams('Loss per row'),
      perRowStandardUncertaintyMilligrams: milligrams('Its standard uncertainty'),
      perColumnMilligrams: milligrams('Loss per column'),
      perColumnStandardUncertaintyMilligrams: milligrams('Its standard uncertainty'),
      isClear: z.boolean().meta({
        title: 'The gradient is clear',
        description: 'One of the two exceeds twice its standard uncertainty',
      }),
    })
    .nullable()
    .meta({ title: 'Gradient over the muffle', description: 'None where proofs cannot tell' }),
  determinations: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Label' }),
        melt: z.string().meta({ title: 'Melt' }),
        uncorrectedPerMille: perMille('Uncorrected', 'Cornet over sample'),
        correctionMilligrams: milligrams('Correction at its place'),
        surchargePerMille: perMille('Surcharge at its place', 'Taken off the uncorrected result'),
        finenessPerMille: perMille('Fineness'),
        ownStandardUncertaintyPerMille: perMille('Own part'),
        runStandardUncertaintyPerMille: perMille(
          'Part of the run',
          'Proofs: their weighing and repeatability',
        ),
        methodStandardUncertaintyPerMille: perMille('Part of the method', 'Fineness of proof gold'),
        standardUncertaintyPerMille: perMille('Standard uncertainty'),
      }),
    )
    .meta({ title: 'Determinations' }),
  melts: z
    .array(
      z.strictObject({
        melt: z.string().meta({ title: 'Melt' }),
        determinations: z.int().meta({ title: 'Determinations' }),
        meanFinenessPerMille: perMille('Mean fineness'),
        standardUncertaintyPerMille: perMille('Standard uncertainty'),
        rangePerMille: z.number().nullable().meta({
          title: 'Range',
          description: 'None for one determination',
          unit: '‰',
        }),
        duplicatesAgree: z.boolean().nullable().meta({
          title: 'Duplicates agree',
          description: 'Range within the limit; none for one determination',
        }),
        scope: z.enum(['inside', 'outside']).meta({ title: 'Scope of the method' }),
      }),
    )
    .meta({ title: 'Melts' }),
  duplicateLimitPerMille: perMille('Limit on the range of duplicates'),
  duplicateLimitBasis: z
    .enum(['stated by the method version', 'remembered, to be confirmed'])
    .meta({
      title: 'Where the limit comes from',
    }),
  degreesOfFreedom: z.number().nullable().meta({
    title: 'Degrees of freedom of the repeatability',
    description: 'None where it was stated',
  }),
  words: wordsField(),
});

export type CupellationRunOutput = z.infer<typeof cupellationRunOutput>;
