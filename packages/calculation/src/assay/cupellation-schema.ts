import { z } from 'zod';

const mass = (what: string) => {
  const accepted = `a ${what} from 0.001 mg to 100000 mg`;
  return z
    .number({ error: accepted })
    .min(0.001, { error: accepted })
    .max(100_000, { error: accepted });
};
const label = () =>
  z
    .string({ error: 'a label of 1 to 100 characters' })
    .min(1, { error: 'a label of 1 to 100 characters' })
    .max(100, { error: 'a label of 1 to 100 characters' })
    .meta({ title: 'Label' });
const spread = (what: string, unit: string) => {
  const accepted = `a ${what} from 0 to 1000 ${unit}`;
  return z.number({ error: accepted }).min(0, { error: accepted }).max(1000, { error: accepted });
};

const hasUniqueLabels = (items: readonly { readonly label: string }[]) =>
  new Set(items.map((item) => item.label)).size === items.length;

const proof = z.strictObject({
  label: label(),
  goldTakenMilligrams: mass('mass of proof gold').meta({
    title: 'Gold taken',
    description: 'Fine gold weighed in for the proof',
    unit: 'mg',
  }),
  cornetMassMilligrams: mass('cornet mass').meta({ title: 'Cornet', unit: 'mg' }),
});

const sample = z.strictObject({
  label: label(),
  sampleMassMilligrams: mass('sample mass').meta({ title: 'Sample', unit: 'mg' }),
  cornetMassMilligrams: mass('cornet mass').meta({ title: 'Cornet', unit: 'mg' }),
});

export const cupellationInputSchema = z.strictObject({
  correction: z.enum(['absolute', 'proportional'], { error: 'absolute or proportional' }).meta({
    title: 'Proof correction',
    description:
      'Absolute adds the mean loss of the proofs to each cornet (ISO 11426); proportional divides by their mean recovery',
  }),
  proofs: z
    .array(proof, { error: 'a list of at least two proofs' })
    .min(2, { error: 'at least two proofs' })
    .max(100, { error: 'at most 100 proofs' })
    .refine(hasUniqueLabels, { error: 'proofs with different labels' })
    .meta({ title: 'Proofs', description: 'Known gold run beside the samples, treated alike' }),
  samples: z
    .array(sample, { error: 'a list of at least one sample' })
    .min(1, { error: 'at least one sample' })
    .max(100, { error: 'at most 100 samples' })
    .refine(hasUniqueLabels, { error: 'samples with different labels' })
    .meta({ title: 'Samples', description: 'Portions of one melt' }),
  weighingStandardUncertaintyMilligrams: spread('weighing standard uncertainty', 'mg').meta({
    title: 'Standard uncertainty of one weighing',
    unit: 'mg',
  }),
  proofGoldStandardUncertaintyPerMille: spread('standard uncertainty of the proof gold', '‰')
    .optional()
    .meta({
      title: 'Standard uncertainty of the proof gold',
      description: 'Of its fineness, from its certificate; none counts as 0',
      unit: '‰',
    }),
  repeatabilityStandardDeviationPerMille: spread('repeatability standard deviation', '‰')
    .optional()
    .meta({
      title: 'Repeatability standard deviation',
      description: 'Of one determination, from earlier runs; none takes the spread of the proofs',
      unit: '‰',
    }),
  proofSpreadLimitMilligrams: spread('limit on the spread of the proofs', 'mg').optional().meta({
    title: 'Limit on the spread of the proofs',
    description: 'Largest less smallest loss of the proofs; none leaves the spread unjudged',
    unit: 'mg',
  }),
});

const perMille = (title: string, description?: string) =>
  z.number().meta({ title, unit: '‰', ...(description === undefined ? {} : { description }) });

export const cupellationOutputSchema = z.strictObject({
  proofCorrectionMilligrams: z.number().meta({
    title: 'Proof correction',
    description: 'Mean of gold taken less cornet; negative when the proofs came out heavy',
    unit: 'mg',
  }),
  recoveryRatio: z.number().meta({
    title: 'Recovery',
    description: 'Mean of cornet over gold taken',
  }),
  surchargePerMille: perMille(
    'Surcharge',
    'Net gain of the proof cornets, referred to the mean sample mass',
  ),
  proofSpreadMilligrams: z.number().meta({
    title: 'Spread of the proofs',
    description: 'Largest less smallest loss',
    unit: 'mg',
  }),
  determinations: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Label' }),
        uncorrectedPerMille: perMille('Uncorrected', 'Cornet over sample'),
        finenessPerMille: perMille('Fineness'),
        standardUncertaintyPerMille: perMille('Standard uncertainty'),
      }),
    )
    .meta({ title: 'Determinations' }),
  meanFinenessPerMille: perMille('Mean fineness'),
  standardUncertaintyPerMille: perMille(
    'Standard uncertainty of the mean',
    'The proof correction is shared by all samples and is not averaged down',
  ),
  effectiveDegreesOfFreedom: z.number().nullable().meta({
    title: 'Effective degrees of freedom',
    description: 'None when no part of the uncertainty was estimated from the proofs of this run',
  }),
  budget: z
    .array(
      z.strictObject({
        contribution: z.string().meta({ title: 'Contribution' }),
        isShared: z.boolean().meta({ title: 'Shared by all samples' }),
        standardUncertaintyPerMille: perMille('Standard uncertainty'),
        sharePercent: z.number().meta({ title: 'Share of the variance', unit: '%' }),
      }),
    )
    .meta({ title: 'Budget of the mean' }),
  proofsWithinLimit: z.boolean().nullable().meta({
    title: 'Proofs within their limit',
    description: 'None when no limit was given',
  }),
  scope: z.enum(['inside', 'outside']).meta({
    title: 'Scope of the method',
    description: 'Inside from 100 ‰ to 999.5 ‰',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type CupellationInput = z.infer<typeof cupellationInputSchema>;
export type CupellationOutput = z.infer<typeof cupellationOutputSchema>;
