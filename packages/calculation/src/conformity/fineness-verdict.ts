import { z } from 'zod';
import { defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import {
  compareDecimals,
  decimalOfNumber,
  multiplyDecimals,
  numberOfDecimal,
  subtractDecimals,
  sumDecimals,
} from '../quantity/decimal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  conformanceProbability,
  lowerTail,
  lowerTailQuantile,
  nonconformanceProbability,
} from './conformance-probability.ts';

export * from './conformance-probability.ts';
export { highestFinenessMark } from './fineness-mark.ts';
export * from './global-risk.ts';

const fineness = 'a fineness above 0 ‰ and at most 1000 ‰';
const finenessField = () =>
  z.number({ error: fineness }).gt(0, { error: fineness }).max(1000, { error: fineness });
const uncertainty = 'a standard uncertainty from 0.000000001 to 1000 ‰';
const freedom = 'degrees of freedom of 1 or more, or none';
const probability = 'a probability above 0 and below 1, such as 0.95';
const guard = 'a guard factor of 0 or more standard uncertainties';

export const finenessVerdictInputSchema = z.strictObject({
  finenessPerMille: finenessField().meta({
    title: 'Fineness found',
    description: 'Unrounded result of the trial',
    unit: '‰',
  }),
  standardUncertaintyPerMille: z
    .number({ error: uncertainty })
    .min(1e-9, { error: uncertainty })
    .max(1000, { error: uncertainty })
    .meta({
      title: 'Standard uncertainty',
      description: 'Of the fineness found, k = 1',
      unit: '‰',
    }),
  limitPerMille: finenessField().meta({
    title: 'Least fineness',
    description: 'Declared fineness that the metal must reach; no minus tolerance',
    unit: '‰',
  }),
  guardFactor: z
    .number({ error: guard })
    .min(0, { error: guard })
    .max(100, { error: 'a guard factor of at most 100 standard uncertainties' })
    .meta({
      title: 'Guard factor',
      description: 'Guard band in standard uncertainties; 0 shares the risk, 2 is U with k = 2',
    }),
  degreesOfFreedom: z.number({ error: freedom }).min(1, { error: freedom }).optional().meta({
    title: 'Degrees of freedom',
    description: "Of the standard uncertainty, for Student's t; none for the normal distribution",
  }),
  requiredConformanceProbability: z
    .number({ error: probability })
    .gt(0, { error: probability })
    .lt(1, { error: probability })
    .meta({
      title: 'Required probability of conformity',
      description: 'For the fineness that the plant must buy; ISO 14253-1 uses 0.95',
    }),
});

const perMille = (title: string, description: string) =>
  z.number().meta({ title, description, unit: '‰' });
const risk = (title: string, description: string) =>
  z.number().min(0).max(1).meta({ title, description });

export const finenessVerdictOutputSchema = z.strictObject({
  verdict: z.enum(['passes', 'undecided', 'fails']).meta({ title: 'Verdict' }),
  guardBandPerMille: perMille('Guard band', 'Guard factor × standard uncertainty'),
  acceptanceLimitPerMille: perMille('Acceptance limit', 'Passes at or above it'),
  rejectionLimitPerMille: perMille('Rejection limit', 'Fails below it'),
  conformanceProbability: risk(
    'Probability of conformity',
    'That the true fineness is at or above the limit',
  ),
  consumerRisk: risk("Consumer's risk", 'That this metal, if struck, is below the limit'),
  consumerRiskAtAcceptanceLimit: risk(
    'Highest risk of a pass',
    'Risk of metal that only just passes under this rule',
  ),
  marginInStandardUncertainties: z.number().meta({
    title: 'Margin',
    description: 'Fineness less limit, in standard uncertainties',
  }),
  finenessToBuyPerMille: perMille(
    'Fineness to buy',
    'A result this high conforms with the required probability',
  ),
  finenessToPassPerMille: perMille(
    'Fineness that passes',
    'Metal truly this fine passes the rule with the required probability',
  ),
  words: z.string().meta({ title: 'In words' }),
});

export type FinenessVerdictInput = z.infer<typeof finenessVerdictInputSchema>;
export type FinenessVerdictOutput = z.infer<typeof finenessVerdictOutputSchema>;

const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');

/** The two limits of the rule, exact in the decimals that were given. */
function guardedLimits(input: FinenessVerdictInput) {
  const limit = decimalOfNumber(input.limitPerMille, 'limitPerMille');
  const guardBand = multiplyDecimals([
    decimalOfNumber(input.guardFactor, 'guardFactor'),
    decimalOfNumber(input.standardUncertaintyPerMille, 'standardUncertaintyPerMille'),
  ]);
  return {
    guardBand,
    acceptance: sumDecimals([limit, guardBand]),
    rejection: subtractDecimals(limit, guardBand),
  };
}

function verdictWords(
  input: FinenessVerdictInput,
  verdict: FinenessVerdictOutput['verdict'],
  acceptance: number,
  rejection: number,
  conformance: number,
  finenessToBuy: number,
): string {
  const found = print(input.finenessPerMille, 3);
  const reasons = {
    passes: `Passes: ${found} ‰ is not below the acceptance limit ${print(acceptance, 3)} ‰.`,
    undecided: `Undecided: ${found} ‰ lies between the rejection limit ${print(rejection, 3)} ‰ and the acceptance limit ${print(acceptance, 3)} ‰; more replicates, a second method or the umpire decide.`,
    fails: `Fails: ${found} ‰ is below the rejection limit ${print(rejection, 3)} ‰.`,
  };
  const buy =
    finenessToBuy > 1000
      ? 'With this uncertainty no metal can show the required probability.'
      : `To show the required probability a melt must be found at ${print(finenessToBuy, 3)} ‰ or more.`;
  return `${reasons[verdict]} Probability of conformity ${probabilityText(conformance, 4)}. ${buy}`;
}

