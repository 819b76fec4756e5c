import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { upperFisherProbability } from '../quantity/fisher.ts';
import { medianOf } from '../quantity/median.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { medianVarianceRatio } from './median-variance.ts';
import {
  type MeltFinenessInput,
  type MeltFinenessOutput,
  meltFinenessInput,
  meltFinenessOutput,
} from './melt-fineness-schema.ts';

export {
  type MeltFinenessInput,
  type MeltFinenessOutput,
  meltFinenessInput,
  meltFinenessOutput,
} from './melt-fineness-schema.ts';

type Determination = MeltFinenessInput['determinations'][number];

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);

interface Blank {
  readonly blank: string;
  readonly results: readonly number[];
}

function blanksOf(determinations: readonly Determination[]): readonly Blank[] {
  const results = new Map<string, number[]>();
  for (const { blank, finenessPerMille } of determinations) {
    results.set(blank, [...(results.get(blank) ?? []), finenessPerMille]);
  }
  return [...results].map(([blank, found]) => ({ blank, results: found }));
}

/** What the determinations of a melt say of the spread within and between its blanks. */
interface Spread {
  /** Sum over the determinations of the variance that each has for itself. */
  readonly ownSquares: number;
  readonly betweenVariance: number;
  /** Degrees of freedom of the part between blanks, and of the part within where estimated. */
  readonly betweenDegrees: number;
  readonly withinDegrees: number | null;
  readonly probability: number | null;
}

/** Own parts known: the expected sum of squares of an unbalanced layout gives the rest. */
function spreadAsStated(
  determinations: readonly Determination[],
  blanks: readonly Blank[],
  spreadVariance: number,
): Spread {
  const count = determinations.length;
  const squares = sum(blanks.map((one) => one.results.length ** 2));
  const ownSquares = sum(determinations.map((one) => one.ownStandardUncertaintyPerMille ** 2));
  const excess = Math.max(0, spreadVariance - ownSquares / count);
  return {
    ownSquares,
    betweenVariance: (excess * (count - 1)) / (count - squares / count),
    betweenDegrees: blanks.length - 1,
    withinDegrees: null,
    probability: null,
  };
}

/** Own parts from replicates: analysis of variance with random blanks, unbalanced or not. */
function spreadFromReplicates(
  determinations: readonly Determination[],
  blanks: readonly Blank[],
  spreadVariance: number,
): Spread {
  const count = determinations.length;
  const withinDegrees = count - blanks.length;
  requireDomain(withinDegrees > 0, {
    field: 'determinations',
    value: `${count} determinations of ${blanks.length} blanks`,
    accepted: 'more determinations than blanks, or own parts as stated',
  });
  const means = blanks.map((one) => sum(one.results) / one.results.length);
  const within = sum(
    blanks.map((one, i) => sum(one.results.map((value) => (value - (means[i] ?? 0)) ** 2))),
  );
  const withinMeanSquare = within / withinDegrees;
  const betweenDegrees = blanks.length - 1;
  const total = spreadVariance * (count - 1);
  const betweenMeanSquare = Math.max(0, total - within) / betweenDegrees;
  const squares = sum(blanks.map((one) => one.results.length ** 2));
  const replicates = (count - squares / count) / betweenDegrees;
  const ratio = betweenMeanSquare / withinMeanSquare;
  return {
    ownSquares: count * withinMeanSquare,
    betweenVariance: Math.max(0, betweenMeanSquare - withinMeanSquare) / replicates,
    betweenDegrees,
    withinDegrees,
    probability: Number.isFinite(ratio)
      ? upperFisherProbability(ratio, betweenDegrees, withinDegrees)
      : null,
  };
}

/** Variance of the mean that the shared part of each run contributes: once per run, not per portion. */
function runVariance(determinations: readonly Determination[]): number {
  const byRun = new Map<string, number>();
  for (const { run, runStandardUncertaintyPerMille: part } of determinations) {
    byRun.set(run, (byRun.get(run) ?? 0) + part / determinations.length);
  }
  return sum([...byRun.values()].map((part) => part ** 2));
}

