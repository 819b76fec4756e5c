import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalQuantile } from '../quantity/normal.ts';
import { confidenceLevel, dieLives, figure, type RiskRow, riskTable } from './die-life.ts';

export const dieSurvivalInput = z.strictObject({
  lives: dieLives.meta({ title: 'Lives of the dies' }),
  confidence: confidenceLevel,
  interval: z.enum(['plain', 'log-log'], 'plain or log-log').meta({
    title: 'Kind of interval',
    description:
      'Log-log never leaves 0 to 1 and is the better choice for few dies; plain is symmetric and cut at 0 and 1',
  }),
});

export type DieSurvivalInput = z.infer<typeof dieSurvivalInput>;

const strikes = (title: string, description?: string) =>
  z
    .number()
    .nullable()
    .meta({ title, unit: 'strikes', ...(description === undefined ? {} : { description }) });

export const dieSurvivalOutput = z.strictObject({
  steps: z
    .array(
      z.strictObject({
        lifeStrikes: z.number().meta({ title: 'Life', unit: 'strikes' }),
        atRiskDies: z.int().meta({ title: 'Dies at risk', unit: 'dies' }),
        failedDies: z.int().meta({ title: 'Failed', unit: 'dies' }),
        censoredDies: z.int().meta({ title: 'Censored', unit: 'dies' }),
        survival: z.number().meta({ title: 'Share of dies that outlive it' }),
        standardError: z
          .number()
          .nullable()
          .meta({ title: 'Standard error', description: 'Greenwood; none once no die is left' }),
        lowerSurvival: z
          .number()
          .nullable()
          .meta({ title: 'Lower end of the interval', description: 'None once no die is left' }),
        upperSurvival: z
          .number()
          .nullable()
          .meta({ title: 'Upper end of the interval', description: 'None once no die is left' }),
      }),
    )
    .meta({ title: 'Survival curve' }),
  medianStrikes: strikes('Median life', 'None when more than half of the dies outlive the longest'),
  lowerMedianStrikes: strikes(
    'Lower end of the median',
    'None when the band does not reach a half',
  ),
  upperMedianStrikes: strikes(
    'Upper end of the median',
    'None when the band does not reach a half',
  ),
  restrictedMeanStrikes: z.number().meta({
    title: 'Mean life up to the longest',
    description: 'Area under the curve; below the mean life when the longest die has not failed',
    unit: 'strikes',
  }),
  failedDies: z.int().meta({ title: 'Dies that failed', unit: 'dies' }),
  totalDies: z.int().meta({ title: 'Dies in all', unit: 'dies' }),
  words: z.string().meta({ title: 'In words' }),
});

export type DieSurvivalOutput = z.infer<typeof dieSurvivalOutput>;

type Step = DieSurvivalOutput['steps'][number];

/** Ends of the interval about a survival; the log-log form is undefined at 0 and closed at 1. */
function intervalAbout(
  survival: number,
  relativeVariance: number,
  z: number,
  kind: DieSurvivalInput['interval'],
): { lowerSurvival: number | null; upperSurvival: number | null } {
  if (survival === 0) return { lowerSurvival: null, upperSurvival: null };
  if (survival === 1) return { lowerSurvival: 1, upperSurvival: 1 };
  const relativeError = Math.sqrt(relativeVariance);
  if (kind === 'plain') {
    const half = z * survival * relativeError;
    return {
      lowerSurvival: Math.max(0, survival - half),
      upperSurvival: Math.min(1, survival + half),
    };
  }
  const logSurvival = Math.log(survival);
  const spread = Math.exp((z * relativeError) / -logSurvival);
  return {
    lowerSurvival: Math.exp(logSurvival * spread),
    upperSurvival: Math.exp(logSurvival / spread),
  };
}

