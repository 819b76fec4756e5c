import { z } from 'zod';
import { type Chart, defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import { decimalOfNumber, numberOfDecimal, subtractDecimals } from '../quantity/decimal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  conformanceProbability,
  lowerTail,
  lowerTailQuantile,
  nonconformanceProbability,
} from './conformance-probability.ts';
import { finenessVerdictInputSchema, finenessVerdictOutputSchema } from './fineness-verdict.ts';

const required = 'a probability from 0.5 to below 1, such as 0.95';
const freedom = 'degrees of freedom of 1 or more, or null for infinite';

const { finenessPerMille, standardUncertaintyPerMille, limitPerMille } =
  finenessVerdictInputSchema.shape;

export const verdictAtStatedRiskInput = z.strictObject({
  finenessPerMille,
  standardUncertaintyPerMille,
  limitPerMille,
  degreesOfFreedom: z.number({ error: freedom }).min(1, { error: freedom }).nullable().meta({
    title: 'Effective degrees of freedom',
    description: "Of the standard uncertainty, for Student's t; null for the normal distribution",
  }),
  requiredConformanceProbability: z
    .number({ error: required })
    .min(0.5, { error: required })
    .lt(1, { error: required })
    .meta({
      title: 'Required probability of conformity',
      description: 'Passes at it or above, fails at one less it or below; 0.5 shares the risk',
    }),
});

export const verdictAtStatedRiskOutput = z.strictObject({
  ...finenessVerdictOutputSchema.shape,
  guardFactor: z.number().meta({
    title: 'Guard factor',
    description: 'Guard band in standard uncertainties: the quantile of the required probability',
  }),
});

export type VerdictAtStatedRiskInput = z.infer<typeof verdictAtStatedRiskInput>;
export type VerdictAtStatedRiskOutput = z.infer<typeof verdictAtStatedRiskOutput>;

const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');

/** Places at which a probability and the required one can be told apart in print. */
function placesFor(probability: number, other: number): number {
  return Math.abs(probability - other) < 5e-4 ? 6 : 4;
}

function verdictWords(
  input: VerdictAtStatedRiskInput,
  output: Omit<VerdictAtStatedRiskOutput, 'words'>,
): string {
  const { requiredConformanceProbability: p, degreesOfFreedom } = input;
  const { verdict, conformanceProbability: found, guardFactor } = output;
  const fineness = `${print(input.finenessPerMille, 3)} ‰`;
  const [acceptance, rejection] = [
    `${print(output.acceptanceLimitPerMille, 3)} ‰`,
    `${print(output.rejectionLimitPerMille, 3)} ‰`,
  ];
  const reasons = {
    passes: `Passes: ${fineness} is not below the acceptance limit ${acceptance}.`,
    undecided: `Undecided: ${fineness} lies between the rejection limit ${rejection} and the acceptance limit ${acceptance}; more replicates, a second method or the umpire decide.`,
    fails: `Fails: ${fineness} is not above the rejection limit ${rejection}.`,
  };
  const known =
    degreesOfFreedom === null
      ? 'infinite degrees of freedom'
      : `${print(degreesOfFreedom, 1)} degrees of freedom`;
  const places = Math.max(placesFor(found, p), placesFor(found, 1 - p));
  const risk = `Probability of conformity ${probabilityText(found, places)}, required ${Number(p.toPrecision(6))}: with ${known} a guard band of ${print(guardFactor, 2)} standard uncertainties.`;
  const beyond =
    output.acceptanceLimitPerMille > 1000
      ? ' With this uncertainty no metal can show the required probability.'
      : '';
  return `${reasons[verdict]} ${risk}${beyond}`;
}

/**
 * Verdict on the fineness of one melt at a stated risk: it passes where the probability that it
 * conforms is at least the required one, fails where it is at most one less that, and is undecided
 * between. The guard band follows from the required probability and from how well the uncertainty
 * is known: few degrees of freedom widen it.
 *
 * Formula: P = F((fineness − limit)/u), F Student's t with the effective degrees of freedom of u, or
 * the standard normal distribution. Passes when P ≥ p, fails when P ≤ 1 − p. Guard factor
 * k = F⁻¹(p), guard band k·u, acceptance limit + k·u, rejection limit − k·u. Fineness to buy is the
 * acceptance limit; fineness that passes: limit + 2k·u.
 *
 * @param input fineness and limit in ‰, above 0 and at most 1000; standard uncertainty in ‰ from
 *   1e-9 to 1000; degrees of freedom from 1, or null for infinite; required probability in [0.5, 1)
 * @returns verdict, limits in ‰, guard factor, probabilities in [0, 1]; nothing rounded but the words
 * @throws DomainError for a value outside its range
 * Validity: one least limit, nothing known of the melt but the result; its distribution is a scaled
 * and shifted t, as for a normal quantity whose uncertainty was estimated. For effective degrees of
 * freedom after Welch and Satterthwaite the risk is approximate: laws/verdict-at-stated-risk
 * simulates it. Verdict and probability agree always, verdict and limits to the last digit of a
 * double. The fineness that passes presumes the uncertainty of this result.
 * Source: JCGM 106:2012, 7.3, 8.3.2 and 8.3.3 (guarded acceptance and rejection by the probability of
 * conformity); JCGM 101:2008, 6.4.9 (t for few degrees of freedom); JCGM 100:2008, G.4.1
 * @example verdictAtStatedRisk({ finenessPerMille: 916.95, standardUncertaintyPerMille: 0.15,
 *   limitPerMille: 916.6, degreesOfFreedom: 2, requiredConformanceProbability: 0.95 }).guardFactor
 *   // 2.919986
 */
