import { defineCalculation } from '../catalogue/calculation.ts';
import { type CusumOutput, cusum } from '../control/cusum.ts';
import { cusumAverageRunLength } from '../control/cusum-run-length.ts';
import { cusumDecisionInterval } from '../control/run-length-design.ts';
import { tellableRunLength } from '../control/run-length-kernel.ts';
import { upperChiSquareProbability } from '../quantity/chi-square.ts';
import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { type CumulativeBalance, cumulativeBalances } from './balance-covariance.ts';
import {
  type BalanceResidual,
  balanceResiduals,
  followBalances,
  periodSources,
  persistentSources,
} from './balance-residuals.ts';
import { drawBalanceSeries } from './balance-series-drawing.ts';
import {
  type BalanceSeriesInput,
  type BalanceSeriesOutput,
  balanceSeriesInput,
  balanceSeriesOutput,
} from './balance-series-schema.ts';
import { balanceSeriesWords } from './balance-series-words.ts';

export {
  balanceCovariance,
  type CumulativeBalance,
  cumulativeBalances,
} from './balance-covariance.ts';
export {
  type BalancePeriod,
  type BalanceResidual,
  balanceResiduals,
  followBalances,
  type PersistentEffect,
} from './balance-residuals.ts';
export {
  type BalanceSeriesInput,
  type BalanceSeriesOutput,
  balanceSeriesInput,
  balanceSeriesOutput,
} from './balance-series-schema.ts';

type Period = BalanceSeriesInput['periods'][number];
type Blamed = BalanceSeriesOutput['newest'][number];

/** Fewer past residuals than this tell too little of their spread. */
const leastHistory = 8;

/** Standard uncertainty of a period's opening stock. */
function openingOf(periods: readonly Period[], index: number): number {
  const stated = periods[index]?.openingStandardUncertaintyGrams ?? null;
  return stated ?? periods[index - 1]?.endingStandardUncertaintyGrams ?? 0;
}

/** The errors of one period: each source with its standard uncertainty in g. */
function sourcesOf(
  periods: readonly Period[],
  index: number,
): readonly (readonly [string, number])[] {
  const period = periods[index] as Period;
  return [
    [periodSources.opening, openingOf(periods, index)],
    [periodSources.ending, period.endingStandardUncertaintyGrams],
    [periodSources.transfers, period.transferStandardUncertaintyGrams],
    ...period.persistent.map(({ source, effectGrams }) => [source, Math.abs(effectGrams)] as const),
  ];
}

const varianceOf = (periods: readonly Period[], index: number): number =>
  compensatedSum(sourcesOf(periods, index).map(([, deviation]) => deviation ** 2));

/** Correlation of a balance with the one before it. */
function correlationWithBefore(periods: readonly Period[], index: number): number | null {
  const period = periods[index] as Period;
  const before = periods[index - 1];
  if (!before) return null;
  const effects = new Map(before.persistent.map((one) => [one.source, one.effectGrams]));
  const shared = period.persistent.reduce(
    (sum, { source, effectGrams }) => sum + effectGrams * (effects.get(source) ?? 0),
    0,
  );
  const isCarried = period.openingStandardUncertaintyGrams === null;
  const stock = isCarried ? before.endingStandardUncertaintyGrams ** 2 : 0;
  return (shared - stock) / Math.sqrt(varianceOf(periods, index) * varianceOf(periods, index - 1));
}

function newestSplit(input: BalanceSeriesInput, residual: BalanceResidual): Blamed[] {
  const last = input.periods.length - 1;
  const { differenceGrams } = input.periods[last] as Period;
  const variance = varianceOf(input.periods, last);
  const parts = residual.expectedPartsGrams();
  return sourcesOf(input.periods, last).map(([source, standardUncertaintyGrams]) => {
    const share = standardUncertaintyGrams ** 2 / variance;
    return {
      source,
      standardUncertaintyGrams,
      sharePercent: 100 * share,
      expectedPartGrams: differenceGrams * share,
      expectedPartOfSeriesGrams: parts.get(source) ?? 0,
    };
  });
}