/** The curve of a table of risk. */
function survivalSteps(
  rows: readonly RiskRow[],
  confidence: number,
  kind: DieSurvivalInput['interval'],
): Step[] {
  const z = normalQuantile((1 + confidence) / 2);
  let survival = 1;
  let relativeVariance = 0;
  return rows.map((row) => {
    const { atRiskDies: atRisk, failedDies: failed } = row;
    survival *= (atRisk - failed) / atRisk;
    relativeVariance += failed === 0 ? 0 : failed / (atRisk * (atRisk - failed));
    return {
      ...row,
      survival,
      standardError: survival === 0 ? null : survival * Math.sqrt(relativeVariance),
      ...intervalAbout(survival, relativeVariance, z, kind),
    };
  });
}

/** Shares that differ by rounding alone count as equal, so that 6/12 is a half. */
const half = 0.5 * (1 + 1e-12);

function firstAtHalf(steps: readonly Step[], share: (step: Step) => number | null): number | null {
  const found = steps.findIndex((step) => (share(step) ?? 1) <= half);
  const step = steps[found];
  if (!step) return null;
  const next = steps.slice(found + 1).find((one) => one.failedDies > 0);
  // A curve that runs level at one half has its median in the middle of that level.
  const level = Math.abs((share(step) ?? 0) - 0.5) < 1e-12 && next !== undefined;
  return level ? (step.lifeStrikes + next.lifeStrikes) / 2 : step.lifeStrikes;
}

function restrictedMean(steps: readonly Step[]): number {
  let mean = 0;
  let before = { lifeStrikes: 0, survival: 1 };
  for (const step of steps) {
    mean += before.survival * (step.lifeStrikes - before.lifeStrikes);
    before = step;
  }
  return mean;
}

function survivalWords(output: Omit<DieSurvivalOutput, 'words'>, input: DieSurvivalInput): string {
  const { medianStrikes: median, lowerMedianStrikes: low, upperMedianStrikes: high } = output;
  const counts = `Of ${output.totalDies} dies ${output.failedDies} failed.`;
  if (median === null) {
    const last = output.steps.at(-1);
    return `${counts} ${figure(100 * (last?.survival ?? 1))} % outlive ${figure(last?.lifeStrikes ?? 0)} strikes, the longest seen; half of the dies have not failed by then.`;
  }
  const band =
    low === null || high === null
      ? low === null
        ? ''
        : ` (at ${figure(100 * input.confidence)} % confidence not below ${figure(low)})`
      : ` (${figure(low)} to ${figure(high)} at ${figure(100 * input.confidence)} % confidence)`;
  return `${counts} Half of the dies outlive ${figure(median)} strikes${band}.`;
}

/**
 * Survival curve of dies: which share outlives a number of strikes, found from dies that failed and
 * dies that are still serving or left for another reason.
 *
 * Formula: Kaplan–Meier, S = Π (1 − d/n) over the lives at which d of n dies at risk failed.
 * Greenwood: variance of S = S²·Σ d/(n(n − d)). Plain interval S ± z·standard error, cut at 0 and 1;
 * log-log interval S^exp(±z·standard error/(S·ln S)). Median: the first life at which S is at most
 * one half, the middle of the level where S equals one half; its ends likewise from the band.
 *
 * @param input 1 to 100 000 lives above 0 strikes, each failed or censored; confidence from 0.5 to
 *   0.999; kind of interval
 * @returns one step for each different life, with share, standard error and interval; median and
 *   mean up to the longest life in strikes; nothing rounded but the words
 * @throws DomainError when no die failed
 * Validity: dies of one kind in one service, censoring that says nothing about the die's future: a
 * die withdrawn because it looked worn is a failure, not censored. Intervals hold at each life by
 * itself and are approximate below about ten failures. See reference/die-lives.
 * Source: E. L. Kaplan and P. Meier (1958), Journal of the American Statistical Association 53,
 * 457-481; M. Greenwood (1926); log-log interval: J. D. Kalbfleisch and R. L. Prentice (1980), The
 * Statistical Analysis of Failure Time Data, 1.3; median: R. Brookmeyer and J. Crowley (1982),
 * Biometrics 38, 29-41
 * @example dieSurvival({ lives: [{ lifeStrikes: 9, end: 'failed' }, { lifeStrikes: 13, end: 'censored' }],
 *   confidence: 0.95, interval: 'plain' }).steps[0]?.survival // 0.5
 */
