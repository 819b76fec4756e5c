import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import {
  hasUniqueLabels,
  labelField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';

const perMilleField = (what: string, most: number) => numberField(what, 0, most, '‰');

export const lotFinenessInput = z.strictObject({
  melts: listField(
    z.strictObject({
      label: labelField('Melt'),
      grossMassGrams: numberField('a mass', 0.001, 1e9, 'g').meta({
        title: 'Gross mass',
        unit: 'g',
      }),
      massStandardUncertaintyGrams: numberField('a standard uncertainty', 0, 1e6, 'g').meta({
        title: 'Standard uncertainty of the mass',
        unit: 'g',
      }),
      finenessPerMille: perMilleField('a fineness', 1000).meta({ title: 'Fineness', unit: '‰' }),
      ownStandardUncertaintyPerMille: perMilleField('a standard uncertainty', 1000).meta({
        title: 'Own part',
        description: 'Independent from melt to melt',
        unit: '‰',
      }),
      sharedStandardUncertaintyPerMille: perMilleField('a standard uncertainty', 1000).meta({
        title: 'Shared part',
        description: 'One error for all melts, as the fineness of the proof metal is',
        unit: '‰',
      }),
    }),
    'melts',
    1,
    1000,
  )
    .refine(hasUniqueLabels, { error: 'melts with different labels' })
    .meta({ title: 'Melts' }),
  guaranteedFinenessPerMille: perMilleField('a fineness', 1000).meta({
    title: 'Guaranteed fineness',
    unit: '‰',
  }),
  coverageFactor: numberField('a coverage factor', 0, 10).meta({
    title: 'Coverage factor of the guarantee',
    description: 'Of the guard band below the fineness of each melt',
  }),
});

export type LotFinenessInput = z.infer<typeof lotFinenessInput>;

const perMille = (title: string, description?: string) => outputNumber(title, '‰', description);
const grams = (title: string) => outputNumber(title, 'g');

export const lotFinenessOutput = z.strictObject({
  grossMassGrams: grams('Gross mass'),
  fineMassGrams: grams('Fine mass'),
  fineMassStandardUncertaintyGrams: grams('Standard uncertainty of the fine mass'),
  meanFinenessPerMille: perMille('Mean fineness for the account', 'Weighted by gross mass'),
  standardUncertaintyPerMille: perMille('Standard uncertainty of the mean'),
  ownStandardUncertaintyPerMille: perMille('Own parts of the melts'),
  sharedStandardUncertaintyPerMille: perMille('Shared part', 'Added as it is, not as squares'),
  massStandardUncertaintyPerMille: perMille('Part of the masses'),
  worstMelt: z.string().meta({
    title: 'Worst melt',
    description: 'The one whose fineness less guard band is least; the guarantee rests on it',
  }),
  worstFinenessPerMille: perMille('Its fineness'),
  worstLowerLimitPerMille: perMille('Its fineness less guard band'),
  marginPerMille: perMille('Margin over the guarantee', 'Negative where it is not reached'),
  meltsBelow: z
    .array(z.string().meta({ title: 'Melt' }))
    .meta({ title: 'Melts whose fineness less guard band lies below the guarantee' }),
  words: wordsField(),
});

export type LotFinenessOutput = z.infer<typeof lotFinenessOutput>;

/**
 * Fineness of several melts together: the mean weighted by mass, which the account books fine metal
 * with, and the worst melt, which the guarantee rests on. A mean never stands for a guarantee.
 *
 * Formula: w̄ = Σ mᵢ·wᵢ/Σ mᵢ. u²(w̄) = Σ (mᵢ·uᵢ/M)² + (Σ mᵢ·sᵢ/M)² + Σ ((wᵢ − w̄)·u(mᵢ)/M)²: own
 * parts as squares, the part shared by all melts as it is. Fine mass M·w̄; its u joins
 * mᵢ·uᵢ, Σ mᵢ·sᵢ and wᵢ·u(mᵢ). Worst: least wᵢ − k·√(uᵢ² + sᵢ²).
 *
 * @param input melts with gross mass in g, fineness in ‰ and both parts of its uncertainty
 * @returns masses in g, fineness in ‰, worst melt with margin; nothing rounded but the words
 * @throws DomainError when a mass is not above its standard uncertainty
 * Validity: masses independent of each other; a shared error of the balance belongs to the account.
 * Source: law of propagation with shared errors JCGM 100:2008, 5.1.2 and 5.2.2; worst melt: trade
 * practice, common
 * @example lotFineness(lotFinenessCalculation.example).meanFinenessPerMille // 916.94
 */
export function lotFineness(input: LotFinenessInput): LotFinenessOutput {
  const { melts, coverageFactor } = input;
  for (const [index, one] of melts.entries()) {
    requireDomain(one.massStandardUncertaintyGrams < one.grossMassGrams, {
      field: `melts.${index}.massStandardUncertaintyGrams`,
      value: one.massStandardUncertaintyGrams,
      accepted: `a standard uncertainty below the mass of ${one.grossMassGrams} g`,
    });
  }
  const root = (values: readonly number[]) =>
    Math.sqrt(compensatedSum(values.map((value) => value * value)));
  const gross = compensatedSum(melts.map((one) => one.grossMassGrams));
  const fine = compensatedSum(
    melts.map((one) => (one.grossMassGrams * one.finenessPerMille) / 1000),
  );
  const mean = (1000 * fine) / gross;
  const ownGrams = melts.map((one) => one.grossMassGrams * one.ownStandardUncertaintyPerMille);
  const own = root(ownGrams) / gross;
  const shared =
    compensatedSum(melts.map((one) => one.grossMassGrams * one.sharedStandardUncertaintyPerMille)) /
    gross;
  const masses =
    root(melts.map((one) => (one.finenessPerMille - mean) * one.massStandardUncertaintyGrams)) /
    gross;
  const weighed = root(
    melts.map((one) => (one.finenessPerMille / 1000) * one.massStandardUncertaintyGrams),
  );
  const lower = (one: LotFinenessInput['melts'][number]) =>
    one.finenessPerMille -
    coverageFactor *
      Math.hypot(one.ownStandardUncertaintyPerMille, one.sharedStandardUncertaintyPerMille);
  const worst = melts.reduce((least, one) => (lower(one) < lower(least) ? one : least));
  const guaranteed = input.guaranteedFinenessPerMille;
  const output = {
    grossMassGrams: gross,
    fineMassGrams: fine,
    fineMassStandardUncertaintyGrams: Math.hypot(
      (own * gross) / 1000,
      (shared * gross) / 1000,
      weighed,
    ),
    meanFinenessPerMille: mean,
    standardUncertaintyPerMille: Math.hypot(own, shared, masses),
    ownStandardUncertaintyPerMille: own,
    sharedStandardUncertaintyPerMille: shared,
    massStandardUncertaintyPerMille: masses,
    worstMelt: worst.label,
    worstFinenessPerMille: worst.finenessPerMille,
    worstLowerLimitPerMille: lower(worst),
    marginPerMille: lower(worst) - guaranteed,
    meltsBelow: melts.filter((one) => lower(one) < guaranteed).map((one) => one.label),
  };
  const print = (value: number, places = 2) => roundNumberText(value, places, 'half-even');
  const guarantee =
    output.meltsBelow.length === 0
      ? `The guarantee of ${guaranteed} ‰ holds for every melt; ${worst.label} is nearest to it, ${print(output.marginPerMille)} ‰ above with its guard band.`
      : `The guarantee of ${guaranteed} ‰ is not shown for ${output.meltsBelow.join(', ')}: a good mean does not heal a melt.`;
  const words = `For the account ${print(mean)} ‰ with standard uncertainty ${print(output.standardUncertaintyPerMille, 3)} ‰, ${print(fine)} g fine. ${guarantee}`;
  return { ...output, words };
}

function drawLot(input: LotFinenessInput, output: LotFinenessOutput): Chart[] {
  const y = input.melts.map((one) => one.finenessPerMille);
  const half = input.melts.map(
    (one) =>
      input.coverageFactor *
      Math.hypot(one.ownStandardUncertaintyPerMille, one.sharedStandardUncertaintyPerMille),
  );
  return [
    {
      kind: 'chart',
      title: 'Melts with their guard bands',
      xTitle: 'Melt',
      yTitle: 'Fineness, ‰',
      series: [
        {
          label: 'melts',
          kind: 'points',
          x: y.map((_, i) => i + 1),
          y,
          lower: y.map((value, i) => value - (half[i] ?? 0)),
          upper: y.map((value, i) => value + (half[i] ?? 0)),
        },
      ],
      levels: [
        { y: input.guaranteedFinenessPerMille, label: 'guarantee' },
        { y: output.meanFinenessPerMille, label: 'mean' },
      ],
      xNames: input.melts.map((one, i) => ({ x: i + 1, name: one.label })),
    },
  ];
}

const exampleMelt = (label: string, grossMassGrams: number, finenessPerMille: number) => ({
  label,
  grossMassGrams,
  massStandardUncertaintyGrams: 0.05,
  finenessPerMille,
  ownStandardUncertaintyPerMille: 0.12,
  sharedStandardUncertaintyPerMille: 0.03,
});

export const lotFinenessCalculation = defineCalculation<LotFinenessInput, LotFinenessOutput>({
  id: 'lot-fineness',
  version: 1,
  topic: 'assay',
  title: 'Fineness of several melts',
  purpose:
    'Gives the mean fineness of several melts by mass for the account, with the shared error added as it is, and names the worst melt, on which the guarantee rests.',
  source:
    'JCGM 100:2008, 5.1.2 and 5.2.2 (shared errors); worst melt for the guarantee: trade practice, common',
  input: lotFinenessInput,
  output: lotFinenessOutput,
  example: {
    melts: [
      exampleMelt('M-1', 20_000, 916.9),
      exampleMelt('M-2', 30_000, 917.1),
      exampleMelt('M-3', 10_000, 916.54),
    ],
    guaranteedFinenessPerMille: 916.5,
    coverageFactor: 1.645,
  },
  compute: lotFineness,
  draw: drawLot,
});
