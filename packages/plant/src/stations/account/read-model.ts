import type { MetalBalanceOutput } from '@cupel/calculation';
import type { BookReader, BookWriter } from '../../journal/books.ts';
import { type MovementRow, movements, sumsOfPlace } from '../../journal/core-books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import type { InsidePlace } from '../../journal/place.ts';
import type {
  ClosingLine,
  DifferenceExplained,
  DifferenceSigned,
  PlaceTallied,
  ShiftClosed,
} from './bodies.ts';
import {
  type ClosingRow,
  closings,
  type DifferenceRow,
  differences,
  type Standing,
  type TallyRow,
  tallies,
} from './books.ts';
import { addToPeriods, addToSeries, applyLateExplanation } from './read-model-periods.ts';

/** What the postings say lies at a place now, by piece standard. */
export async function standingOfPlace(
  books: BookReader,
  place: InsidePlace,
): Promise<readonly Standing[]> {
  const rows = await sumsOfPlace(books, place);
  return rows
    .filter((row) => row.pieces !== 0 || row.grossMicrograms !== 0)
    .map(({ metal, pieceStandard, pieces, grossMicrograms, fineMicrograms }) => ({
      metal,
      pieceStandard,
      pieces,
      grossMicrograms,
      fineMicrograms,
    }));
}

/** Keeps a tally with the book as it stands at this entry. */
export async function applyTally(
  books: BookWriter,
  entry: RecordedEntry<PlaceTallied>,
): Promise<void> {
  const { place, lines, racks } = entry.body;
  await books.put(tallies, {
    tally: entry.number,
    place,
    shift: entry.shift,
    instant: entry.instant,
    author: entry.author,
    lines,
    ...(racks ? { racks } : {}),
    book: await standingOfPlace(books, place),
  });
}

/** Keeps the close, and each difference of grams that stands out as something to explain. */
export async function applyClosing(
  books: BookWriter,
  entry: RecordedEntry<ShiftClosed>,
): Promise<void> {
  const { shift, firstEntry, lastEntry, places } = entry.body;
  await addToSeries(books, entry, await lastClosing(books));
  await addToPeriods(books, entry);
  await books.put(closings, {
    shift,
    entry: entry.number,
    instant: entry.instant,
    author: entry.author,
    witness: entry.witness ?? '',
    firstEntry,
    lastEntry,
    places,
  });
  for (const { place, lines } of places) {
    for (const line of lines) {
      if (line.gramDifference !== null) {
        await books.put(differences, gramDifferenceRow(entry, place, line));
      }
    }
  }
}

/** The grams that were judged: against what was measured at the tally before, where it was. */
function judgedMicrograms(line: ClosingLine): { grossMicrograms: number; fineMicrograms: number } {
  const balance = line.balance?.output as unknown as MetalBalanceOutput | undefined;
  if (!balance) {
    return {
      grossMicrograms: line.grossMicrogramsDifference ?? 0,
      fineMicrograms: line.fineMicrogramsDifference ?? 0,
    };
  }
  // A balance states what is missing as positive; a difference states it as negative.
  return {
    grossMicrograms: Math.round(-1e6 * balance.unexplainedGrossGrams),
    fineMicrograms: Math.round(-1e6 * (balance.fine?.unexplainedFineGrams ?? 0)),
  };
}

function gramDifferenceRow(
  entry: RecordedEntry<ShiftClosed>,
  place: InsidePlace,
  line: ClosingLine,
): DifferenceRow {
  return {
    difference: line.gramDifference as string,
    form: 'grams only',
    entry: entry.number,
    instant: entry.instant,
    shift: entry.body.shift,
    place,
    metal: line.metal,
    pieceStandard: line.pieceStandard,
    melt: null,
    finenessDeclaredPartsPerMillion: null,
    pieces: 0,
    ...judgedMicrograms(line),
    grossMicrogramsEstimated: line.grossMicrogramsEstimated,
    explanation: '',
    author: entry.author,
    witness: entry.witness ?? '',
    state: 'open',
    resolvedEntry: null,
    resolution: null,
  };
}

/** Keeps a signed difference; it is open until it is explained. */
export async function applySignedDifference(
  books: BookWriter,
  entry: RecordedEntry<DifferenceSigned>,
): Promise<void> {
  const { body } = entry;
  const sign = body.direction === 'missing' ? -1 : 1;
  const signed = (magnitude: number) => (magnitude === 0 ? 0 : sign * magnitude);
  await books.put(differences, {
    difference: body.difference,
    form: 'signed',
    entry: entry.number,
    instant: entry.instant,
    shift: entry.shift,
    place: body.place,
    metal: body.metal,
    pieceStandard: body.pieceStandard,
    melt: body.melt,
    finenessDeclaredPartsPerMillion: body.finenessDeclaredPartsPerMillion,
    pieces: signed(body.pieces),
    grossMicrograms: signed(body.grossMicrograms),
    fineMicrograms: signed(body.fineMicrograms),
    grossMicrogramsEstimated: 0,
    explanation: body.explanation,
    author: entry.author,
    witness: entry.witness ?? '',
    state: 'open',
    resolvedEntry: null,
    resolution: null,
  });
}

/** Ends a difference. */
export async function applyExplanation(
  books: BookWriter,
  entry: RecordedEntry<DifferenceExplained>,
): Promise<void> {
  const row = await books.get(differences, entry.body.difference);
  if (!row) return;
  await books.put(differences, {
    ...row,
    state: entry.body.outcome,
    resolvedEntry: entry.number,
    resolution: entry.body.explanation,
  });
  await applyLateExplanation(books, row, entry);
}

/** The newest close; nothing before the first. */
export async function lastClosing(books: BookReader): Promise<ClosingRow | undefined> {
  return (await books.select(closings, { by: 'byEntry', descending: true, limit: 1 }))[0];
}

/** The entry after which the period of a place begins: its tally in the last close. */
export function periodStart(closing: ClosingRow | undefined, place: string): number {
  const closed = closing?.places.find((one) => one.place === place);
  return closed?.tally ?? closing?.lastEntry ?? 0;
}

/** Every posting that belongs to the period of some place. */
export async function movementsSince(
  books: BookReader,
  closing: ClosingRow | undefined,
): Promise<readonly MovementRow[]> {
  const starts = (closing?.places ?? []).map((place) => place.tally);
  const first = Math.min(closing?.lastEntry ?? 0, ...starts) + 1;
  return books.select(movements, { from: first });
}

/** The newest tally of a place in its present period. */
export async function newestTally(
  books: BookReader,
  place: string,
  closing: ClosingRow | undefined,
): Promise<TallyRow | undefined> {
  const [newest] = await books.select(tallies, {
    by: 'byPlace',
    prefix: [place],
    descending: true,
    limit: 1,
  });
  return newest && newest.tally > periodStart(closing, place) ? newest : undefined;
}

/** Differences signed after the given entry. */
export async function signedSince(
  books: BookReader,
  entry: number,
): Promise<readonly DifferenceRow[]> {
  const rows = await books.select(differences, { by: 'byEntry', from: entry + 1 });
  return rows.filter((row) => row.form === 'signed');
}
