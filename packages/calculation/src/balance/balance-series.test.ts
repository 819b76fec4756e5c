import { describe, expect, it } from 'vitest';
import { calculationById } from '../catalogue/catalogue.ts';
import { runCalculation } from '../catalogue/run.ts';
import {
  type BalanceSeriesInput,
  balanceResiduals,
  balanceSeries,
  balanceSeriesCalculation,
} from './balance-series.ts';

const period = (label: string, differenceGrams: number, isFirst = false) => ({
  label,
  differenceGrams,
  openingStandardUncertaintyGrams: isFirst ? 0 : null,
  endingStandardUncertaintyGrams: 0,
  transferStandardUncertaintyGrams: 1,
  persistent: [] as { source: string; effectGrams: number }[],
});

const seriesOf = (
  differences: readonly number[],
  changes: Partial<BalanceSeriesInput> = {},
): BalanceSeriesInput => ({
  periods: differences.map((one, index) => period(`S${index + 1}`, one, index === 0)),
  referenceValue: 0.5,
  decision: { by: 'interval', decisionInterval: 4 },
  headstartFraction: 0,
  sumsBeginAtPeriod: 1,
  ...changes,
});

// 0.3, −0.8, 1.1 ... : the upper sum by hand is 0, 0, 0.6, 1, 2.1, 1.8, 2.7, 4.2.
const drifting = [0.3, -0.8, 1.1, 0.9, 1.6, 0.2, 1.4, 2];

const problemsOf = (input: unknown) => {
  const result = runCalculation(calculationById('balance-series'), input);
  if (result.outcome !== 'refused') throw new Error('was computed');
  return result.problems.map(({ field, accepted }) => `${field}: ${accepted}`);
};

describe('a series of balances', () => {
  it('signals missing metal, says since when, and what a false alarm costs', () => {
    const output = balanceSeries(seriesOf(drifting));
    expect(output.signals).toEqual([
      { way: 'missing', firstPeriod: 'S8', lastPeriod: 'S8', sincePeriod: 'S3', isPresent: true },
    ]);
    // Lucas and Crosier (1982), Table 1: 168 without a shift, 8.38 at a shift of 1.
    expect(output.inControlRunLengthPeriods).toBeCloseTo(167.68, 2);
    expect(output.shiftedRunLengthPeriods).toBeCloseTo(8.38, 2);
    expect(output.words).toContain('most likely since S3');
    expect(output.words).toContain('once in 168 periods');
  });

  it('finds the interval of a chosen run length', () => {
    const decision = { by: 'run length', inControlRunLengthPeriods: 500 } as const;
    const output = balanceSeries(seriesOf(drifting, { decision }));
    // 5.0707 by an independent program, reference/average-run-length.
    expect(output.decisionInterval).toBeCloseTo(5.0707, 4);
    expect(output.inControlRunLengthPeriods).toBeCloseTo(500, 6);
    expect(output.signals).toEqual([]);
    expect(output.words).toContain('No sum has gone beyond 5.07.');
  });

  it('begins its sums anew after a signal was resolved, and keeps the residuals', () => {
    const output = balanceSeries(seriesOf([...drifting, 0.2], { sumsBeginAtPeriod: 9 }));
    expect(output.periods.slice(0, 8).map(({ upperSum }) => upperSum)).toEqual(
      new Array(8).fill(null),
    );
    expect(output.periods[8]?.upperSum).toBe(0);
    expect(output.periods[8]?.residual).toBeCloseTo(0.2, 12);
    expect(output.signals).toEqual([]);
  });

  it('takes an ending stock that was counted too much back in the next period', () => {
    const stock = (difference: number, isFirst: boolean) => ({
      ...period('', difference, isFirst),
      endingStandardUncertaintyGrams: 3,
      transferStandardUncertaintyGrams: 0.001,
    });
    const [, second] = balanceResiduals([stock(-6, true), stock(6, false)]);
    // All of the first difference lay in the stock, so that the second was to be expected.
    expect(Math.abs(second?.residual ?? 9)).toBeLessThan(0.001);
  });

  it('splits the newest difference by its own variance and by the whole series', () => {
    const shared = [{ source: 'calibration', effectGrams: 1 }];
    const input = seriesOf([4, 4, 4, 4]);
    const output = balanceSeries({
      ...input,
      periods: input.periods.map((one) => ({ ...one, persistent: shared })),
    });
    const part = (source: string) => output.newest.find((one) => one.source === source);
    expect(part('transfers')).toMatchObject({ sharePercent: 50, expectedPartGrams: 2 });
    // Four balances of 4 g with one error of 1 g in common: 4·4·1/(1 + 4) = 3.2 g are the error's.
    expect(part('calibration')?.expectedPartOfSeriesGrams).toBeCloseTo(3.2, 12);
    expect(part('transfers')?.expectedPartOfSeriesGrams).toBeCloseTo(0.8, 12);
    expect(output.periods[1]?.correlationWithBefore).toBeCloseTo(0.5, 12);
  });

  it('knows a loss only as well as the persistent error lets it', () => {
    const alone = balanceSeries(seriesOf([2, 2, 2, 2]));
    expect(alone.steadyLossGrams).toBeCloseTo(2, 12);
    expect(alone.steadyLossStandardUncertaintyGrams).toBeCloseTo(0.5, 12);
    const input = seriesOf([2, 2, 2, 2]);
    const shared = balanceSeries({
      ...input,
      periods: input.periods.map((one) => ({
        ...one,
        persistent: [{ source: 'calibration', effectGrams: 3 }],
      })),
    });
    // √(1/4 + 9) g: no number of shifts brings it below the 3 g of the calibration.
    expect(shared.steadyLossStandardUncertaintyGrams).toBeCloseTo(Math.sqrt(9.25), 12);
  });

  it('sets limits from history beside, once there are eight residuals before the newest', () => {
    expect(balanceSeries(seriesOf(drifting)).history).toBeNull();
    const { history } = balanceSeries(seriesOf([1, -1, 1, -1, 1, -1, 1, -1, 50]));
    // Mean 0, squares 8 over 7.
    expect(history).toMatchObject({ residuals: 8, mean: 0 });
    expect(history?.upperLimit).toBeCloseTo(3 * Math.sqrt(8 / 7), 12);
  });

  it('says that a sum went back', () => {
    const { words } = balanceSeries(seriesOf([...drifting, -3]));
    expect(words).toContain('the last that was, for metal missing, ended with S8');
  });

  it('has no run length at a shift of 0', () => {
    expect(balanceSeries(seriesOf([1], { referenceValue: 0 })).shiftedRunLengthPeriods).toBeNull();
  });

  it('draws residuals and both sums against h, and what signals', () => {
    const input = seriesOf(drifting);
    const [sums, cumulative] = balanceSeriesCalculation.draw?.(input, balanceSeries(input)) ?? [];
    if (sums?.kind !== 'chart' || cumulative?.kind !== 'chart') throw new Error('no chart');
    expect(sums.levels?.map(({ y }) => y)).toEqual([4, -4]);
    expect(sums.series.find(({ standsOut }) => standsOut)).toMatchObject({ x: [8] });
    expect(cumulative.series[0]?.y.at(-1)).toBeCloseTo(6.7, 12);
  });
});

