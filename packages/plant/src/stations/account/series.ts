import {
  type BalanceSeriesInput,
  type BalanceSeriesOutput,
  calculationById,
  runCalculation,
} from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import { type BalanceRow, balanceSeriesBook, type DriftRow, drifts } from './books-periods.ts';

/** So many of the newest balances are looked at: five weeks of three shifts. */
const seriesLength = 105;

/** Fewer balances than this are no series. */
const leastSeries = 2;

/**
 * Reference value and decision interval of Page's test: common practice; without a loss such a chart
 * signals once in 465 balances (Lucas and Crosier 1982 for k = 0.5, computed for h = 5).
 */
const referenceValue = 0.5;
const decisionInterval = 5;

/** The balances of one place and piece standard, with what their sums say. */
export interface Series {
  readonly rows: readonly BalanceRow[];
  readonly input: BalanceSeriesInput;
  readonly output: BalanceSeriesOutput;
  /** The newest answer to a drift here. */
  readonly resolved: DriftRow | undefined;
  /** The signal that waits for an answer. */
  readonly signal: BalanceSeriesOutput['signals'][number] | undefined;
}

function inputOf(rows: readonly BalanceRow[]): BalanceSeriesInput {
  return {
    periods: rows.map((row, index) => ({
      label: row.shift,
      differenceGrams: row.differenceGrams,
      openingStandardUncertaintyGrams:
        row.isCarried && index > 0 ? null : row.openingStandardUncertaintyGrams,
      endingStandardUncertaintyGrams: row.endingStandardUncertaintyGrams,
      transferStandardUncertaintyGrams: row.transferStandardUncertaintyGrams,
      persistent: row.persistent.map((one) => ({ ...one })),
    })),
    referenceValue,
    decision: { by: 'interval', decisionInterval },
    headstartFraction: 0,
    sumsBeginAtPeriod: 1,
  };
}

/**
 * The newest balances of a place and piece standard, since the last answer to a drift; nothing where
 * there are too few weighed balances.
 */
export async function seriesOf(
  books: BookReader,
  place: string,
  pieceStandard: string,
): Promise<Series | undefined> {
  const newest = await books.select(balanceSeriesBook, {
    prefix: [place, pieceStandard],
    descending: true,
    limit: seriesLength,
  });
  if (newest.length < leastSeries) return undefined;
  const all = newest.toReversed();
  const resolved = await books.get(drifts, place, pieceStandard);
  // What was lost before an answer is known, so that the stocks of that time foretell nothing now.
  const since = resolved ? all.filter((row) => row.entry > resolved.closing) : all;
  const isAnew = since.length >= leastSeries;
  const rows = isAnew ? since : all;
  const input = inputOf(rows);
  const result = runCalculation(calculationById('balance-series'), input);
  if (result.outcome === 'refused') return undefined;
  const output = result.output as BalanceSeriesOutput;
  // Until there are two balances since the answer, the series shows what was answered.
  const signal = isAnew ? output.signals.find(({ isPresent }) => isPresent) : undefined;
  return { rows, input, output, resolved, signal };
}
