import { z } from 'zod';
import { defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { cupellationCalculation } from './cupellation.ts';
import { numberField, outputNumber, wordsField } from './fields.ts';

/** Ratio of silver to gold for parting: ISO 11426:2014, 7.2.1. */
const inquartationRatios = { lowest: 2.3, highest: 3 } as const;

/**
 * Lead for one part of gold and copper alloy at each fineness, D'Arcet's table as assay handbooks print
 * it, from memory; common practice.
 */
const leadParts = [
  [1000, 1],
  [900, 10],
  [800, 16],
  [700, 22],
  [600, 24],
  [500, 26],
  [400, 34],
  [0, 34],
] as const;

const fineness = (title: string) =>
  numberField('a fineness', 0, 1000, '‰').meta({ title, unit: '‰' });

export const cupellationChargeInput = z.strictObject({
  sampleMassMilligrams: numberField('a mass', 1, 1000, 'mg').meta({ title: 'Sample', unit: 'mg' }),
  goldFinenessPerMille: fineness('Gold expected'),
  silverFinenessPerMille: fineness('Silver expected'),
  silverToGoldRatio: numberField('a ratio', 1, 5).meta({
    title: 'Silver to gold for parting',
    description: '2.3 to 3 by ISO 11426:2014; 2.5 is common',
  }),
  countsSilverOfTheAlloy: z.boolean({ error: 'true or false' }).meta({
    title: 'Silver of the alloy counts',
    description: 'Laboratories differ: yes takes the ratio as of all silver, no as of silver added',
  }),
  isNickelWhiteGold: z.boolean({ error: 'true or false' }).meta({
    title: 'White gold with nickel',
    description: 'Takes 4 g of lead more, or scorification',
  }),
});

export type CupellationChargeInput = z.infer<typeof cupellationChargeInput>;

const milligrams = (title: string) => outputNumber(title, 'mg');

export const cupellationChargeOutput = z.strictObject({
  goldMilligrams: milligrams('Gold in the sample'),
  silverPresentMilligrams: milligrams('Silver in the sample'),
  baseMetalMilligrams: milligrams('Base metal in the sample'),
  silverToAddMilligrams: milligrams('Silver to add'),
  leastLeadGrams: z.number().nullable().meta({
    title: 'Least lead by the clause',
    description: 'None above 300 mg of sample',
    unit: 'g',
  }),
  leadByFinenessGrams: outputNumber('Lead by fineness', 'g', 'Common practice, from memory'),
  leadToTakeGrams: outputNumber('Lead to take', 'g', 'The greater of the two'),
  proof: z
    .strictObject({
      goldMilligrams: milligrams('Proof gold'),
      silverMilligrams: milligrams('Silver'),
      copperMilligrams: milligrams('Copper'),
    })
    .meta({ title: 'A proof that matches', description: 'Copper stands for all base metals' }),
  ratioInsideClause: z.boolean().meta({ title: 'Ratio from 2.3 to 3' }),
  words: wordsField(),
});

export type CupellationChargeOutput = z.infer<typeof cupellationChargeOutput>;

/** Parts of lead for one part of alloy, between the lines of the table in proportion. */
function leadPartsAt(finenessPerMille: number): number {
  for (const [index, [upper, atUpper]] of leadParts.entries()) {
    const next = leadParts[index + 1];
    if (next === undefined) break;
    const [lower, atLower] = next;
    if (finenessPerMille >= lower) {
      return atLower + ((atUpper - atLower) * (finenessPerMille - lower)) / (upper - lower);
    }
  }
  return leadParts.at(-1)?.[1] ?? 0;
}

/** ISO 11426:2014, 7.2.1: 4 g for samples to 200 mg, 6 g to 300 mg, 4 g more for white gold with nickel. */
function leastLead(input: CupellationChargeInput): number | null {
  const { sampleMassMilligrams: mass, isNickelWhiteGold } = input;
  if (mass > 300) return null;
  return (mass <= 200 ? 4 : 6) + (isNickelWhiteGold ? 4 : 0);
}

/**
 * What goes with a gold sample into the cupel: silver for parting, lead, and a proof that matches.
 *
 * Formula: gold m·w; silver to add ratio·gold, less the silver present where that counts, 0 at
 * least. Lead: the clause's least by sample mass, or parts by fineness of gold and silver together (D'Arcet's table for gold
 * and copper, in proportion between its lines) times the sample, whichever is more.
 *
 * @param input sample 1 to 1000 mg; gold and silver in ‰, together 1000 at most
 * @returns masses in mg and g, not rounded
 * @throws DomainError when gold and silver together exceed 1000 ‰
 * Validity: gold alloyed with silver and copper; platinum metals, nickel and tin need more. The table
 * by fineness is from memory; the site's written method comes first.
 * Source: ISO 11426:2014, 7.2.1 and 7.3 (as quoted on public pages); lead by fineness: J. P. J.
 * D'Arcet's table as printed in assay handbooks, from memory, common practice
 * @example cupellationCharge(cupellationChargeCalculation.example).silverToAddMilligrams // 562.875
 */
export function cupellationCharge(input: CupellationChargeInput): CupellationChargeOutput {
  const { sampleMassMilligrams: mass, goldFinenessPerMille, silverFinenessPerMille } = input;
  requireDomain(goldFinenessPerMille + silverFinenessPerMille <= 1000, {
    field: 'silverFinenessPerMille',
    value: silverFinenessPerMille,
    accepted: `at most ${1000 - goldFinenessPerMille} ‰ beside ${goldFinenessPerMille} ‰ of gold`,
  });
  const gold = (mass * goldFinenessPerMille) / 1000;
  const silver = (mass * silverFinenessPerMille) / 1000;
  const base = Math.max(0, (mass * (1000 - goldFinenessPerMille - silverFinenessPerMille)) / 1000);
  const counted = input.countsSilverOfTheAlloy ? silver : 0;
  const silverToAdd = Math.max(0, input.silverToGoldRatio * gold - counted);
  const least = leastLead(input);
  const byFineness =
    (leadPartsAt(goldFinenessPerMille + silverFinenessPerMille) * mass) / 1000 +
    (input.isNickelWhiteGold ? 4 : 0);
  const { lowest, highest } = inquartationRatios;
  const output = {
    goldMilligrams: gold,
    silverPresentMilligrams: silver,
    baseMetalMilligrams: base,
    silverToAddMilligrams: silverToAdd,
    leastLeadGrams: least,
    leadByFinenessGrams: byFineness,
    leadToTakeGrams: Math.max(least ?? 0, byFineness),
    proof: {
      goldMilligrams: gold,
      silverMilligrams: silver + silverToAdd,
      copperMilligrams: base,
    },
    ratioInsideClause: input.silverToGoldRatio >= lowest && input.silverToGoldRatio <= highest,
  };
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const outside = output.ratioInsideClause
    ? ''
    : ' The ratio lies outside 2.3 to 3: below, silver stays in the cornet; above, the cornet breaks.';
  const words = `Add ${print(silverToAdd, 1)} mg of silver and wrap in ${print(output.leadToTakeGrams, 1)} g of lead. A matching proof: ${print(gold, 1)} mg gold, ${print(silver + silverToAdd, 1)} mg silver, ${print(base, 1)} mg copper.${outside}`;
  return { ...output, words };
}

export const cupellationChargeCalculation = defineCalculation<
  CupellationChargeInput,
  CupellationChargeOutput
>({
  id: 'cupellation-charge',
  version: 1,
  topic: 'assay',
  title: 'Silver and lead for a cupellation',
  purpose:
    'How much silver to add for parting, how much lead to wrap a gold sample in, and what a matching proof is made of.',
  source:
    "ISO 11426:2014, 7.2.1 and 7.3 (as quoted on public pages); lead by fineness: D'Arcet's table as printed in assay handbooks, from memory, common practice",
  cautions: cupellationCalculation.cautions ?? [],
  input: cupellationChargeInput,
  output: cupellationChargeOutput,
  // Clause 7.2.1 on chosen figures, see reference/iso-11426-charge: 562.875 mg.
  example: {
    sampleMassMilligrams: 250,
    goldFinenessPerMille: 916.6,
    silverFinenessPerMille: 40,
    silverToGoldRatio: 2.5,
    countsSilverOfTheAlloy: true,
    isNickelWhiteGold: false,
  },
  compute: cupellationCharge,
});