describe('refusals', () => {
  it('a first period without its opening stock', () => {
    const input = seriesOf([1]);
    const periods = input.periods.map((one) => ({ ...one, openingStandardUncertaintyGrams: null }));
    expect(problemsOf({ ...input, periods })[0]).toMatch(
      /openingStandardUncertaintyGrams: .*first/,
    );
    expect(() => balanceResiduals(periods)).toThrow('since no period stands before');
  });

  it('a balance without an error of its own', () => {
    const input = seriesOf([1]);
    const periods = input.periods.map((one) => ({ ...one, transferStandardUncertaintyGrams: 0 }));
    expect(problemsOf({ ...input, periods })).toEqual([
      'periods.0: a balance with an error of its own: of its transfers or its ending stock',
    ]);
  });

  it('sums that begin after the last period', () => {
    expect(problemsOf(seriesOf([1], { sumsBeginAtPeriod: 2 }))).toEqual([
      'sumsBeginAtPeriod: the number of a period, from 1 to 1',
    ]);
    expect(() => balanceSeries(seriesOf([1], { sumsBeginAtPeriod: 2 }))).toThrow('from 1 to 1');
  });

  it('two periods of one name', () => {
    const input = seriesOf([1, 2]);
    const periods = input.periods.map((one) => ({ ...one, label: 'S1' }));
    expect(problemsOf({ ...input, periods })).toEqual([
      'periods.1.label: a name that no other period bears',
    ]);
  });

  it('one source twice in a period, or under the name of another error', () => {
    const input = seriesOf([1]);
    const withSources = (...sources: string[]) => ({
      ...input,
      periods: input.periods.map((one) => ({
        ...one,
        persistent: sources.map((source) => ({ source, effectGrams: 1 })),
      })),
    });
    expect(problemsOf(withSources('gain', 'gain'))[0]).toMatch(/each source once in a period/);
    expect(problemsOf(withSources('transfers'))[0]).toMatch(/a name other than opening stock/);
  });

  it('more persistent errors than fifty', () => {
    const input = seriesOf([1, 2, 3]);
    const periods = input.periods.map((one, index) => ({
      ...one,
      persistent: Array.from({ length: 20 }, (_, at) => ({
        source: `${index} ${at}`,
        effectGrams: 1,
      })),
    }));
    expect(problemsOf({ ...input, periods })).toEqual([
      'periods: at most 50 persistent errors in the whole series',
    ]);
  });

  it('a run length that no interval gives', () => {
    const decision = { by: 'run length', inControlRunLengthPeriods: 10_000_000 } as const;
    expect(problemsOf(seriesOf([1], { decision, referenceValue: 0 }))[0]).toMatch(
      /a run length up to/,
    );
  });
});
