import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalQuantile } from '../quantity/normal.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { significantText } from '../uncertainty/figures.ts';
import { openProbability } from './limits-schema.ts';
import { normalGlobalRisk } from './normal-global-risk.ts';

const spread = 'a figure above 0 and at most 100 ‰';
const spreadField = () => z.number({ error: spread }).gt(0, spread).max(100, spread);
const fineness = 'a fineness above 0 ‰ and at most 1000 ‰';
const mass = 'a mass above 0 and at most 1e9 g';
const price = 'a price from 0 to 1e9 per gram of fine metal';
const guard = 'a guard factor from 0 to 100 standard uncertainties';

export const finenessToBuyInput = z.strictObject({
  limitPerMille: z
    .number({ error: fineness })
    .gt(0, fineness)
    .max(1000, fineness)
    .meta({ title: 'Least fineness', description: 'No minus tolerance', unit: '‰' }),
  guardFactor: z.number({ error: guard }).min(0, guard).max(100, guard).meta({
    title: 'Guard factor',
    description:
      'A melt passes when its fineness found is this many standard uncertainties above the limit or more',
  }),
  processStandardDeviationPerMille: spreadField().meta({
    title: 'Spread of the melts',
    description: 'Standard deviation of the true fineness from melt to melt',
    unit: '‰',
  }),
  standardUncertaintyPerMille: spreadField().meta({
    title: 'Standard uncertainty now',
    description: 'Of the fineness found, k = 1',
    unit: '‰',
  }),
  improvedStandardUncertaintyPerMille: spreadField().meta({
    title: 'Standard uncertainty instead',
    description: 'Of a better method, or of more determinations',
    unit: '‰',
  }),
  requiredPassProbability: openProbability().meta({
    title: 'Required share of melts that pass',
    description: 'At the first trial',
  }),
  grossMassGrams: z.number({ error: mass }).gt(0, mass).max(1e9, mass).meta({
    title: 'Gross mass',
    description: 'Of the metal bought, in a year for instance',
    unit: 'g',
  }),
  finePricePerGram: z
    .number({ error: price })
    .min(0, price)
    .max(1e9, price)
    .meta({ title: 'Price of the fine metal', description: 'Money per gram' }),
  currency: z
    .string({ error: 'a currency, 1 to 10 characters' })
    .min(1, 'a currency, 1 to 10 characters')
    .max(10, 'a currency, 1 to 10 characters')
    .meta({ title: 'Currency' }),
});

export type FinenessToBuyInput = z.infer<typeof finenessToBuyInput>;

const purchase = (title: string) =>
  z
    .strictObject({
      meanFinenessPerMille: z
        .number()
        .meta({ title: 'Mean fineness to buy', description: 'Of the melts', unit: '‰' }),
      acceptanceLimitPerMille: z.number().meta({ title: 'Acceptance limit', unit: '‰' }),
      excessFinenessPerMille: z
        .number()
        .meta({ title: 'Given away', description: 'Mean fineness less limit', unit: '‰' }),
      excessFineMassGrams: z.number().meta({
        title: 'Fine metal given away',
        description: 'Above what was declared',
        unit: 'g',
      }),
      excessPrice: z.number().meta({ title: 'Price of what is given away' }),
      consumerRisk: z
        .number()
        .meta({ title: "Global consumer's risk", description: 'Melts below the limit that pass' }),
    })
    .meta({ title });

export const finenessToBuyOutput = z.strictObject({
  now: purchase('With the uncertainty now'),
  improved: purchase('With the other uncertainty'),
  savedFineMassGrams: z
    .number()
    .meta({ title: 'Fine metal saved', description: 'Below 0 where it costs more', unit: 'g' }),
  savedPrice: z.number().meta({ title: 'Money saved' }),
  words: z.string().meta({ title: 'In words' }),
});

export type FinenessToBuyOutput = z.infer<typeof finenessToBuyOutput>;

type Purchase = FinenessToBuyOutput['now'];

/** Mean fineness with which the required share of melts passes. */
function meanToBuy(input: FinenessToBuyInput, u: number): number {
  const z = normalQuantile(input.requiredPassProbability);
  const total = Math.hypot(input.processStandardDeviationPerMille, u);
  return input.limitPerMille + input.guardFactor * u + z * total;
}

function purchaseWith(input: FinenessToBuyInput, u: number, field: string): Purchase {
  const { limitPerMille, processStandardDeviationPerMille: s } = input;
  const meanFinenessPerMille = meanToBuy(input, u);
  requireDomain(meanFinenessPerMille <= 1000 && meanFinenessPerMille > 0, {
    field,
    value: u,
    accepted: `an uncertainty, spread and guard factor that need a mean fineness of at most 1000 ‰, not ${meanFinenessPerMille} ‰`,
  });
  const acceptanceLimitPerMille = limitPerMille + input.guardFactor * u;
  const excessFinenessPerMille = meanFinenessPerMille - limitPerMille;
  const excessFineMassGrams = (excessFinenessPerMille / 1000) * input.grossMassGrams;
  const { consumerRisk } = normalGlobalRisk({
    process: { mean: meanFinenessPerMille, standardDeviation: s },
    measuringStandardUncertainty: u,
    limits: { lower: limitPerMille },
    acceptance: { lower: acceptanceLimitPerMille },
  });
  return {
    meanFinenessPerMille,
    acceptanceLimitPerMille,
    excessFinenessPerMille,
    excessFineMassGrams,
    excessPrice: excessFineMassGrams * input.finePricePerGram,
    consumerRisk,
  };
}

