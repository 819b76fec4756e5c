import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { sampleMoments } from '../quantity/sample-moments.ts';
import { compensatedSum } from '../quantity/sum.ts';
import {
  boundedField,
  deviationField,
  figure,
  grams,
  massesField,
  massField,
  words,
} from './weight-fields.ts';

/** Grams in a troy ounce, by definition. */
const gramsPerTroyOunce = 31.1034768;

const aCount = 'a whole number of 1 piece or more';
const countField = (title: string, description: string) =>
  z.int(aCount).min(1, aCount).meta({ title, description, unit: 'pieces' });
const finenessField = (title: string, description: string) =>
  boundedField(
    { least: 1, greatest: 1000, accepted: 'a fineness from 1 ‰ to 1000 ‰' },
    { title, description, unit: '‰' },
  );

export const giveawayInput = z.strictObject({
  masses: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: z.literal('pieces').meta({ title: 'Masses: of single pieces' }),
        massesGrams: massesField(1, 1_000_000, 'Masses of single pieces, in any order'),
      }),
      z.strictObject({
        kind: z.literal('summary').meta({ title: 'Masses: number, mean and spread' }),
        weighedPieces: countField('Pieces weighed', 'Behind mean and standard deviation'),
        meanGrams: massField('Mean', 'Mean mass of the pieces weighed'),
        standardDeviationGrams: deviationField('Standard deviation', 'Of the pieces weighed'),
      }),
    ],
    'masses of kind pieces, or summary with number, mean and standard deviation',
  ),
  lotPieces: countField('Pieces in the lot', 'At least as many as were weighed'),
  declaredMassGrams: massField('Declared mass', 'Mass that the purchaser is promised'),
  declaredFinenessPerMille: finenessField('Declared fineness', 'Fineness that is promised'),
  finenessPerMille: finenessField('Fineness found', 'Of the melt, by assay'),
  finenessStandardUncertaintyPerMille: boundedField(
    { least: 0, greatest: 100, accepted: 'a standard uncertainty from 0 ‰ to 100 ‰' },
    { title: 'Standard uncertainty of the fineness', description: 'By assay', unit: '‰' },
  ),
  individualStandardUncertaintyGrams: deviationField(
    'Standard uncertainty of one weighing',
    'Repeatability and rounding: fresh in every weighing',
  ),
  commonStandardUncertaintyGrams: deviationField(
    'Standard uncertainty shared by all weighings',
    'Calibration of the balance',
  ),
  pricePerTroyOunce: boundedField(
    { least: 0, greatest: 1e9, accepted: 'a price from 0 to 1000000000 per troy ounce' },
    { title: 'Price of the fine metal', description: 'Money per troy ounce of fine metal' },
  ),
});

export type GiveawayInput = z.infer<typeof giveawayInput>;

const part = (title: string) =>
  z
    .strictObject({
      perPieceGrams: grams('Fine metal per piece'),
      perPieceStandardUncertaintyGrams: grams('Its standard uncertainty'),
      lotGrams: grams('Fine metal in the lot'),
      lotStandardUncertaintyGrams: grams('Its standard uncertainty'),
      perPieceMoney: figure('Money per piece'),
      lotMoney: figure('Money in the lot'),
      lotStandardUncertaintyMoney: figure('Its standard uncertainty'),
    })
    .meta({ title });

export const giveawayOutput = z.strictObject({
  meanGrams: grams('Mean mass of a piece'),
  meanStandardUncertaintyGrams: grams('Standard uncertainty of the mean mass of the lot'),
  declaredFineGrams: grams('Fine metal declared in a piece'),
  fineGrams: grams('Fine metal in a piece'),
  byMass: part('Given away by mass: heavier than declared, at declared fineness'),
  byFineness: part('Given away by fineness: finer than declared, at declared mass'),
  byBoth: part('Given away by both: the extra mass is finer too'),
  total: part('Given away in all'),
  totalPerMille: z.number().meta({ title: 'Given away of the declared fine metal', unit: '‰' }),
  words: words(),
});

export type GiveawayOutput = z.infer<typeof giveawayOutput>;