/** Steady loss by generalised least squares: what one gram a period would do to each residual. */
function steadyLoss(input: BalanceSeriesInput, residuals: readonly number[]) {
  const follow = followBalances(persistentSources(input.periods));
  const perGram = input.periods.map((period) => follow({ ...period, differenceGrams: 1 }).residual);
  const weight = compensatedSum(perGram.map((one) => one ** 2));
  const product = compensatedSum(perGram.map((one, index) => one * (residuals[index] ?? 0)));
  return {
    steadyLossGrams: product / weight,
    steadyLossStandardUncertaintyGrams: 1 / Math.sqrt(weight),
  };
}

function historyOf(residuals: readonly number[]): BalanceSeriesOutput['history'] {
  const past = residuals.slice(0, -1);
  if (past.length < leastHistory) return null;
  const mean = compensatedSum(past) / past.length;
  const squares = compensatedSum(past.map((one) => (one - mean) ** 2));
  const standardDeviation = Math.sqrt(squares / (past.length - 1));
  return {
    residuals: past.length,
    mean,
    standardDeviation,
    lowerLimit: mean - 3 * standardDeviation,
    upperLimit: mean + 3 * standardDeviation,
  };
}

function signalsOf(input: BalanceSeriesInput, sums: CusumOutput): BalanceSeriesOutput['signals'] {
  const { periods, sumsBeginAtPeriod } = input;
  const label = (number: number): string => periods[sumsBeginAtPeriod + number - 2]?.label ?? '';
  return sums.signals.map((signal) => ({
    way: signal.side === 'high' ? 'missing' : 'too much',
    firstPeriod: label(signal.firstNumber),
    lastPeriod: label(signal.lastNumber),
    sincePeriod: label(signal.changePoint),
    isPresent: signal.lastNumber === sums.points.length,
  }));
}

function shiftedRunLength(input: BalanceSeriesInput, decisionInterval: number): number | null {
  const { referenceValue, headstartFraction } = input;
  if (referenceValue === 0) return null;
  const headstart = headstartFraction * decisionInterval;
  const design = { referenceValue, decisionInterval, headstart, sides: 'two' } as const;
  return tellableRunLength(cusumAverageRunLength(design, 2 * referenceValue));
}

function seriesPeriods(
  input: BalanceSeriesInput,
  residuals: readonly BalanceResidual[],
  sums: CusumOutput,
): BalanceSeriesOutput['periods'] {
  const { periods, sumsBeginAtPeriod } = input;
  const cumulative = cumulativeBalances(periods);
  return periods.map(({ label, differenceGrams }, index) => {
    const { residual, residualStandardUncertaintyGrams } = residuals[index] as BalanceResidual;
    const sum = cumulative[index] as CumulativeBalance;
    const point = sums.points[index - sumsBeginAtPeriod + 1];
    return {
      label,
      differenceGrams,
      standardUncertaintyGrams: Math.sqrt(varianceOf(periods, index)),
      correlationWithBefore: correlationWithBefore(periods, index),
      residual,
      residualStandardUncertaintyGrams,
      cumulativeDifferenceGrams: sum.differenceGrams,
      cumulativeStandardUncertaintyGrams: sum.standardUncertaintyGrams,
      upperSum: point?.upperSum ?? null,
      lowerSum: point?.lowerSum ?? null,
    };
  });
}

/** The decision interval as stated, or that of the wanted average run length. */
function intervalOf({ decision, referenceValue, headstartFraction }: BalanceSeriesInput): number {
  if (decision.by === 'interval') return decision.decisionInterval;
  return cusumDecisionInterval(
    { referenceValue, sides: 'two', headstartFraction },
    decision.inControlRunLengthPeriods,
  );
}

