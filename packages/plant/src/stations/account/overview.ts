import type { BookReader } from '../../journal/books.ts';
import { shiftMovements } from '../../journal/core-books.ts';
import { type InsidePlace, insidePlaces } from '../../journal/place.ts';
import type { ClosingRow, DifferenceRow, Standing, TallyRow } from './books.ts';
import { compareTally } from './comparison.ts';
import {
  lastClosing,
  newestTally,
  periodStart,
  signedSince,
  standingOfPlace,
} from './read-model.ts';

/** What the account knows of one place since its last close, without its single movements. */
export interface PlaceOverview {
  readonly place: InsidePlace;
  readonly standing: readonly Standing[];
  readonly tally: TallyRow | undefined;
  /** Entry of the newest movement since the close; null where nothing moved. */
  readonly lastMoved: number | null;
  /** Piece standards that moved since the close. */
  readonly standardsMoved: readonly string[];
}

/** A shift in which metal moved and that no close covers yet. */
export interface OpenShift {
  readonly shift: string;
  /** Postings of the whole shift. */
  readonly movements: number;
  readonly lastEntry: number;
}

/** Where the account stands: what docket, desk and lists show of the present period. */
export interface Overview {
  readonly closing: ClosingRow | undefined;
  readonly places: readonly PlaceOverview[];
  /** In the order of the work. */
  readonly openShifts: readonly OpenShift[];
  readonly signed: readonly DifferenceRow[];
}

/** The shifts in which metal moved at a place after an entry. */
async function movedAfter(books: BookReader, place: string, entry: number) {
  return books.select(shiftMovements, { by: 'byLast', prefix: [place], from: entry + 1 });
}

/** The shifts that no close covers, each with what moved in it. */
async function shiftsOpen(
  books: BookReader,
  moved: ReadonlySet<string>,
  closing: ClosingRow | undefined,
): Promise<readonly OpenShift[]> {
  const starts = (closing?.places ?? []).map((place) => place.tally);
  const first = Math.min(closing?.lastEntry ?? 0, ...starts);
  const all = await movedAfter(books, '', first);
  return all
    .filter(({ shift }) => moved.has(shift) && shift !== closing?.shift)
    .sort((one, other) => one.firstEntry - other.firstEntry)
    .map(({ shift, movements, lastEntry }) => ({ shift, movements, lastEntry }));
}

/**
 * Reads where the account stands from what the books have counted. Single movements are read by
 * whoever closes or explains a shift, and by nobody who only looks.
 */
export async function overviewOf(books: BookReader): Promise<Overview> {
  const closing = await lastClosing(books);
  const moved = new Set<string>();
  const places: PlaceOverview[] = [];
  const starts: number[] = [];
  for (const place of insidePlaces) {
    const start = periodStart(closing, place);
    starts.push(start);
    const shifts = await movedAfter(books, place, start);
    for (const { shift } of shifts) moved.add(shift);
    places.push({
      place,
      standing: await standingOfPlace(books, place),
      tally: await newestTally(books, place, closing),
      lastMoved: shifts.at(-1)?.lastEntry ?? null,
      standardsMoved: [...new Set(shifts.flatMap(({ pieceStandards }) => pieceStandards))],
    });
  }
  return {
    closing,
    places,
    openShifts: await shiftsOpen(books, moved, closing),
    signed: await signedSince(books, Math.min(...starts)),
  };
}

/** The shift whose tallies are in hand: the oldest that no close covers; nothing where none is open. */
export async function shiftInHand(books: BookReader): Promise<string | undefined> {
  return (await overviewOf(books)).openShifts[0]?.shift;
}

/** Pieces by which the newest tallies differ from the book, of every place that was tallied. */
export async function presentDifferences(books: BookReader): Promise<
  readonly {
    readonly place: InsidePlace;
    readonly pieceStandard: string;
    readonly piecesDifference: number;
  }[]
> {
  const { places, signed } = await overviewOf(books);
  return places.flatMap(({ place, tally }) =>
    tally
      ? compareTally(tally, signed).map(({ pieceStandard, piecesDifference }) => ({
          place,
          pieceStandard,
          piecesDifference,
        }))
      : [],
  );
}
