import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';
import { meanOf } from '../quantity/sum.ts';
import { exchangeFigure } from './exchange-figure.ts';

const finenessAccepted = 'a fineness from 0 to 1000 ‰';
const fineness = () =>
  z.number(finenessAccepted).min(0, finenessAccepted).max(1000, finenessAccepted);
const listAccepted = 'a list of 1 to 100 results';
const results = (title: string) =>
  z
    .array(fineness().meta({ title: 'Result', unit: '‰' }), listAccepted)
    .min(1, listAccepted)
    .max(100, listAccepted)
    .meta({ title });
const spreadAccepted = 'a standard deviation above 0 and at most 100 ‰';
const spread = () => z.number(spreadAccepted).positive(spreadAccepted).max(100, spreadAccepted);
const confidence = 'a confidence from 0.5 to 0.9999';

const comparison = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({
      kind: z.literal('two laboratories').meta({ title: 'Comparison' }),
      firstResultsPerMille: results('Results of the first laboratory'),
      secondResultsPerMille: results('Results of the second laboratory'),
    }),
    z.strictObject({
      kind: z.literal('one laboratory').meta({ title: 'Comparison' }),
      firstResultsPerMille: results('First group of results'),
      secondResultsPerMille: results('Second group of results, same conditions'),
    }),
    z.strictObject({
      kind: z.literal('reference value').meta({ title: 'Comparison' }),
      firstResultsPerMille: results('Results of the laboratory'),
      referencePerMille: fineness().meta({
        title: 'Reference value',
        description: 'Its own uncertainty is taken as negligible',
        unit: '‰',
      }),
    }),
  ],
  { error: 'two laboratories, one laboratory, or a reference value' },
);

export const laboratoryDifferenceInput = z.strictObject({
  comparison: comparison.meta({ title: 'Comparison' }),
  repeatabilityStandardDeviationPerMille: spread().meta({
    title: 'Repeatability standard deviation',
    description: 'Of one result, of the method',
    unit: '‰',
  }),
  reproducibilityStandardDeviationPerMille: spread().meta({
    title: 'Reproducibility standard deviation',
    description: 'Of one result, of the method; not below the repeatability',
    unit: '‰',
  }),
  limitFactor: z.enum(['exact', 'rounded 2.8'], 'exact or rounded 2.8').meta({
    title: 'Factor of the limits',
    description: 'The standard rounds 1.96·√2 = 2.77 to 2.8, which holds for 0.95 only',
  }),
  confidence: z
    .number(confidence)
    .min(0.5, confidence)
    .max(0.9999, confidence)
    .meta({ title: 'Confidence', description: '0.95 by the standard' }),
});

export type LaboratoryDifferenceInput = z.infer<typeof laboratoryDifferenceInput>;

const perMille = (title: string, description?: string) =>
  z.number().meta({ title, unit: '‰', ...(description === undefined ? {} : { description }) });

