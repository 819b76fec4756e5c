import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { firstWhole } from '../quantity/halving.ts';
import { normalQuantile } from '../quantity/normal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { constantAt, variablesAcceptance } from './variables-acceptance.ts';
import { type DeviationMethod, estimatedFraction } from './variables-estimate.ts';
import { deviationMethod, variablesCurve } from './variables-operating-characteristic.ts';

const percentAccepted = 'a percentage from 0.0001 to 50';
const percentField = () =>
  z.number(percentAccepted).min(0.0001, percentAccepted).max(50, percentAccepted);
const riskAccepted = 'a risk from 0.0001 to 0.4';
const riskField = () => z.number(riskAccepted).min(0.0001, riskAccepted).max(0.4, riskAccepted);

export const variablesPlanSearchInput = z.strictObject({
  goodPercent: percentField().meta({
    title: 'Good quality',
    description: 'Nonconforming that is to be accepted nearly always',
    unit: '%',
  }),
  producerRisk: riskField().meta({
    title: "Producer's risk",
    description: 'Probability that good quality is not accepted',
  }),
  badPercent: percentField().meta({
    title: 'Bad quality',
    description: 'Nonconforming that is to be accepted hardly ever',
    unit: '%',
  }),
  consumerRisk: riskField().meta({
    title: "Consumer's risk",
    description: 'Probability that bad quality is accepted',
  }),
  method: deviationMethod,
});

export type VariablesPlanSearchInput = z.infer<typeof variablesPlanSearchInput>;

export const variablesPlanSearchOutput = z.strictObject({
  sampleSizePieces: z.int().meta({ title: 'Sample size', unit: 'pieces' }),
  acceptabilityConstant: z.number().meta({
    title: 'Acceptability constant k',
    description: "The greatest that keeps the producer's risk",
  }),
  lowestConstant: z.number().meta({
    title: 'Lowest constant',
    description: "The least that keeps the consumer's risk; any from here to k keeps both",
  }),
  maximumPercent: z.number().meta({
    title: 'Greatest allowable estimate M that asks for the same',
    unit: '%',
  }),
  goodAcceptanceProbability: z.number().meta({ title: 'Probability of acceptance, good quality' }),
  badAcceptanceProbability: z.number().meta({ title: 'Probability of acceptance, bad quality' }),
  words: z.string().meta({ title: 'In words' }),
});

export type VariablesPlanSearchOutput = z.infer<typeof variablesPlanSearchOutput>;

const greatestSize = 10_000;

/** The two points as fractions and probabilities of acceptance. */
interface TwoPoints {
  readonly good: number;
  readonly bad: number;
  readonly goodAcceptance: number;
  readonly badAcceptance: number;
  readonly method: DeviationMethod;
}

function keepsBoth(n: number, points: TwoPoints): boolean {
  const k = constantAt(n, points.method, points.good, points.goodAcceptance);
  const accept = variablesAcceptance({
    sampleSizePieces: n,
    acceptabilityConstant: Math.max(-10, Math.min(10, k)),
    method: points.method,
  });
  // Equality but for rounding keeps the risk.
  return accept(points.bad) <= points.badAcceptance * (1 + 1e-12);
}

/** Least sample that keeps both risks; a larger one keeps them too. */
function leastSize(points: TwoPoints): number {
  if (points.method === 'sigma') {
    const risks = normalQuantile(points.goodAcceptance) - normalQuantile(points.badAcceptance);
    const span = normalQuantile(points.bad) - normalQuantile(points.good);
    return Math.max(2, Math.ceil((risks / span) ** 2 * (1 - 1e-12)));
  }
  let low = 2;
  let high = 4;
  while (high <= greatestSize && !keepsBoth(high, points)) {
    low = high;
    high *= 2;
  }
  return firstWhole((size) => keepsBoth(size, points), low, Math.min(high, greatestSize));
}

