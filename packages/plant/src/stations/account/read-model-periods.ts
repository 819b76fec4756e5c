import type { BookReader, BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import type { ShiftClosed } from './bodies.ts';
import type {
  DriftResolved,
  PeriodClosed,
  PeriodCorrected,
  ShiftHandedOver,
} from './bodies-periods.ts';
import type { ClosingRow, DifferenceRow } from './books.ts';
import {
  balanceSeriesBook,
  corrections,
  drifts,
  handOvers,
  type PeriodRow,
  periods,
} from './books-periods.ts';
import { seriesRow } from './series-row.ts';
import { dayOfShift, monthOfShift } from './shift-names.ts';

/** Adds a closed shift to its day and its month. */
export async function addToPeriods(
  books: BookWriter,
  entry: RecordedEntry<ShiftClosed>,
): Promise<void> {
  const { shift } = entry.body;
  const lengths = { [dayOfShift(shift)]: 'day', [monthOfShift(shift)]: 'month' } as const;
  for (const [period, length] of Object.entries(lengths)) {
    const before = await books.get(periods, period);
    await books.put(periods, {
      period,
      length,
      state: before?.state ?? 'open',
      shifts: [...(before?.shifts ?? []), shift],
      lastClose: entry.instant,
      entry: before?.entry ?? null,
      instant: before?.instant ?? null,
      author: before?.author ?? null,
      witness: before?.witness ?? null,
      statement: before?.statement ?? null,
    });
  }
}

/** Adds the weighed balances of a close to the series of their places. */
export async function addToSeries(
  books: BookWriter,
  entry: RecordedEntry<ShiftClosed>,
  closingBefore: ClosingRow | undefined,
): Promise<void> {
  for (const { place, lines } of entry.body.places) {
    for (const line of lines) {
      const { pieceStandard } = line;
      const before =
        closingBefore &&
        (await books.get(balanceSeriesBook, place, pieceStandard, closingBefore.entry));
      const { shift } = entry.body;
      const at = { place, entry: entry.number, shift, isCarried: before !== undefined };
      const row = seriesRow(line, at);
      if (row) await books.put(balanceSeriesBook, row);
    }
  }
}

/** Freezes a day or month. */
export async function applyPeriodClosed(
  books: BookWriter,
  entry: RecordedEntry<PeriodClosed>,
): Promise<void> {
  const before = await books.get(periods, entry.body.period);
  if (!before) return;
  await books.put(periods, {
    ...before,
    state: 'closed',
    entry: entry.number,
    instant: entry.instant,
    author: entry.author,
    witness: entry.witness ?? '',
    statement: entry.body,
  });
}

/** Keeps what was said later of a closed period. */
export async function applyPeriodCorrected(
  books: BookWriter,
  entry: RecordedEntry<PeriodCorrected>,
): Promise<void> {
  await books.put(corrections, {
    period: entry.body.period,
    entry: entry.number,
    correctedEntry: entry.body.entry,
    instant: entry.instant,
    author: entry.author,
    witness: entry.witness ?? '',
    explanation: entry.body.explanation,
  });
}

/** The closed day and month in which a shift lies. */
export async function closedPeriodsOf(
  books: BookReader,
  shift: string,
): Promise<readonly PeriodRow[]> {
  const rows = [
    await books.get(periods, dayOfShift(shift)),
    await books.get(periods, monthOfShift(shift)),
  ];
  return rows.filter((row): row is PeriodRow => row?.state === 'closed');
}

/** Shows the end of a difference at the closed periods that it belongs to. */
export async function applyLateExplanation(
  books: BookWriter,
  row: DifferenceRow,
  entry: RecordedEntry<{ explanation: string }>,
): Promise<void> {
  for (const { period } of await closedPeriodsOf(books, row.shift)) {
    await books.put(corrections, {
      period,
      entry: entry.number,
      correctedEntry: row.entry,
      instant: entry.instant,
      author: entry.author,
      witness: entry.witness ?? '',
      explanation: entry.body.explanation,
    });
  }
}

/** Keeps the handover of a shift. */
export async function applyHandOver(
  books: BookWriter,
  entry: RecordedEntry<ShiftHandedOver>,
): Promise<void> {
  await books.put(handOvers, { ...entry.body, entry: entry.number, instant: entry.instant });
}

/** Lets the series of a place begin after the close that was answered. */
export async function applyDriftResolved(
  books: BookWriter,
  entry: RecordedEntry<DriftResolved>,
): Promise<void> {
  const { place, pieceStandard, closing, finding } = entry.body;
  await books.put(drifts, {
    place,
    pieceStandard,
    closing,
    entry: entry.number,
    instant: entry.instant,
    author: entry.author,
    witness: entry.witness ?? '',
    finding,
  });
}
