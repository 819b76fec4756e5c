import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { fractionAt, type VariablesPlan, variablesAcceptance } from './variables-acceptance.ts';
import { estimatedFraction } from './variables-estimate.ts';

const sizeAccepted = 'a whole number of pieces from 3 to 10000';
const constantAccepted = 'a constant from -5 to 10';
const percentAccepted = 'a percentage from 0 to 100';
const listAccepted = 'a list of up to 1000 percentages';

export const deviationMethod = z.enum(['s', 'sigma'], 's or sigma').meta({
  title: 'Standard deviation',
  description: 's: that of the sample. Sigma: known from many lots and watched on a chart',
});

export const variablesOperatingCharacteristicInput = z.strictObject({
  sampleSizePieces: z
    .int(sizeAccepted)
    .min(3, sizeAccepted)
    .max(10_000, sizeAccepted)
    .meta({ title: 'Sample size', unit: 'pieces' }),
  acceptabilityConstant: z
    .number(constantAccepted)
    .min(-5, constantAccepted)
    .max(10, constantAccepted)
    .meta({
      title: 'Acceptability constant k',
      description: 'Accept when the mean lies at least k standard deviations inside the limit',
    }),
  method: deviationMethod,
  percentsNonconforming: z
    .array(
      z
        .number(percentAccepted)
        .min(0, percentAccepted)
        .max(100, percentAccepted)
        .meta({ title: 'Nonconforming', unit: '%' }),
      listAccepted,
    )
    .max(1000, listAccepted)
    .meta({ title: 'Qualities asked for', description: 'May be empty' }),
});

export type VariablesOperatingCharacteristicInput = z.infer<
  typeof variablesOperatingCharacteristicInput
>;

const percent = (title: string) => z.number().meta({ title, unit: '%' });

export const variablesOperatingCharacteristicOutput = z.strictObject({
  points: z
    .array(
      z.strictObject({
        percentNonconforming: percent('Nonconforming'),
        acceptanceProbability: z.number().meta({ title: 'Probability of acceptance' }),
      }),
    )
    .meta({ title: 'Qualities asked for' }),
  acceptedAt95Percent: percent('Accepted with probability 0.95'),
  acceptedAt50Percent: percent('Accepted with probability 0.50'),
  acceptedAt10Percent: percent('Accepted with probability 0.10'),
  acceptedAt5Percent: percent('Accepted with probability 0.05'),
  maximumPercent: percent('Greatest allowable estimate M that asks for the same'),
  words: z.string().meta({ title: 'In words' }),
});

export type VariablesOperatingCharacteristicOutput = z.infer<
  typeof variablesOperatingCharacteristicOutput
>;

const short = (value: number): string => Number(value.toPrecision(3)).toString();

/**
 * Operating characteristic of a variables plan for one limit: with which probability lots of a quality
 * are accepted.
 *
 * Formula: see `variablesAcceptance`: normal distribution with known deviation, noncentral t with that
 * of the sample.
 *
 * @param input sample size from 3 to 10 000 pieces; constant from −5 to 10; method; up to 1000
 *   percentages from 0 to 100
 * @returns probabilities at the qualities asked for, and the qualities accepted with 0.95, 0.50, 0.10 and
 *   0.05, in percent; nothing rounded but the words
 * @throws DomainError when the constant is so far out that no such quality exists
 * Validity: normal measurements. Accuracy 1e-14 of a probability. See reference/variables-plans.
 * Source: MIL-STD-414 (1957), Table A-3; N. L. Johnson and B. L. Welch (1940), Biometrika 31, 362-389
 * @example variablesOperatingCharacteristic({ sampleSizePieces: 35, acceptabilityConstant: 1.89,
 *   method: 's', percentsNonconforming: [10] }).points[0]?.acceptanceProbability // 0.01650732
 */
export function variablesOperatingCharacteristic(
  input: VariablesOperatingCharacteristicInput,
): VariablesOperatingCharacteristicOutput {
  const { percentsNonconforming, ...plan } = input;
  const accept = variablesAcceptance(plan);
  const at = (probability: number) => 100 * fractionAt(plan, probability);
  const output = {
    points: percentsNonconforming.map((value) => ({
      percentNonconforming: value,
      acceptanceProbability: accept(value / 100),
    })),
    acceptedAt95Percent: at(0.95),
    acceptedAt50Percent: at(0.5),
    acceptedAt10Percent: at(0.1),
    acceptedAt5Percent: at(0.05),
    maximumPercent:
      100 * estimatedFraction(plan.acceptabilityConstant, plan.sampleSizePieces, plan.method),
  };
  const words = `Lots with ${short(output.acceptedAt95Percent)} % nonconforming are accepted in 19 of 20 cases, with ${short(output.acceptedAt50Percent)} % in one of two, with ${short(output.acceptedAt10Percent)} % in one of ten.`;
  return { ...output, words };
}

const curvePoints = 80;

/** The characteristic as a chart series, up to where hardly a lot is accepted. */
export function variablesCurve(plan: VariablesPlan, label: string) {
  const accept = variablesAcceptance(plan);
  const reach = Math.min(1, 1.3 * fractionAt(plan, 0.02));
  const x = Array.from({ length: curvePoints + 1 }, (_, index) => (reach * index) / curvePoints);
  return {
    label,
    kind: 'line' as const,
    x: x.map((fraction) => 100 * fraction),
    y: x.map(accept),
  };
}

function drawCharacteristic(
  input: VariablesOperatingCharacteristicInput,
  output: VariablesOperatingCharacteristicOutput,
): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Operating characteristic',
      xTitle: 'Nonconforming, %',
      yTitle: 'Probability of acceptance',
      series: [
        variablesCurve(input, input.method),
        {
          label: 'asked for',
          kind: 'points',
          x: output.points.map((point) => point.percentNonconforming),
          y: output.points.map((point) => point.acceptanceProbability),
        },
      ],
    },
  ];
}

export const variablesOperatingCharacteristicCalculation = defineCalculation<
  VariablesOperatingCharacteristicInput,
  VariablesOperatingCharacteristicOutput
>({
  id: 'variables-operating-characteristic',
  version: 1,
  topic: 'sampling',
  title: 'Operating characteristic by variables',
  purpose:
    'Says with which probability lots of a quality are accepted by a plan that measures pieces instead of counting faulty ones.',
  source:
    'MIL-STD-414 (1957), Table A-3; N. L. Johnson and B. L. Welch (1940), Biometrika 31, 362-389',
  input: variablesOperatingCharacteristicInput,
  output: variablesOperatingCharacteristicOutput,
  // Published plan and points, see reference/variables-plans: 0.9416725 at 1 %, 0.01650732 at 10 %.
  example: {
    sampleSizePieces: 35,
    acceptabilityConstant: 1.89,
    method: 's',
    percentsNonconforming: [1, 2, 4, 10],
  },
  compute: variablesOperatingCharacteristic,
  draw: drawCharacteristic,
});