export const laboratoryDifferenceOutput = z.strictObject({
  repeatabilityLimitPerMille: perMille('Repeatability limit', 'For two single results'),
  reproducibilityLimitPerMille: perMille('Reproducibility limit', 'For two single results'),
  firstMeanPerMille: perMille('First mean'),
  secondMeanPerMille: perMille('Second mean, or the reference value'),
  differencePerMille: perMille('First less second'),
  criticalDifferencePerMille: perMille('Critical difference'),
  isAcceptable: z.boolean().meta({ title: 'The difference is not suspect' }),
  probability: z.number().meta({
    title: 'Probability of a difference as large by chance',
    description: 'Normal, both signs',
  }),
  combinedMeanPerMille: z.number().nullable().meta({
    title: 'Mean of all results',
    description: 'None when the difference is suspect, and against a reference value',
    unit: '‰',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type LaboratoryDifferenceOutput = z.infer<typeof laboratoryDifferenceOutput>;

/** Variance of the difference, in squared ‰. */
function differenceVariance(input: LaboratoryDifferenceInput): number {
  const within = input.repeatabilityStandardDeviationPerMille ** 2;
  const between = input.reproducibilityStandardDeviationPerMille ** 2 - within;
  const { comparison: one } = input;
  const first = within / one.firstResultsPerMille.length;
  if (one.kind === 'reference value') return between + first;
  const second = within / one.secondResultsPerMille.length;
  return (one.kind === 'two laboratories' ? 2 * between : 0) + first + second;
}

function differenceWords(output: Omit<LaboratoryDifferenceOutput, 'words'>): string {
  const apart = `The difference is ${exchangeFigure(Math.abs(output.differencePerMille))} ‰, the critical difference ${exchangeFigure(output.criticalDifferencePerMille)} ‰.`;
  if (!output.isAcceptable) {
    return `${apart} It is larger than chance explains: look for its cause before either result is used.`;
  }
  return output.combinedMeanPerMille === null
    ? `${apart} Nothing speaks against the laboratory.`
    : `${apart} The results agree; the mean of all is ${exchangeFigure(output.combinedMeanPerMille)} ‰.`;
}

/**
 * Whether two means differ by more than the precision of the method explains: two laboratories, two
 * groups of one laboratory, or a laboratory and a reference value.
 *
 * Formula: limits r = f·s_r and R = f·s_R. Critical difference for means of n₁ and n₂ results: two
 * laboratories √(R² − r²·(1 − 1/(2n₁) − 1/(2n₂))); one laboratory r·√(1/(2n₁) + 1/(2n₂)); reference value
 * √(R² − r²·(1 − 1/n))/√2. f = 2.8, or exactly z·√2 with the two-sided normal quantile z.
 *
 * @param input 1 to 100 results on each side in ‰; standard deviations above 0 ‰; factor; confidence from
 *   0.5 to 0.9999
 * @returns limits, means, difference and critical difference in ‰; equal to it counts as acceptable
 * @throws DomainError when the reproducibility is below the repeatability, or the rounded factor is
 *   asked for at a confidence other than 0.95
 * Validity: standard deviations known well, as from a precision experiment; normal results. Exact
 * factor: simulated in laws/exchange.
 * Source: ISO 5725-6:1994, 4.1 and 4.2 (as remembered)
 * @example laboratoryDifference({ comparison: { kind: 'two laboratories', firstResultsPerMille: [916.5],
 *   secondResultsPerMille: [916.9] }, repeatabilityStandardDeviationPerMille: 0.1,
 *   reproducibilityStandardDeviationPerMille: 0.2, limitFactor: 'rounded 2.8', confidence: 0.95
 * }).criticalDifferencePerMille // 0.56
 */
export function laboratoryDifference(input: LaboratoryDifferenceInput): LaboratoryDifferenceOutput {
  const { comparison: one } = input;
  const within = input.repeatabilityStandardDeviationPerMille;
  const reproducibility = input.reproducibilityStandardDeviationPerMille;
  requireDomain(reproducibility >= within, {
    field: 'reproducibilityStandardDeviationPerMille',
    value: reproducibility,
    accepted: `a standard deviation of at least the repeatability, ${within} ‰`,
  });
  requireDomain(input.limitFactor === 'exact' || input.confidence === 0.95, {
    field: 'confidence',
    value: input.confidence,
    accepted: '0.95 with the rounded factor 2.8',
  });
  const factor =
    input.limitFactor === 'rounded 2.8'
      ? 2.8
      : Math.SQRT2 * normalQuantile((1 + input.confidence) / 2);
  const spreadOfDifference = Math.sqrt(differenceVariance(input));
  const firstMean = meanOf(one.firstResultsPerMille);
  const secondMean =
    one.kind === 'reference value' ? one.referencePerMille : meanOf(one.secondResultsPerMille);
  const difference = firstMean - secondMean;
  const critical = (factor / Math.SQRT2) * spreadOfDifference;
  // The readings are decimals: a difference on the limit but for rounding is on the limit.
  const isAcceptable = Math.abs(difference) <= critical * (1 + 1e-12) + 1e-12;
  const output = {
    repeatabilityLimitPerMille: factor * within,
    reproducibilityLimitPerMille: factor * reproducibility,
    firstMeanPerMille: firstMean,
    secondMeanPerMille: secondMean,
    differencePerMille: difference,
    criticalDifferencePerMille: critical,
    isAcceptable,
    probability: 2 * normalDistribution(-Math.abs(difference) / spreadOfDifference, 0, 1),
    combinedMeanPerMille:
      one.kind === 'reference value' || !isAcceptable ? null : combinedMean(one),
  };
  return { ...output, words: differenceWords(output) };
}

function combinedMean(one: {
  readonly kind: string;
  readonly firstResultsPerMille: readonly number[];
  readonly secondResultsPerMille: readonly number[];
}): number {
  const { firstResultsPerMille: first, secondResultsPerMille: second } = one;
  // Two laboratories weigh alike, whatever the number of their results.
  return one.kind === 'two laboratories'
    ? (meanOf(first) + meanOf(second)) / 2
    : meanOf([...first, ...second]);
}

function drawLaboratoryDifference(
  input: LaboratoryDifferenceInput,
  output: LaboratoryDifferenceOutput,
): Chart[] {
  const { comparison: one } = input;
  const second =
    one.kind === 'reference value' ? [one.referencePerMille] : one.secondResultsPerMille;
  const places = (side: number, values: readonly number[]) => values.map(() => side);
  return [
    {
      kind: 'chart',
      title: 'Two sides and what may lie between them',
      xTitle: 'Side',
      yTitle: 'Fineness, ‰',
      series: [
        {
          label: 'results',
          kind: 'points',
          x: [...places(1, one.firstResultsPerMille), ...places(2, second)],
          y: [...one.firstResultsPerMille, ...second],
        },
      ],
      levels: [
        { y: output.secondMeanPerMille, label: 'second' },
        { y: output.secondMeanPerMille + output.criticalDifferencePerMille, label: 'critical' },
        { y: output.secondMeanPerMille - output.criticalDifferencePerMille, label: 'critical' },
      ],
      xNames: [
        { x: 1, name: 'first' },
        { x: 2, name: one.kind === 'reference value' ? 'reference' : 'second' },
      ],
    },
  ];
}

export const laboratoryDifferenceCalculation = defineCalculation<
  LaboratoryDifferenceInput,
  LaboratoryDifferenceOutput
>({
  id: 'laboratory-difference',
  version: 1,
  topic: 'exchange',
  title: 'Critical difference of two laboratories',
  purpose:
    'Says whether the means of two laboratories, of two groups, or of a laboratory and a reference value differ by more than the precision of the method explains.',
  source: 'ISO 5725-6:1994, 4.1 and 4.2 (as remembered)',
  input: laboratoryDifferenceInput,
  output: laboratoryDifferenceOutput,
  // Chosen results; precision of the order of gold by cupellation.
  example: {
    comparison: {
      kind: 'two laboratories',
      firstResultsPerMille: [916.32, 916.45],
      secondResultsPerMille: [916.61, 916.7, 916.58],
    },
    repeatabilityStandardDeviationPerMille: 0.1,
    reproducibilityStandardDeviationPerMille: 0.18,
    limitFactor: 'rounded 2.8',
    confidence: 0.95,
  },
  compute: laboratoryDifference,
  draw: drawLaboratoryDifference,
});
