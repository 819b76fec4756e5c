import type { Chart } from '../catalogue/calculation.ts';
import type { BalanceSeriesInput, BalanceSeriesOutput } from './balance-series-schema.ts';

type SeriesPeriod = BalanceSeriesOutput['periods'][number];

interface Numbered extends SeriesPeriod {
  readonly number: number;
}

/** Periods that signal, on the side on which they do. */
function beyond(periods: readonly Numbered[], interval: number): { x: number[]; y: number[] } {
  const high = periods.filter(({ upperSum }) => (upperSum ?? 0) > interval);
  const low = periods.filter(({ lowerSum }) => (lowerSum ?? 0) > interval);
  return {
    x: [...high, ...low].map(({ number }) => number),
    y: [
      ...high.map(({ upperSum }) => upperSum ?? 0),
      ...low.map(({ lowerSum }) => -(lowerSum ?? 0)),
    ],
  };
}

function sumsChart(input: BalanceSeriesInput, output: BalanceSeriesOutput): Chart {
  const periods = output.periods.map((one, index) => ({ ...one, number: index + 1 }));
  const summed = periods.slice(input.sumsBeginAtPeriod - 1);
  const x = summed.map(({ number }) => number);
  const signal = beyond(summed, output.decisionInterval);
  return {
    kind: 'chart',
    title: 'Residuals of the balances and their sums; above 0 is missing',
    xTitle: 'Period',
    yTitle: 'Standard deviations',
    series: [
      {
        label: 'residual',
        kind: 'points',
        x: periods.map(({ number }) => number),
        y: periods.map(({ residual }) => residual),
      },
      { label: 'sum missing', kind: 'line', x, y: summed.map(({ upperSum }) => upperSum ?? 0) },
      {
        label: 'sum too much',
        kind: 'line',
        x,
        y: summed.map(({ lowerSum }) => (lowerSum ? -lowerSum : 0)),
      },
      ...(signal.x.length > 0
        ? [{ label: 'signal', kind: 'points' as const, ...signal, standsOut: true }]
        : []),
    ],
    levels: [
      { y: output.decisionInterval, label: 'h' },
      { y: -output.decisionInterval, label: '−h' },
    ],
  };
}

function cumulativeChart(output: BalanceSeriesOutput): Chart {
  const { periods } = output;
  const y = periods.map(({ cumulativeDifferenceGrams }) => cumulativeDifferenceGrams);
  const twice = periods.map((one) => 2 * one.cumulativeStandardUncertaintyGrams);
  return {
    kind: 'chart',
    title: 'Cumulative difference, with twice its standard uncertainty',
    xTitle: 'Period',
    yTitle: 'Missing, g',
    series: [
      {
        label: 'missing',
        kind: 'line',
        x: periods.map((_, index) => index + 1),
        y,
        lower: y.map((value, index) => value - (twice[index] as number)),
        upper: y.map((value, index) => value + (twice[index] as number)),
      },
    ],
    levels: [{ y: 0, label: 'nothing' }],
  };
}

/** The residuals with Page's sums, and the cumulative difference. */
export function drawBalanceSeries(
  input: BalanceSeriesInput,
  output: BalanceSeriesOutput,
): readonly Chart[] {
  return [sumsChart(input, output), cumulativeChart(output)];
}