/** Welch and Satterthwaite over the parts that were estimated from this melt. */
function effectiveDegrees(
  spread: Spread,
  variance: number,
  parts: { readonly own: number; readonly between: number },
): number | null {
  const withinTerm = spread.withinDegrees === null ? 0 : parts.own ** 2 / spread.withinDegrees;
  const betweenTerm = parts.between ** 2 / spread.betweenDegrees;
  const terms = withinTerm + betweenTerm;
  if (terms === 0) return null;
  return withinTerm === 0
    ? spread.betweenDegrees * (variance / parts.between) ** 2
    : variance ** 2 / terms;
}

/**
 * Fineness of one melt from determinations of several of its blanks in one run or more, with the
 * standard uncertainty that the verdict on it is taken with.
 *
 * Formula, n determinations of b blanks, nᵢ of blank i, n_r of run r:
 * u² = M·(own/n + s_B²·Σ nᵢ²/n²) + Σ_r (n_r·u_r/n)² + (mean of u_m)². 'as stated': own is the mean
 * square of the own parts, s_B² = max(0, s² − own)·(n − 1)/(n − Σ nᵢ²/n). 'from replicates': own is
 * the mean square within blanks, s_B² = max(0, MS_between − MS_within)·(b − 1)/(n − Σ nᵢ²/n). The
 * part of a run u_r enters once per run, that of the method u_m once for all and does not fall. M
 * is 1 for the mean, else as `medianVarianceRatio`, 1.193 for the median of four. Degrees of freedom after Welch and
 * Satterthwaite over the parts that this melt itself gave.
 *
 * @param input two determinations of two blanks or more; for a median three to ten, for that of four
 *   exactly four
 * @returns fineness and standard uncertainties in ‰, degrees of freedom or null for infinite, budget
 *   whose shares add to 100 %; nothing rounded but the words
 * @throws DomainError for determinations of one blank, a median of other than four, or no blank
 *   determined twice where the own part is to come from replicates
 * Validity: errors normal; runs independent of one another but for the part of the method.
 * Differences between runs raise the spread as well and are then counted twice, on the safe side.
 * Source: JCGM 100:2008, 5.1.2, 5.2.2 (shared errors), G.4.1; unbalanced one-way layout with
 * random effects: S. R. Searle, G. Casella, C. E. McCulloch (1992), Variance Components, 3.6;
 * homogeneity as in ISO 33405:2024
 * @example meltFineness(meltFinenessCalculation.example).standardUncertaintyPerMille // 0.224499
 */
export function meltFineness(input: MeltFinenessInput): MeltFinenessOutput {
  const { determinations } = input;
  const blanks = blanksOf(determinations);
  const count = determinations.length;
  requireDomain(blanks.length > 1, {
    field: 'determinations',
    value: `${count} determinations of one blank`,
    accepted: 'determinations of at least two blanks',
  });
  const isMedian = input.statistic !== 'mean';
  requireDomain(input.statistic !== 'median of four' || count === 4, {
    field: 'determinations',
    value: `${count} determinations`,
    accepted: 'four determinations for the median of four',
  });
  const results = determinations.map((one) => one.finenessPerMille);
  const mean = sum(results) / count;
  const spreadVariance = sum(results.map((one) => (one - mean) ** 2)) / (count - 1);
  const estimate = input.ownPart === 'as stated' ? spreadAsStated : spreadFromReplicates;
  const spread = estimate(determinations, blanks, spreadVariance);
  const squares = sum(blanks.map((one) => one.results.length ** 2));
  const factor = isMedian ? medianVarianceRatio(count) : 1;
  const method = sum(determinations.map((one) => one.methodStandardUncertaintyPerMille)) / count;
  const own = (factor * spread.ownSquares) / count ** 2;
  const between = (factor * spread.betweenVariance * squares) / count ** 2;
  const parts = [
    { contribution: 'single determinations', variance: own },
    { contribution: 'between blanks', variance: between },
    { contribution: 'shared by a run', variance: runVariance(determinations) },
    { contribution: 'shared by the method', variance: method ** 2 },
  ];
  const variance = sum(parts.map((part) => part.variance));
  const output = {
    finenessPerMille: isMedian ? medianOf(results) : mean,
    standardUncertaintyPerMille: Math.sqrt(variance),
    effectiveDegreesOfFreedom: effectiveDegrees(spread, variance, { own, between }),
    spreadStandardDeviationPerMille: Math.sqrt(spreadVariance),
    withinBlanksStandardDeviationPerMille: Math.sqrt(spread.ownSquares / count),
    betweenBlanksStandardDeviationPerMille: Math.sqrt(spread.betweenVariance),
    betweenBlanksProbability: spread.probability,
    blanks: blanks.map((one) => ({
      blank: one.blank,
      determinations: one.results.length,
      meanFinenessPerMille: sum(one.results) / one.results.length,
    })),
    budget: parts.map((part) => ({
      contribution: part.contribution,
      standardUncertaintyPerMille: Math.sqrt(part.variance),
      sharePercent: variance === 0 ? 0 : (100 * part.variance) / variance,
    })),
  };
  return { ...output, words: meltWords(input, output) };
}