interface MeanMass {
  readonly weighed: number;
  readonly mean: number;
  readonly deviation: number;
}

function meanMass(input: GiveawayInput): MeanMass {
  const { masses } = input;
  if (masses.kind === 'summary') {
    return {
      weighed: masses.weighedPieces,
      mean: masses.meanGrams,
      deviation: masses.standardDeviationGrams,
    };
  }
  const { mean, standardDeviation } = sampleMoments(masses.massesGrams);
  return { weighed: masses.massesGrams.length, mean, deviation: standardDeviation ?? 0 };
}

/** Standard uncertainty of the mean mass of the lot: pieces not weighed, weighing, calibration. */
function meanUncertainty(input: GiveawayInput, found: MeanMass): number {
  const own = input.individualStandardUncertaintyGrams;
  const pieces = Math.max(0, found.deviation ** 2 - own ** 2);
  const drawn = (pieces * (1 - found.weighed / input.lotPieces)) / found.weighed;
  return Math.sqrt(drawn + own ** 2 / found.weighed + input.commonStandardUncertaintyGrams ** 2);
}

function describe(output: Omit<GiveawayOutput, 'words'>, input: GiveawayInput): string {
  const total = output.total;
  const signed = total.lotGrams < 0 ? 'falls short of' : 'exceeds';
  const money = (value: number): string => Math.abs(value).toFixed(2);
  return `The fine metal in ${input.lotPieces} pieces ${signed} what is declared by ${Math.abs(total.lotGrams).toPrecision(4)} g (standard uncertainty ${total.lotStandardUncertaintyGrams.toPrecision(2)} g), ${money(total.lotMoney)} in money: ${output.byMass.lotGrams.toPrecision(3)} g by mass and ${output.byFineness.lotGrams.toPrecision(3)} g by fineness. Per piece ${(1000 * total.perPieceGrams).toPrecision(3)} mg, ${output.totalPerMille.toPrecision(3)} ‰.`;
}

/**
 * What a lot gives away beyond its promise, in fine metal and money, split into mass and fineness.
 *
 * Formula: m·f − m₀·f₀ = (m − m₀)·f₀ + m₀·(f − f₀) + (m − m₀)·(f − f₀), m mean mass, f fineness, zero for
 * declared. Mean of the lot: u² = s²·(1 − n/N)/n + ui²/n + uc², with s without the weighing's own spread;
 * the fineness is one value for the whole melt and its uncertainty is not averaged down. Parts by the law
 * of propagation, exact first derivatives; lot N times the piece; money at the price of the fine metal.
 *
 * @param input masses above 0 g, single or summed up; lot at least the pieces weighed; fineness 1 ‰ to
 * 1000 ‰; uncertainties 0 or more; price per troy ounce of 31.1034768 g, 0 or more
 * @returns fine grams and money per piece and lot with standard uncertainties, negative for a shortfall;
 * not rounded
 * @throws DomainError for a lot smaller than the pieces weighed
 * Validity: one melt; price without uncertainty. The parts share their errors: their uncertainties do not
 * add to that of the total by squares. Shown in reference/coinage-act-1870 and laws/weights-money.
 * Source: JCGM 100:2008, 5.1.2; troy ounce by the international yard and pound agreement of 1959
 * @example giveaway({ masses: { kind: 'pieces', massesGrams: [31.21] }, lotPieces: 1,
 *   declaredMassGrams: 31.1034768, declaredFinenessPerMille: 1000, finenessPerMille: 999.9,
 *   finenessStandardUncertaintyPerMille: 0, individualStandardUncertaintyGrams: 0,
 *   commonStandardUncertaintyGrams: 0, pricePerTroyOunce: 0 }).total.perPieceGrams // 0.1034022
 */
