import { z } from 'zod';
import { defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { conformanceProbability, nonconformanceProbability } from './conformance-probability.ts';
import {
  type BoundedProbability,
  probabilityFromQuantiles,
  probabilityFromSamples,
} from './known-distribution.ts';
import {
  anyFigure,
  freedomField,
  limitFields,
  limitWords,
  openProbability,
  probabilityFigure,
  requireLimits,
  standardUncertaintyField,
  unitField,
} from './limits-schema.ts';

const kind = <Kind extends string>(name: Kind) =>
  z.literal(name).meta({ title: 'What is known of the quantity' });

export const conformanceStatementInput = z.strictObject({
  unit: unitField(),
  ...limitFields,
  knowledge: z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: kind('result'),
        value: anyFigure().meta({ title: 'Measured value' }),
        standardUncertainty: standardUncertaintyField(),
        degreesOfFreedom: freedomField(),
      }),
      z.strictObject({
        kind: kind('samples'),
        samples: z
          .array(anyFigure().meta({ title: 'Sample' }), 'a list of samples')
          .min(100, 'at least 100 samples')
          .max(1_000_000, 'at most 1 000 000 samples')
          .meta({ title: 'Samples', description: 'Independent draws, as a simulation gives them' }),
      }),
      z.strictObject({
        kind: kind('quantiles'),
        quantiles: z
          .array(
            z.strictObject({
              probability: openProbability().meta({ title: 'Probability', description: 'Below' }),
              value: anyFigure().meta({ title: 'Value' }),
            }),
            'a list of quantiles',
          )
          .min(2, 'at least 2 quantiles')
          .max(10_000, 'at most 10 000 quantiles'),
      }),
    ],
    { error: 'knowledge of kind result, samples or quantiles' },
  ),
});

export type ConformanceStatementInput = z.infer<typeof conformanceStatementInput>;