/**
 * Consecutive balances of one place and piece standard: whether metal leaks away slowly, too little
 * in each shift for the shift's own limits to show it.
 *
 * Formula: residuals z = L⁻¹·d (`balanceResiduals`); Page's sums on them, both sides, signal above h,
 * h stated or found for an average run length without a loss; cumulative difference with its standard
 * uncertainty (`cumulativeBalances`); Σz² against chi-square; steady loss (Σm·z)/(Σm²) with m = L⁻¹·1.
 * Split of the newest difference: by its shares of the variance alone (difference × u²/Σu²), and by
 * the conditional mean of its errors given the whole series.
 *
 * @param input periods in the order of time, 1 to 2000, each name once, masses in g, the first with the
 *   uncertainty of its opening stock; k from 0 to 5, h above 0 to 60; headstart from 0 to 0.9 of h;
 *   the period at which the sums begin
 * @returns residuals, sums and intervals in standard deviations, masses in g, nothing rounded but words
 * @throws DomainError for a balance without an error of its own, a first period without its opening
 *   stock, sums that begin after the last period, or a run length that no interval gives
 * Validity: normal errors of the stated size, persistent errors unchanged over the series. A steady
 * loss and a persistent error look alike: where the second is large, recalibrate and weigh again
 * instead of waiting. See reference/balance-series.
 * Source: T. Burr et al. (2016), EPJ Nuclear Sciences and Technologies 2, 36; E. S. Page (1954),
 * Biometrika 41, 100-115; J. M. Lucas and R. B. Crosier (1982), Technometrics 24, 199-205
 * @example balanceSeries({ periods: [2, -5].map((differenceGrams, index) => ({ label: `shift ${index}`,
 *     differenceGrams, openingStandardUncertaintyGrams: index === 0 ? 4 : null,
 *     endingStandardUncertaintyGrams: 4, transferStandardUncertaintyGrams: 3, persistent: [] })),
 *   referenceValue: 0.5, decision: { by: 'interval', decisionInterval: 5 }, headstartFraction: 0,
 *   sumsBeginAtPeriod: 1 }).periods[1].residual // -0.7157259
 */
export function balanceSeries(input: BalanceSeriesInput): BalanceSeriesOutput {
  const { periods, referenceValue, headstartFraction, sumsBeginAtPeriod } = input;
  requireDomain(sumsBeginAtPeriod <= periods.length, {
    field: 'sumsBeginAtPeriod',
    value: sumsBeginAtPeriod,
    accepted: `the number of a period, from 1 to ${periods.length}`,
  });
  const residuals = balanceResiduals(periods);
  const values = residuals.map(({ residual }) => residual);
  const decisionInterval = intervalOf(input);
  const sums = cusum({
    values: values.slice(sumsBeginAtPeriod - 1),
    target: 0,
    standardDeviation: 1,
    referenceValue,
    decisionInterval,
    headstart: headstartFraction * decisionInterval,
  });
  const quadraticStatistic = compensatedSum(values.map((value) => value ** 2));
  const output = {
    periods: seriesPeriods(input, residuals, sums),
    decisionInterval,
    inControlRunLengthPeriods: sums.inControlAverageRunLength,
    shiftedRunLengthPeriods: shiftedRunLength(input, decisionInterval),
    signals: signalsOf(input, sums),
    newest: newestSplit(input, residuals[residuals.length - 1] as BalanceResidual),
    quadraticStatistic,
    quadraticProbability: upperChiSquareProbability(quadraticStatistic, periods.length),
    ...steadyLoss(input, values),
    history: historyOf(values),
    words: '',
  };
  return { ...output, words: balanceSeriesWords(output) };
}

const exampleDifferences = [2, -5, 7.5, 9, 4, 6];

export const balanceSeriesCalculation = defineCalculation<BalanceSeriesInput, BalanceSeriesOutput>({
  id: 'balance-series',
  version: 1,
  topic: 'account',
  title: 'Consecutive balances',
  purpose:
    'Whether metal leaks away slowly over many shifts at one place, since when and how much, and which source of error explains most of the newest difference.',
  source:
    'T. Burr et al. (2016), EPJ Nuclear Sciences and Technologies 2, 36; E. S. Page (1954), Biometrika 41; J. M. Lucas and R. B. Crosier (1982), Technometrics 24',
  input: balanceSeriesInput,
  output: balanceSeriesOutput,
  // Six shifts with a persistent error of 2 g, reference/balance-series: last residual 1.045.
  example: {
    periods: exampleDifferences.map((differenceGrams, index) => ({
      label: `shift ${index + 1}`,
      differenceGrams,
      openingStandardUncertaintyGrams: index === 0 ? 4 : null,
      endingStandardUncertaintyGrams: 4,
      transferStandardUncertaintyGrams: 3,
      persistent: [{ source: 'calibration', effectGrams: 2 }],
    })),
    referenceValue: 0.5,
    decision: { by: 'run length', inControlRunLengthPeriods: 500 },
    headstartFraction: 0,
    sumsBeginAtPeriod: 1,
  },
  compute: balanceSeries,
  draw: drawBalanceSeries,
});