export function verdictAtStatedRisk(input: VerdictAtStatedRiskInput): VerdictAtStatedRiskOutput {
  const { limitPerMille: limit, requiredConformanceProbability: p } = input;
  const u = input.standardUncertaintyPerMille;
  const degreesOfFreedom = input.degreesOfFreedom ?? undefined;
  const measured = {
    value: input.finenessPerMille,
    standardUncertainty: u,
    lowerLimit: limit,
    degreesOfFreedom,
  };
  const conformance = conformanceProbability(measured);
  const guardFactor = p === 0.5 ? 0 : lowerTailQuantile(p, degreesOfFreedom);
  const margin = subtractDecimals(
    decimalOfNumber(input.finenessPerMille, 'finenessPerMille'),
    decimalOfNumber(limit, 'limitPerMille'),
  );
  const verdict =
    conformance >= p ? 'passes' : conformance <= 1 - p ? 'fails' : ('undecided' as const);
  const output = {
    verdict,
    guardBandPerMille: guardFactor * u,
    acceptanceLimitPerMille: limit + guardFactor * u,
    rejectionLimitPerMille: limit - guardFactor * u,
    conformanceProbability: conformance,
    consumerRisk: nonconformanceProbability(measured),
    consumerRiskAtAcceptanceLimit: lowerTail(-guardFactor, degreesOfFreedom),
    marginInStandardUncertainties: numberOfDecimal(margin) / u,
    finenessToBuyPerMille: limit + guardFactor * u,
    finenessToPassPerMille: limit + 2 * guardFactor * u,
    guardFactor,
  } as const;
  return { ...output, words: verdictWords(input, output) };
}

/** How wide the guard band is where the uncertainty is known worse or better than here. */
function guardFactorChart(input: VerdictAtStatedRiskInput): Chart {
  const degrees = Array.from({ length: 30 }, (_, index) => index + 1);
  const p = input.requiredConformanceProbability;
  const factor = (of?: number) => (p === 0.5 ? 0 : lowerTailQuantile(p, of));
  return {
    kind: 'chart',
    title: 'Guard factor by degrees of freedom',
    xTitle: 'Effective degrees of freedom',
    yTitle: 'Guard factor',
    series: [{ label: 't', kind: 'line', x: degrees, y: degrees.map((one) => factor(one)) }],
    levels: [{ y: factor(), label: 'normal' }],
    ...(input.degreesOfFreedom !== null && input.degreesOfFreedom <= degrees.length
      ? { marks: [{ x: input.degreesOfFreedom, label: 'here' }] }
      : {}),
  };
}

function drawVerdict(
  input: VerdictAtStatedRiskInput,
  output: VerdictAtStatedRiskOutput,
): (LimitRule | Chart)[] {
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
    guardFactorChart(input),
  ];
}

export const verdictAtStatedRiskCalculation = defineCalculation<
  VerdictAtStatedRiskInput,
  VerdictAtStatedRiskOutput
>({
  id: 'verdict-at-stated-risk',
  version: 1,
  topic: 'conformity',
  title: 'Verdict on fineness at a stated risk',
  purpose:
    'Decides whether a melt passes, fails or stays undecided by the probability that it conforms, with a guard band that follows from that probability and from how well the uncertainty is known.',
  source:
    'JCGM 106:2012, 7.3, 8.3.2 and 8.3.3; JCGM 101:2008, 6.4.9; JCGM 100:2008, G.4.1; ISO 14253-1:2017 (required probability 0.95)',
  input: verdictAtStatedRiskInput,
  output: verdictAtStatedRiskOutput,
  // Chosen figures: two cupellations of two blanks, u = 0.15 ‰ with few degrees of freedom.
  example: {
    finenessPerMille: 916.95,
    standardUncertaintyPerMille: 0.15,
    limitPerMille: 916.6,
    degreesOfFreedom: 2,
    requiredConformanceProbability: 0.95,
  },
  compute: verdictAtStatedRisk,
  draw: drawVerdict,
});
