import { type SeriesEvent, type SeriesState, severityOfSeries } from '@cupel/calculation';
import type { BookReader, BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import type { InspectionResumedBody, LotJudgedBody } from './bodies.ts';
import { inspectionSeries, type JudgedLotRow, type SeriesRow } from './books.ts';

/** Whose lots of which pieces: each such series earns a severity of its own. */
export interface SeriesName {
  readonly supplier: string;
  readonly pieceStandard: string;
}

/** The lots and resumptions of a series, in the order in which they were first recorded. */
export async function seriesOf(
  books: BookReader,
  { supplier, pieceStandard }: SeriesName,
): Promise<readonly SeriesRow[]> {
  return books.select(inspectionSeries, { prefix: [supplier, pieceStandard] });
}

function eventOf(row: SeriesRow): SeriesEvent {
  if (row.event === 'inspection resumed') return { event: row.event };
  const { event, melt, outcome, severity } = row;
  return { event, lot: melt, outcome, severity };
}

/** The severity under which the next lots of a series are inspected, and why. */
export async function inspectionOf(books: BookReader, name: SeriesName): Promise<SeriesState> {
  return severityOfSeries((await seriesOf(books, name)).map(eventOf));
}

/** How the lot of a melt was judged; nothing before its last blank was measured. */
export async function judgedLotOf(
  books: BookReader,
  melt: string,
): Promise<JudgedLotRow | undefined> {
  const [row] = await books.select(inspectionSeries, { by: 'byMelt', prefix: [melt] });
  return row?.event === 'lot judged' ? row : undefined;
}

/** A lot keeps its place in the series when a correction changes how it was judged. */
export async function applyLotJudged(
  books: BookWriter,
  entry: RecordedEntry<LotJudgedBody>,
): Promise<void> {
  const earlier = await judgedLotOf(books, entry.body.melt);
  await books.put(inspectionSeries, {
    ...entry.body,
    event: 'lot judged',
    entry: earlier?.entry ?? entry.number,
    instant: earlier?.instant ?? entry.instant,
    standingEntry: entry.number,
  });
}

export async function applyInspectionResumed(
  books: BookWriter,
  entry: RecordedEntry<InspectionResumedBody>,
): Promise<void> {
  const { supplier, pieceStandard, reason } = entry.body;
  await books.put(inspectionSeries, {
    supplier,
    pieceStandard,
    event: 'inspection resumed',
    entry: entry.number,
    instant: entry.instant,
    melt: '',
    reason,
    author: entry.author,
  });
}
