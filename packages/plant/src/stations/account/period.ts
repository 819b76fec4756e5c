import type { BookReader } from '../../journal/books.ts';
import type { MovementRow } from '../../journal/core-books.ts';
import { type InsidePlace, insidePlaces } from '../../journal/place.ts';
import type { ClosingRow, DifferenceRow, Standing, TallyRow } from './books.ts';
import { touches } from './comparison.ts';
import {
  lastClosing,
  movementsSince,
  newestTally,
  periodStart,
  signedSince,
  standingOfPlace,
} from './read-model.ts';

/** What the account knows of one place since its last close. */
export interface PlacePeriod {
  readonly place: InsidePlace;
  /** The period of the place begins after this entry. */
  readonly start: number;
  readonly standing: readonly Standing[];
  readonly movements: readonly MovementRow[];
  readonly hasMoved: boolean;
  readonly tally: TallyRow | undefined;
}

/** What the account knows since the last close. */
export interface Period {
  readonly closing: ClosingRow | undefined;
  readonly places: readonly PlacePeriod[];
  /** Every movement that belongs to the period of some place, in order. */
  readonly movements: readonly MovementRow[];
  readonly signed: readonly DifferenceRow[];
}

/** Reads the present period from the books. */
export async function periodOf(books: BookReader): Promise<Period> {
  const closing = await lastClosing(books);
  const all = await movementsSince(books, closing);
  const places: PlacePeriod[] = [];
  for (const place of insidePlaces) {
    const start = periodStart(closing, place);
    const own = all.filter((movement) => movement.entry > start && touches(movement, place));
    places.push({
      place,
      start,
      standing: await standingOfPlace(books, place),
      movements: own,
      hasMoved: own.length > 0,
      tally: await newestTally(books, place, closing),
    });
  }
  const open = new Set(
    places.flatMap((place) => place.movements.map((movement) => movement.entry)),
  );
  return {
    closing,
    places,
    movements: all.filter((movement) => open.has(movement.entry)),
    signed: await signedSince(books, Math.min(...places.map((place) => place.start))),
  };
}

/**
 * Whether the place needs a tally before a shift can be closed: it holds metal or has moved some.
 * Metal on its way is signed for at both ends; only what has not arrived is counted.
 */
export function needsTally(
  place: Pick<PlacePeriod, 'place' | 'standing'> & { readonly hasMoved: boolean },
): boolean {
  if (place.standing.length > 0) return true;
  return place.place !== 'in-transit' && place.hasMoved;
}

/**
 * Shifts in which metal moved and that no close covers yet, in the order of the work. What still
 * moves in a shift after its close belongs to the close of the next.
 */
export function openShifts(period: Period): readonly string[] {
  const shifts = new Set(period.movements.map((movement) => movement.shift));
  shifts.delete(period.closing?.shift ?? '');
  return [...shifts];
}