function meltWords(input: MeltFinenessInput, output: Omit<MeltFinenessOutput, 'words'>): string {
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const between = output.betweenBlanksStandardDeviationPerMille;
  const unlike =
    between > 0
      ? `The blanks differ by a standard deviation of ${print(between, 3)} ‰ beyond what a blank shows within itself.`
      : 'The blanks show no difference beyond what a blank shows within itself.';
  return `Fineness ${print(output.finenessPerMille, 2)} ‰ with standard uncertainty ${print(output.standardUncertaintyPerMille, 3)} ‰ from ${input.determinations.length} determinations of ${output.blanks.length} blanks. ${unlike}`;
}

function drawMelt(input: MeltFinenessInput, output: MeltFinenessOutput): Chart[] {
  const order = new Map(output.blanks.map((one, i) => [one.blank, i + 1]));
  return [
    {
      kind: 'chart',
      title: 'Determinations by blank',
      xTitle: 'Blank',
      yTitle: 'Fineness, ‰',
      series: [
        {
          label: 'results',
          kind: 'points',
          x: input.determinations.map((one) => order.get(one.blank) ?? 0),
          y: input.determinations.map((one) => one.finenessPerMille),
        },
      ],
      levels: [{ y: output.finenessPerMille, label: 'melt' }],
      xNames: output.blanks.map((one, i) => ({ x: i + 1, name: one.blank })),
    },
  ];
}

const portion = (blank: string, finenessPerMille: number) => ({
  run: 'R-1',
  label: `${blank}-1`,
  blank,
  finenessPerMille,
  ownStandardUncertaintyPerMille: 0.1,
  runStandardUncertaintyPerMille: 0.1,
  methodStandardUncertaintyPerMille: 0.02,
});

export const meltFinenessCalculation = defineCalculation<MeltFinenessInput, MeltFinenessOutput>({
  id: 'melt-fineness',
  version: 1,
  topic: 'assay',
  title: 'Fineness of a melt',
  purpose:
    'Joins the determinations of several blanks of a melt into its fineness, with the spread between blanks and the parts shared by a run and by the method kept apart.',
  source:
    'JCGM 100:2008, 5.1.2, 5.2.2 and G.4.1; S. R. Searle, G. Casella, C. E. McCulloch (1992), Variance Components, 3.6; homogeneity as in ISO 33405:2024',
  input: meltFinenessInput,
  output: meltFinenessOutput,
  // By hand: s² 0.08, u² = 0.08/2 + 0.1² + 0.02² = 0.0504.
  example: {
    statistic: 'mean',
    ownPart: 'as stated',
    determinations: [portion('A', 916.6), portion('B', 917)],
  },
  compute: meltFineness,
  draw: drawMelt,
});