/**
 * Verdict on the fineness of one melt at a stated risk: passes, undecided or fails. It decides
 * whether the melt may be struck, and tells what fineness the laboratory's own uncertainty forces
 * the plant to buy.
 *
 * Formula: passes when fineness − k·u ≥ limit; fails when fineness + k·u < limit; otherwise
 * undecided; u the standard uncertainty, k the guard factor. Probability of conformity
 * F((fineness − limit)/u), F the standard normal distribution or Student's t. Fineness to buy:
 * limit + q·u, fineness that passes: limit + (k + q)·u, with F(q) the required probability.
 *
 * @param input fineness and limit in ‰, above 0 and at most 1000; standard uncertainty in ‰ from
 *   1e-9 to 1000; guard factor from 0 to 100; degrees of freedom from 1 or absent; required
 *   probability in (0, 1)
 * @returns verdict, limits in ‰, probabilities in [0, 1]; nothing rounded but the words
 * @throws DomainError for a value outside its range
 * Validity: one least limit, nothing known of the melt but the result. Values are compared
 * unrounded and in exact decimals, so a result exactly on the acceptance limit passes. With a guard
 * factor of 0 no result is undecided. See reference/conformity.
 * Source: JCGM 106:2012, 7.3, 8.3.2, 9.3.2; ILAC-G8:09/2019, 4.2 and Table 1 (non-binary statement
 * with guard band); ISO 14253-1:2017 (0.95)
 * @example finenessVerdict({ finenessPerMille: 916.95, standardUncertaintyPerMille: 0.15,
 *   limitPerMille: 916.6, guardFactor: 2, requiredConformanceProbability: 0.95 }).verdict // 'passes'
 */
export function finenessVerdict(input: FinenessVerdictInput): FinenessVerdictOutput {
  const { finenessPerMille, limitPerMille, guardFactor, degreesOfFreedom } = input;
  const u = input.standardUncertaintyPerMille;
  const limits = guardedLimits(input);
  const found = decimalOfNumber(finenessPerMille, 'finenessPerMille');
  const isAccepted = compareDecimals(found, limits.acceptance) >= 0;
  const isRejected = compareDecimals(found, limits.rejection) < 0;
  const verdict = isAccepted ? 'passes' : isRejected ? 'fails' : 'undecided';
  const measured = {
    value: finenessPerMille,
    standardUncertainty: u,
    lowerLimit: limitPerMille,
    degreesOfFreedom,
  };
  const q = lowerTailQuantile(input.requiredConformanceProbability, degreesOfFreedom);
  const margin = numberOfDecimal(
    subtractDecimals(found, decimalOfNumber(limitPerMille, 'limitPerMille')),
  );
  const conformance = conformanceProbability(measured);
  const acceptance = numberOfDecimal(limits.acceptance);
  const rejection = numberOfDecimal(limits.rejection);
  const finenessToBuyPerMille = limitPerMille + q * u;
  return {
    verdict,
    guardBandPerMille: numberOfDecimal(limits.guardBand),
    acceptanceLimitPerMille: acceptance,
    rejectionLimitPerMille: rejection,
    conformanceProbability: conformance,
    consumerRisk: nonconformanceProbability(measured),
    consumerRiskAtAcceptanceLimit: lowerTail(-guardFactor, degreesOfFreedom),
    marginInStandardUncertainties: margin / u,
    finenessToBuyPerMille,
    finenessToPassPerMille: limitPerMille + (guardFactor + q) * u,
    words: verdictWords(input, verdict, acceptance, rejection, conformance, finenessToBuyPerMille),
  };
}

function drawVerdict(input: FinenessVerdictInput, output: FinenessVerdictOutput): LimitRule[] {
  return [
    {
      kind: 'limit-rule',
      title: 'Fineness found against the least fineness',
      unit: '‰',
      value: input.finenessPerMille,
      expandedUncertainty: output.guardBandPerMille,
      lowerLimit: input.limitPerMille,
      guardBand: output.guardBandPerMille,
      words: output.words,
    },
  ];
}

export const finenessVerdictCalculation = defineCalculation<
  FinenessVerdictInput,
  FinenessVerdictOutput
>({
  id: 'fineness-verdict',
  version: 1,
  topic: 'conformity',
  title: 'Verdict on fineness',
  purpose:
    'Decides at a stated risk whether a melt passes, fails or stays undecided, with the probability of conformity and the fineness that the plant must buy.',
  source:
    'JCGM 106:2012, 7.3, 8.3.2, 9.3.2; ILAC-G8:09/2019, 4.2 and Table 1; ISO 14253-1:2017 (required probability 0.95)',
  input: finenessVerdictInputSchema,
  output: finenessVerdictOutputSchema,
  // Least fineness 916.6 with U = 0.30 (k = 2); rule of ILAC-G8:09/2019 with guard band w = U.
  example: {
    finenessPerMille: 916.95,
    standardUncertaintyPerMille: 0.15,
    limitPerMille: 916.6,
    guardFactor: 2,
    requiredConformanceProbability: 0.95,
  },
  compute: finenessVerdict,
  draw: drawVerdict,
});