export const conformanceStatementOutput = z.strictObject({
  conformanceProbability: probabilityFigure(
    'Probability of conformity',
    'That the true value lies within the limits',
  ),
  leastProbability: probabilityFigure(
    'At least',
    'From samples the 95 % interval of the share, from quantiles the bound; else the same',
  ),
  greatestProbability: probabilityFigure('At most', 'As at least'),
  belowLowerLimit: probabilityFigure('Below the lower limit', '0 where there is none'),
  aboveUpperLimit: probabilityFigure('Above the upper limit', '0 where there is none'),
  measuringCapabilityIndex: z.number().nullable().meta({
    title: 'Measuring capability index',
    description: 'Tolerance over four standard uncertainties; none without two limits and a result',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type ConformanceStatementOutput = z.infer<typeof conformanceStatementOutput>;

type Knowledge = ConformanceStatementInput['knowledge'];

/** Probability between two ends, which may be infinite but not both. */
function probabilityBetween(
  knowledge: Knowledge,
  lower: number,
  upper: number,
): BoundedProbability {
  if (knowledge.kind === 'samples') {
    return probabilityFromSamples(knowledge.samples, lower, upper);
  }
  if (knowledge.kind === 'quantiles') {
    return probabilityFromQuantiles(knowledge.quantiles, lower, upper);
  }
  const probability = conformanceProbability(againstLimits(knowledge, lower, upper));
  return { probability, least: probability, greatest: probability };
}

function againstLimits(
  result: Extract<Knowledge, { kind: 'result' }>,
  lower: number,
  upper: number,
) {
  return {
    value: result.value,
    standardUncertainty: result.standardUncertainty,
    degreesOfFreedom: result.degreesOfFreedom ?? undefined,
    lowerLimit: Number.isFinite(lower) ? lower : undefined,
    upperLimit: Number.isFinite(upper) ? upper : undefined,
  };
}

/** Probability beyond one limit, for a result from the tail itself. */
function beyond(knowledge: Knowledge, lower: number, upper: number): number {
  if (!Number.isFinite(lower) && !Number.isFinite(upper)) return 0;
  return knowledge.kind === 'result'
    ? nonconformanceProbability(againstLimits(knowledge, lower, upper))
    : 1 - probabilityBetween(knowledge, lower, upper).probability;
}

function statementWords(
  input: ConformanceStatementInput,
  output: Omit<ConformanceStatementOutput, 'words'>,
): string {
  const limits = { lower: input.lowerLimit, upper: input.upperLimit };
  const { conformanceProbability: p, leastProbability, greatestProbability } = output;
  const range =
    leastProbability === greatestProbability
      ? ''
      : ` (between ${probabilityText(leastProbability, 4)} and ${probabilityText(greatestProbability, 4)})`;
  const outside = output.belowLowerLimit + output.aboveUpperLimit;
  return `The true value is ${limitWords(limits, input.unit)} with probability ${probabilityText(p, 4)}${range}; it is not with probability ${probabilityText(outside)}.`;
}

/**
 * Probability that the true value of a quantity conforms to one or two limits, from a result with its
 * uncertainty, from draws of a simulation or from quantiles.
 *
 * Formula: the part of the distribution between the limits; for a result normal or t, see
 * `conformanceProbability`; for draws and quantiles see `probabilityFromSamples` and
 * `probabilityFromQuantiles`. Measuring capability index (upper − lower)/(4u).
 *
 * @param input unit; one or two limits, null for none; knowledge: a result with standard uncertainty
 *   above 0 and degrees of freedom or null, 100 to 10⁶ samples, or 2 to 10⁴ rising quantiles
 * @returns probabilities in [0, 1], not rounded
 * @throws DomainError for no limit, limits in the wrong order, quantiles that do not rise
 * Validity: nothing is known but what is stated here; with a known process see `decisionRisks`.
 * See reference/conformity.
 * Source: JCGM 106:2012, 7.2 to 7.4 and 7.6
 * @example conformanceStatement(conformanceStatementCalculation.example).conformanceProbability
 *   // 0.6626
 */
export function conformanceStatement(input: ConformanceStatementInput): ConformanceStatementOutput {
  const limits = requireLimits(input);
  const { knowledge } = input;
  const lower = limits.lower ?? Number.NEGATIVE_INFINITY;
  const upper = limits.upper ?? Number.POSITIVE_INFINITY;
  const { probability, least, greatest } = probabilityBetween(knowledge, lower, upper);
  const output = {
    conformanceProbability: probability,
    leastProbability: least,
    greatestProbability: greatest,
    belowLowerLimit: beyond(knowledge, lower, Number.POSITIVE_INFINITY),
    aboveUpperLimit: beyond(knowledge, Number.NEGATIVE_INFINITY, upper),
    measuringCapabilityIndex:
      knowledge.kind === 'result' && limits.lower !== null && limits.upper !== null
        ? (limits.upper - limits.lower) / (4 * knowledge.standardUncertainty)
        : null,
  };
  return { ...output, words: statementWords(input, output) };
}

function drawStatement(
  input: ConformanceStatementInput,
  output: ConformanceStatementOutput,
): LimitRule[] {
  const { knowledge } = input;
  if (knowledge.kind !== 'result') return [];
  return [
    {
      kind: 'limit-rule',
      title: 'Measured value and limits',
      unit: input.unit,
      value: knowledge.value,
      expandedUncertainty: 2 * knowledge.standardUncertainty,
      ...(input.lowerLimit === null ? {} : { lowerLimit: input.lowerLimit }),
      ...(input.upperLimit === null ? {} : { upperLimit: input.upperLimit }),
      words: output.words,
    },
  ];
}

export const conformanceStatementCalculation = defineCalculation<
  ConformanceStatementInput,
  ConformanceStatementOutput
>({
  id: 'conformance-probability',
  version: 1,
  topic: 'conformity',
  title: 'Probability of conformity',
  purpose:
    'How probable it is that the true value lies within its limits, from a result, from the draws of a simulation or from quantiles.',
  source: 'JCGM 106:2012, 7.2 to 7.4 and 7.6; Clopper and Pearson (1934) for the range from draws',
  input: conformanceStatementInput,
  output: conformanceStatementOutput,
  // Viscosity of an oil between two limits, JCGM 106:2012, 7.4.
  example: {
    unit: 'mm²/s',
    lowerLimit: 12.5,
    upperLimit: 16.3,
    knowledge: { kind: 'result', value: 13.6, standardUncertainty: 1.8, degreesOfFreedom: null },
  },
  compute: conformanceStatement,
  draw: drawStatement,
});
