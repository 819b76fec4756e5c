import { z } from 'zod';

const finenessAccepted = 'a fineness from 0 to 1000 ‰';
const fineness = () =>
  z.number(finenessAccepted).min(0, finenessAccepted).max(1000, finenessAccepted);
const limitAccepted = 'a splitting limit from 0 to 100 ‰';
const massAccepted = 'a mass above 0 and at most 1000000000 g';
const uncertaintyAccepted = 'a standard uncertainty above 0 and at most 100 ‰';

/** What is settled when the two parties are close enough. */
const insideClauses = ['mean', 'supplier', 'plant'] as const;
/** What is settled when the umpire lies between the parties. */
const betweenClauses = ['umpire', 'mean with nearer party'] as const;
/** What is settled when the umpire lies outside the parties. */
const outsideClauses = ['nearer party', 'umpire', 'mean with nearer party'] as const;

export const assayExchangeInput = z.strictObject({
  supplierFinenessPerMille: fineness().meta({ title: 'Supplier', unit: '‰' }),
  plantFinenessPerMille: fineness().meta({ title: 'Plant', unit: '‰' }),
  splittingLimitPerMille: z
    .number(limitAccepted)
    .min(0, limitAccepted)
    .max(100, limitAccepted)
    .meta({
      title: 'Splitting limit',
      description: 'Greatest difference that is settled without an umpire; equal to it is inside',
      unit: '‰',
    }),
  inside: z.enum(insideClauses, `one of ${insideClauses.join(', ')}`).meta({
    title: 'Settled inside the limit',
    description: 'As the contract says; the mean is usual',
  }),
  umpireBetween: z.enum(betweenClauses, `one of ${betweenClauses.join(', ')}`).meta({
    title: 'Settled when the umpire lies between',
    description: "As the contract says; the umpire's own result is usual",
  }),
  umpireOutside: z.enum(outsideClauses, `one of ${outsideClauses.join(', ')}`).meta({
    title: 'Settled when the umpire lies outside',
    description: "As the contract says; the nearer party's result is usual",
  }),
  umpireFinenessPerMille: fineness().optional().meta({
    title: 'Umpire',
    description: 'None before he has spoken',
    unit: '‰',
  }),
  grossMassGrams: z
    .number(massAccepted)
    .positive(massAccepted)
    .max(1e9, massAccepted)
    .optional()
    .meta({ title: 'Gross mass of the melt', description: 'To see what is at stake', unit: 'g' }),
  differenceStandardUncertaintyPerMille: z
    .number(uncertaintyAccepted)
    .positive(uncertaintyAccepted)
    .max(100, uncertaintyAccepted)
    .optional()
    .meta({
      title: 'Standard uncertainty of the difference',
      description: 'Of two honest results on the same metal; to see how often they part by chance',
      unit: '‰',
    }),
});

const optional = (title: string, unit: string | undefined, description: string) =>
  z
    .number()
    .nullable()
    .meta({ title, description, ...(unit === undefined ? {} : { unit }) });

export const assayExchangeOutput = z.strictObject({
  differencePerMille: z.number().meta({ title: 'Supplier less plant', unit: '‰' }),
  isWithinLimit: z.boolean().meta({ title: 'Within the splitting limit' }),
  outcome: z
    .enum(['settled by the parties', 'umpire needed', 'settled by the umpire'])
    .meta({ title: 'Outcome' }),
  settledFinenessPerMille: optional('Settled fineness', '‰', 'None until the umpire has spoken'),
  umpirePosition: z
    .enum(['between', 'above both', 'below both'])
    .nullable()
    .meta({ title: 'Where the umpire lies', description: 'None when no umpire was needed' }),
  nearerParty: z
    .enum(['supplier', 'plant', 'neither'])
    .nullable()
    .meta({ title: 'Party nearer to the umpire', description: 'None when no umpire was needed' }),
  umpireFeeBorneBy: z.enum(['supplier', 'plant', 'both in halves']).nullable().meta({
    title: 'Umpire paid by',
    description: 'The farther party, by common practice; none when no umpire was needed',
  }),
  settledFineMassGrams: optional('Fine mass settled', 'g', 'None without mass or settlement'),
  fineMassAtStakeGrams: optional('Fine mass between the parties', 'g', 'None without the mass'),
  chanceReferralProbability: optional(
    'Probability that honest results part by more than the limit',
    undefined,
    'None without the uncertainty of the difference',
  ),
  words: z.string().meta({ title: 'In words' }),
});

export type AssayExchangeInput = z.infer<typeof assayExchangeInput>;
export type AssayExchangeOutput = z.infer<typeof assayExchangeOutput>;