/**
 * Variables plan through two points: the smallest sample, and the constant, with which good quality is
 * nearly always and bad quality hardly ever accepted.
 *
 * Formula: least n for which the greatest k with Pa(good) ≥ 1 − producer's risk gives Pa(bad) ≤
 * consumer's risk. Method sigma in closed form, n ≥ ((z₁ + z₂)/(z good − z bad))²; method s with the
 * exact noncentral t.
 *
 * @param input good and bad quality from 0.0001 to 50 %, good below bad; risks from 0.0001 to 0.4; method
 * @returns sample size of 3 pieces or more, constants, M in percent, both probabilities; nothing rounded
 *   but the words
 * @throws DomainError when good is not below bad, or more than 10 000 pieces would be needed
 * Validity: normal measurements, one limit. See reference/variables-plans.
 * Source: A. J. Duncan (1986), Quality Control and Industrial Statistics, chapter on variables plans;
 * exact noncentral t in place of its approximation
 * @example variablesPlanSearch({ goodPercent: 5, producerRisk: 0.05, badPercent: 15, consumerRisk: 0.075,
 *   method: 's' }).sampleSizePieces // 49
 */
export function variablesPlanSearch(input: VariablesPlanSearchInput): VariablesPlanSearchOutput {
  const { goodPercent, badPercent, method } = input;
  requireDomain(goodPercent < badPercent, {
    field: 'goodPercent',
    value: goodPercent,
    accepted: `a percentage below ${badPercent}, the bad quality`,
  });
  const points = {
    good: goodPercent / 100,
    bad: badPercent / 100,
    goodAcceptance: 1 - input.producerRisk,
    badAcceptance: input.consumerRisk,
    method,
  };
  const sampleSizePieces = Math.max(3, leastSize(points));
  requireDomain(
    sampleSizePieces <= greatestSize && (method === 'sigma' || keepsBoth(sampleSizePieces, points)),
    {
      field: 'badPercent',
      value: badPercent,
      accepted: `qualities so far apart that at most ${greatestSize} pieces tell them apart`,
    },
  );
  const k = constantAt(sampleSizePieces, method, points.good, points.goodAcceptance);
  const accept = variablesAcceptance({ sampleSizePieces, acceptabilityConstant: k, method });
  const output = {
    sampleSizePieces,
    acceptabilityConstant: k,
    lowestConstant: constantAt(sampleSizePieces, method, points.bad, points.badAcceptance),
    maximumPercent: 100 * estimatedFraction(k, sampleSizePieces, method),
    goodAcceptanceProbability: accept(points.good),
    badAcceptanceProbability: accept(points.bad),
  };
  const words = `Measure ${sampleSizePieces} pieces; accept when the mean lies at least ${k.toFixed(3)} standard deviations inside the limit. Lots with ${goodPercent} % nonconforming are then accepted with probability ${probabilityText(output.goodAcceptanceProbability, 3)}, with ${badPercent} % with ${probabilityText(output.badAcceptanceProbability, 3)}.`;
  return { ...output, words };
}

function drawSearch(input: VariablesPlanSearchInput, output: VariablesPlanSearchOutput): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Operating characteristic',
      xTitle: 'Nonconforming, %',
      yTitle: 'Probability of acceptance',
      series: [
        variablesCurve({ ...output, method: input.method }, `n = ${output.sampleSizePieces}`),
        {
          label: 'asked for',
          kind: 'points',
          x: [input.goodPercent, input.badPercent],
          y: [1 - input.producerRisk, input.consumerRisk],
        },
      ],
    },
  ];
}

export const variablesPlanSearchCalculation = defineCalculation<
  VariablesPlanSearchInput,
  VariablesPlanSearchOutput
>({
  id: 'variables-plan-search',
  version: 1,
  topic: 'sampling',
  title: 'Variables plan for two points',
  purpose:
    'Finds the smallest sample to measure, and the constant, so that good lots are accepted nearly always and bad lots hardly ever.',
  source:
    'A. J. Duncan (1986), Quality Control and Industrial Statistics, chapter on variables plans; N. L. Johnson and B. L. Welch (1940), Biometrika 31, 362-389',
  input: variablesPlanSearchInput,
  output: variablesPlanSearchOutput,
  // Published design, see reference/variables-plans: n = 49, k = 1.326562.
  example: {
    goodPercent: 5,
    producerRisk: 0.05,
    badPercent: 15,
    consumerRisk: 0.075,
    method: 's',
  },
  compute: variablesPlanSearch,
  draw: drawSearch,
});