export function dieSurvival(input: DieSurvivalInput): DieSurvivalOutput {
  const rows = riskTable(input.lives);
  const failedDies = rows.reduce((sum, row) => sum + row.failedDies, 0);
  requireDomain(failedDies > 0, {
    field: 'lives',
    value: 'no failure',
    accepted: 'at least one die that failed',
  });
  const steps = survivalSteps(rows, input.confidence, input.interval);
  const output = {
    steps,
    medianStrikes: firstAtHalf(steps, (step) => step.survival),
    lowerMedianStrikes: firstAtHalf(steps, (step) => step.lowerSurvival),
    upperMedianStrikes: firstAtHalf(steps, (step) => step.upperSurvival),
    restrictedMeanStrikes: restrictedMean(steps),
    failedDies,
    totalDies: rows[0]?.atRiskDies ?? 0,
  };
  return { ...output, words: survivalWords(output, input) };
}

/** The curve as a chart series, from a share of one at the start; the band ends with the last die. */
export function survivalSeries(steps: DieSurvivalOutput['steps'], label: string) {
  return {
    label,
    kind: 'steps' as const,
    x: [0, ...steps.map((step) => step.lifeStrikes)],
    y: [1, ...steps.map((step) => step.survival)],
    lower: [1, ...steps.map((step) => step.lowerSurvival ?? step.survival)],
    upper: [1, ...steps.map((step) => step.upperSurvival ?? step.survival)],
  };
}

function drawDieSurvival(_input: DieSurvivalInput, output: DieSurvivalOutput): Chart[] {
  const censored = output.steps.filter((step) => step.censoredDies > 0);
  return [
    {
      kind: 'chart',
      title: 'Share of dies that outlive a number of strikes',
      xTitle: 'Strikes',
      yTitle: 'Share surviving',
      series: [
        survivalSeries(output.steps, 'dies'),
        {
          label: 'censored',
          kind: 'points',
          x: censored.map((step) => step.lifeStrikes),
          y: censored.map((step) => step.survival),
        },
      ],
      levels: [{ y: 0.5, label: 'half' }],
    },
  ];
}

export const dieSurvivalCalculation = defineCalculation<DieSurvivalInput, DieSurvivalOutput>({
  id: 'die-survival',
  version: 1,
  topic: 'dies',
  title: 'Survival curve of dies',
  purpose:
    'Shows which share of the dies outlives a number of strikes, from dies that failed and dies that are still serving, with the uncertainty.',
  source:
    'E. L. Kaplan and P. Meier (1958), Journal of the American Statistical Association 53, 457-481; M. Greenwood (1926); R. Brookmeyer and J. Crowley (1982), Biometrics 38, 29-41',
  input: dieSurvivalInput,
  output: dieSurvivalOutput,
  // The maintained group of Miller (1997), see reference/die-lives, its weeks read as strikes.
  example: {
    lives: [
      { lifeStrikes: 9, end: 'failed' },
      { lifeStrikes: 13, end: 'failed' },
      { lifeStrikes: 13, end: 'censored' },
      { lifeStrikes: 18, end: 'failed' },
      { lifeStrikes: 23, end: 'failed' },
      { lifeStrikes: 28, end: 'censored' },
      { lifeStrikes: 31, end: 'failed' },
      { lifeStrikes: 34, end: 'failed' },
      { lifeStrikes: 45, end: 'censored' },
      { lifeStrikes: 48, end: 'failed' },
      { lifeStrikes: 161, end: 'censored' },
    ],
    confidence: 0.95,
    interval: 'log-log',
  },
  compute: dieSurvival,
  draw: drawDieSurvival,
});
