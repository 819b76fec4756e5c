import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { upperChiSquareProbability } from '../quantity/chi-square.ts';
import { normalQuantile } from '../quantity/normal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { confidenceLevel, type DieLife, dieLives, figure, riskTable } from './die-life.ts';
import { dieSurvival, survivalSeries } from './die-survival.ts';
import { type LogRank, logRank } from './log-rank.ts';
import { bestLogScale, commonShape, shapeLogLikelihood, weibullData } from './weibull-fit.ts';

const howMany = 'a list of 2 to 12 families of dies';
const name = 'a name of 1 to 100 characters';

export const dieFamilyComparisonInput = z.strictObject({
  families: z
    .array(
      z.strictObject({
        family: z.string(name).min(1, name).max(100, name).meta({
          title: 'Family of dies',
          description: 'What its dies have in common: steel, coating, maker, press',
        }),
        lives: dieLives.meta({ title: 'Lives of the dies' }),
      }),
      howMany,
    )
    .min(2, howMany)
    .max(12, howMany)
    .refine((families) => new Set(families.map((one) => one.family)).size === families.length, {
      error: 'families with different names',
    })
    .meta({ title: 'Families' }),
  confidence: confidenceLevel,
});

export type DieFamilyComparisonInput = z.infer<typeof dieFamilyComparisonInput>;

const optional = (title: string, description: string) =>
  z.number().nullable().meta({ title, description });

export const dieFamilyComparisonOutput = z.strictObject({
  families: z
    .array(
      z.strictObject({
        family: z.string().meta({ title: 'Family of dies' }),
        totalDies: z.int().meta({ title: 'Dies', unit: 'dies' }),
        observedFailures: z.int().meta({ title: 'Failures', unit: 'dies' }),
        expectedFailures: z.number().meta({
          title: 'Failures to expect when all families are alike',
          unit: 'dies',
        }),
        scaleStrikes: z.number().nullable().meta({
          title: 'Weibull scale with a common shape',
          description: 'None when a family gives no shape',
          unit: 'strikes',
        }),
      }),
    )
    .meta({ title: 'Families' }),
  chiSquare: z.number().meta({ title: 'Log-rank chi-square' }),
  degreesOfFreedom: z.int().meta({ title: 'Degrees of freedom' }),
  probability: z.number().meta({
    title: 'Probability of a difference as large between families that are alike',
  }),
  familiesDiffer: z.boolean().meta({ title: 'The families differ at the stated confidence' }),
  failureRateRatio: optional(
    'Failure rate of the first family over the second',
    'Two families only; one step estimate of Peto',
  ),
  lowerFailureRateRatio: optional('Its lower end', 'Two families only'),
  upperFailureRateRatio: optional('Its upper end', 'Two families only'),
  commonShape: optional('Common Weibull shape', 'None when a family gives no shape'),
  commonShapeLogLikelihood: optional(
    'Log-likelihood with the common shape',
    'None when a family gives no shape',
  ),
  commonShapeProbability: optional(
    'Probability of shapes as different when the shape is common',
    'Small when the families do not only differ in scale',
  ),
  words: z.string().meta({ title: 'In words' }),
});

export type DieFamilyComparisonOutput = z.infer<typeof dieFamilyComparisonOutput>;

/** Peto's ratio of failure rates of the first of two families, with its interval. */
function rateRatio(found: LogRank, confidence: number) {
  const variance = found.covariance[0]?.[0] ?? 0;
  if (found.degreesOfFreedom !== 1) {
    return { failureRateRatio: null, lowerFailureRateRatio: null, upperFailureRateRatio: null };
  }
  const log = ((found.observedFailures[0] ?? 0) - (found.expectedFailures[0] ?? 0)) / variance;
  const half = normalQuantile((1 + confidence) / 2) / Math.sqrt(variance);
  return {
    failureRateRatio: Math.exp(log),
    lowerFailureRateRatio: Math.exp(log - half),
    upperFailureRateRatio: Math.exp(log + half),
  };
}

/** Whether a family alone would give a shape. */
function givesShape(lives: readonly DieLife[]): boolean {
  const longest = Math.max(...lives.map((one) => one.lifeStrikes));
  return lives.some((one) => one.end === 'failed' && one.lifeStrikes < longest);
}

/** Weibull lives with one shape for all families, held against a shape for each. */
function commonWeibull(input: DieFamilyComparisonInput) {
  if (!input.families.every(({ lives }) => givesShape(lives))) {
    return {
      scales: input.families.map(() => null),
      commonShape: null,
      commonShapeLogLikelihood: null,
      commonShapeProbability: null,
    };
  }
  const data = input.families.map(({ lives }) => weibullData(riskTable(lives)));
  const shape = commonShape(data);
  const sum = (shapeOf: (index: number) => number) =>
    data.reduce((total, one, index) => total + shapeLogLikelihood(one, shapeOf(index)), 0);
  const common = sum(() => shape);
  const own = data.map((one) => commonShape([one]));
  const ratio = Math.max(0, 2 * (sum((index) => own[index] ?? shape) - common));
  return {
    scales: data.map((one) => Math.exp(bestLogScale(one, shape))),
    commonShape: shape,
    commonShapeLogLikelihood: common,
    commonShapeProbability: upperChiSquareProbability(ratio, data.length - 1),
  };
}