export function giveaway(input: GiveawayInput): GiveawayOutput {
  const found = meanMass(input);
  requireDomain(input.lotPieces >= found.weighed, {
    field: 'lotPieces',
    value: input.lotPieces,
    accepted: `at least the ${found.weighed} pieces weighed`,
  });
  const massUncertainty = meanUncertainty(input, found);
  const fineness = input.finenessPerMille / 1000;
  const declared = input.declaredFinenessPerMille / 1000;
  const finenessUncertainty = input.finenessStandardUncertaintyPerMille / 1000;
  const extraMass =
    input.masses.kind === 'pieces'
      ? compensatedSum(input.masses.massesGrams.map((mass) => mass - input.declaredMassGrams)) /
        found.weighed
      : found.mean - input.declaredMassGrams;
  const extraFineness = fineness - declared;
  const toMoney = input.pricePerTroyOunce / gramsPerTroyOunce;
  const partOf = (perPieceGrams: number, byMass: number, byFineness: number) => {
    const uncertainty = Math.hypot(byMass * massUncertainty, byFineness * finenessUncertainty);
    const lot = input.lotPieces;
    return {
      perPieceGrams,
      perPieceStandardUncertaintyGrams: uncertainty,
      lotGrams: lot * perPieceGrams,
      lotStandardUncertaintyGrams: lot * uncertainty,
      perPieceMoney: toMoney * perPieceGrams,
      lotMoney: toMoney * lot * perPieceGrams,
      lotStandardUncertaintyMoney: toMoney * lot * uncertainty,
    };
  };
  const m0 = input.declaredMassGrams;
  const parts = [extraMass * declared, m0 * extraFineness, extraMass * extraFineness] as const;
  const declaredFineGrams = m0 * declared;
  const total = compensatedSum(parts);
  const output = {
    meanGrams: found.mean,
    meanStandardUncertaintyGrams: massUncertainty,
    declaredFineGrams,
    fineGrams: declaredFineGrams + total,
    byMass: partOf(parts[0], declared, 0),
    byFineness: partOf(parts[1], 0, m0),
    byBoth: partOf(parts[2], extraFineness, extraMass),
    total: partOf(total, fineness, found.mean),
    totalPerMille: (1000 * total) / declaredFineGrams,
  };
  return { ...output, words: describe(output, input) };
}

function drawGiveaway(_input: GiveawayInput, output: GiveawayOutput): Chart[] {
  const parts = [output.byMass, output.byFineness, output.byBoth, output.total];
  const names = ['mass', 'fineness', 'both', 'in all'];
  const money = parts.map((one) => one.lotMoney);
  return [
    {
      kind: 'chart',
      title: 'Given away in the lot, with two standard uncertainties',
      xTitle: 'By',
      yTitle: 'Money',
      series: [
        {
          label: 'lot',
          kind: 'bars',
          x: parts.map((_, index) => index),
          y: money,
          lower: parts.map((one) => one.lotMoney - 2 * one.lotStandardUncertaintyMoney),
          upper: parts.map((one) => one.lotMoney + 2 * one.lotStandardUncertaintyMoney),
        },
      ],
      xNames: names.map((name, index) => ({ x: index, name })),
      levels: [{ y: 0, label: 'as declared' }],
    },
  ];
}

export const giveawayCalculation = defineCalculation({
  id: 'giveaway',
  version: 1,
  topic: 'weights',
  title: 'Metal given away',
  purpose:
    'Fine metal and money that a lot gives away beyond its declared mass and fineness, split between the two, per piece and per lot, with uncertainty.',
  source:
    'JCGM 100:2008, 5.1.2, law of propagation of uncertainty; troy ounce by the international yard and pound agreement of 1959; the split is an identity',
  input: giveawayInput,
  output: giveawayOutput,
  // An invented lot of silver pieces of one troy ounce.
  example: {
    masses: {
      kind: 'summary',
      weighedPieces: 200,
      meanGrams: 31.142,
      standardDeviationGrams: 0.021,
    },
    lotPieces: 12_000,
    declaredMassGrams: 31.1034768,
    declaredFinenessPerMille: 999,
    finenessPerMille: 999.4,
    finenessStandardUncertaintyPerMille: 0.05,
    individualStandardUncertaintyGrams: 0.001,
    commonStandardUncertaintyGrams: 0.0005,
    pricePerTroyOunce: 30,
  },
  compute: giveaway,
  draw: drawGiveaway,
});