function buyWords(input: FinenessToBuyInput, output: Omit<FinenessToBuyOutput, 'words'>): string {
  const perMille = (value: number) => `${roundNumberText(value, 3, 'half-even')} ‰`;
  const grams = (value: number) => `${significantText(value, 4)} g`;
  const money = (value: number) => `${significantText(value, 4)} ${input.currency}`;
  const share = `${significantText(100 * input.requiredPassProbability, 4)} %`;
  const { now, improved } = output;
  const change =
    output.savedFineMassGrams >= 0
      ? `That saves ${grams(output.savedFineMassGrams)} of fine metal, ${money(output.savedPrice)}.`
      : `That costs ${grams(-output.savedFineMassGrams)} of fine metal more, ${money(-output.savedPrice)}.`;
  return `So that ${share} of the melts pass, buy at ${perMille(now.meanFinenessPerMille)} on average: ${grams(now.excessFineMassGrams)} of fine metal above the declared fineness, ${money(now.excessPrice)}. With a standard uncertainty of ${input.improvedStandardUncertaintyPerMille} ‰ it is ${perMille(improved.meanFinenessPerMille)}. ${change}`;
}

/**
 * Mean fineness that the plant has to buy so that its melts pass at a stated share, and what a
 * smaller uncertainty of its laboratory would save in grams and money.
 *
 * Formula: mean = limit + g·u + z·√(s² + u²), g the guard factor, u the standard uncertainty, s the
 * spread of the melts, z the normal quantile of the required share. Given away: (mean − limit)/1000
 * × gross mass; money: grams × price of the fine metal.
 *
 * @param input limit in ‰, above 0 and at most 1000; guard factor from 0 to 100; spreads above 0 and at
 *   most 100 ‰; share in (0, 1); gross mass in g, above 0; price per gram of fine metal, 0 or more
 * @returns fineness in ‰, masses in g, money in the currency of the price; nothing rounded
 * @throws DomainError where the mean would have to exceed 1000 ‰
 * Validity: true fineness of the melts and measuring error normal and independent.
 * Source: JCGM 106:2012, 8.3.2 (guarded acceptance) and 9.5 (process and measuring spread together)
 * @example finenessToBuy(finenessToBuyCalculation.example).savedFineMassGrams // 1129.43
 */
export function finenessToBuy(input: FinenessToBuyInput): FinenessToBuyOutput {
  const now = purchaseWith(input, input.standardUncertaintyPerMille, 'standardUncertaintyPerMille');
  const improved = purchaseWith(
    input,
    input.improvedStandardUncertaintyPerMille,
    'improvedStandardUncertaintyPerMille',
  );
  const output = {
    now,
    improved,
    savedFineMassGrams: now.excessFineMassGrams - improved.excessFineMassGrams,
    savedPrice: now.excessPrice - improved.excessPrice,
  };
  return { ...output, words: buyWords(input, output) };
}

function drawFinenessToBuy(input: FinenessToBuyInput): Chart[] {
  const { standardUncertaintyPerMille: now, improvedStandardUncertaintyPerMille: other } = input;
  const most = 1.25 * Math.max(now, other);
  const x = Array.from({ length: 51 }, (_, index) => (most * index) / 50);
  return [
    {
      kind: 'chart',
      title: 'Mean fineness to buy against the uncertainty of the laboratory',
      xTitle: 'Standard uncertainty, ‰',
      yTitle: 'Mean fineness, ‰',
      series: [{ label: 'to buy', kind: 'line', x, y: x.map((u) => meanToBuy(input, u)) }],
      marks: [
        { x: now, label: 'now' },
        { x: other, label: 'instead' },
      ],
      levels: [{ y: input.limitPerMille, label: 'limit' }],
    },
  ];
}

export const finenessToBuyCalculation = defineCalculation<FinenessToBuyInput, FinenessToBuyOutput>({
  id: 'fineness-to-buy',
  version: 1,
  topic: 'conformity',
  title: 'Fineness to buy',
  purpose:
    'What mean fineness the plant must buy so that its melts pass at a stated share, and what a smaller uncertainty of the laboratory would save in grams and money.',
  source: 'JCGM 106:2012, 8.3.2 and 9.5; common practice for grams and money',
  input: finenessToBuyInput,
  output: finenessToBuyOutput,
  // Chosen figures.
  example: {
    limitPerMille: 916.6,
    guardFactor: 2,
    processStandardDeviationPerMille: 0.1,
    standardUncertaintyPerMille: 0.15,
    improvedStandardUncertaintyPerMille: 0.08,
    requiredPassProbability: 0.95,
    grossMassGrams: 5_000_000,
    finePricePerGram: 80,
    currency: 'EUR',
  },
  compute: finenessToBuy,
  draw: drawFinenessToBuy,
});