function comparisonWords(
  output: Omit<DieFamilyComparisonOutput, 'words'>,
  input: DieFamilyComparisonInput,
): string {
  const counts = output.families
    .map(
      ({ family, observedFailures, expectedFailures }) =>
        `${family}: ${observedFailures} failures where ${figure(expectedFailures)} would be expected`,
    )
    .join('; ');
  const verdict = output.familiesDiffer
    ? 'The families do not last alike'
    : 'The lives do not show that one family lasts longer than another';
  const ratio =
    output.failureRateRatio === null
      ? ''
      : ` ${output.families[0]?.family} fails at ${figure(output.failureRateRatio)} times the rate of ${output.families[1]?.family} (${figure(output.lowerFailureRateRatio ?? 0)} to ${figure(output.upperFailureRateRatio ?? 0)} at ${figure(100 * input.confidence)} %).`;
  return `${counts}. ${verdict} (probability ${probabilityText(output.probability)} by chance alone).${ratio}`;
}

/**
 * Comparison of families of dies: whether one steel, coating or maker lasts longer than another.
 *
 * Formula: log-rank test (see `logRank`); for two families the ratio of failure rates
 * exp((O − E)/V) with interval exp((O − E)/V ± z/√V). Beside it Weibull lives with a common shape and a
 * scale for each family, and the likelihood ratio against a shape for each.
 *
 * @param input 2 to 12 families with different names, each with 1 to 100 000 lives; confidence from
 *   0.5 to 0.999
 * @returns failures found and expected, chi-square, probability, ratio, common shape and scales in
 *   strikes; nothing rounded but the words
 * @throws DomainError when no failure occurred while two families were at risk
 * Validity: dies allotted to presses and pieces without choice; failures whose rates keep one ratio
 * through life are found best, crossing curves may hide from the test. See reference/die-lives.
 * Source: N. Mantel (1966), Cancer Chemotherapy Reports 50, 163-170; R. Peto and others (1977),
 * British Journal of Cancer 35, 1-39 (ratio of rates)
 * @example dieFamilyComparison({ confidence: 0.95, families: [
 *   { family: 'A', lives: [{ lifeStrikes: 1, end: 'failed' }] },
 *   { family: 'B', lives: [{ lifeStrikes: 2, end: 'failed' }] }] }).chiSquare // 1
 */
export function dieFamilyComparison(input: DieFamilyComparisonInput): DieFamilyComparisonOutput {
  const tables = input.families.map(({ lives }) => riskTable(lives));
  const found = logRank(tables);
  const { scales, ...weibull } = commonWeibull(input);
  const output = {
    families: input.families.map(({ family }, index) => ({
      family,
      totalDies: tables[index]?.[0]?.atRiskDies ?? 0,
      observedFailures: found.observedFailures[index] ?? 0,
      expectedFailures: found.expectedFailures[index] ?? 0,
      scaleStrikes: scales[index] ?? null,
    })),
    chiSquare: found.chiSquare,
    degreesOfFreedom: found.degreesOfFreedom,
    probability: found.probability,
    familiesDiffer: found.probability <= 1 - input.confidence,
    ...rateRatio(found, input.confidence),
    ...weibull,
  };
  return { ...output, words: comparisonWords(output, input) };
}

function drawDieFamilyComparison(input: DieFamilyComparisonInput): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Share of dies that outlive a number of strikes',
      xTitle: 'Strikes',
      yTitle: 'Share surviving',
      series: input.families
        .filter(({ lives }) => lives.some((one) => one.end === 'failed'))
        .slice(0, 6)
        .map(({ family, lives }) => {
          const steps = dieSurvival({ lives, confidence: input.confidence, interval: 'log-log' });
          const { label, kind, x, y } = survivalSeries(steps.steps, family.slice(0, 16));
          return { label, kind, x, y };
        }),
      levels: [{ y: 0.5, label: 'half' }],
    },
  ];
}

const failed = (...lives: number[]): DieLife[] =>
  lives.map((lifeStrikes) => ({ lifeStrikes, end: 'failed' }));
const censored = (...lives: number[]): DieLife[] =>
  lives.map((lifeStrikes) => ({ lifeStrikes, end: 'censored' }));

export const dieFamilyComparisonCalculation = defineCalculation<
  DieFamilyComparisonInput,
  DieFamilyComparisonOutput
>({
  id: 'die-family-comparison',
  version: 1,
  topic: 'dies',
  title: 'Comparison of families of dies',
  purpose:
    'Says whether one family of dies (steel, coating, maker) lasts longer than another, dies still serving included.',
  source:
    'N. Mantel (1966), Cancer Chemotherapy Reports 50, 163-170; R. Peto and others (1977), British Journal of Cancer 35, 1-39',
  input: dieFamilyComparisonInput,
  output: dieFamilyComparisonOutput,
  // The two groups of Miller (1997), see reference/die-lives, weeks read as strikes: chi-square 3.396.
  example: {
    families: [
      {
        family: 'first',
        lives: [...failed(9, 13, 18, 23, 31, 34, 48), ...censored(13, 28, 45, 161)],
      },
      {
        family: 'second',
        lives: [...failed(5, 5, 8, 8, 12, 23, 27, 30, 33, 43, 45), ...censored(16)],
      },
    ],
    confidence: 0.95,
  },
  compute: dieFamilyComparison,
  draw: drawDieFamilyComparison,
});
