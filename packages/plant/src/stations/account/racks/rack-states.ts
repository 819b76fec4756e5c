import type { BookReader } from '../../../journal/books.ts';
import { movements } from '../../../journal/core-books.ts';
import { lastClosing, periodStart } from '../read-model.ts';
import {
  type PutAwayRow,
  putAways,
  type RackCountRow,
  type RackRow,
  rackCounts,
  racks,
} from './books.ts';
import { containerOf } from './container.ts';

/** A rack of a place with its count in the present period. */
export interface RackState {
  readonly rack: RackRow;
  /** The newest count since the last close. */
  readonly count: RackCountRow | undefined;
  /** The entry that moved a container of the rack after the count. */
  readonly outdatedBy: number | undefined;
}

/** Entries after a count by which containers may have come into the rack or left it. */
async function changesAfter(
  books: BookReader,
  count: RackCountRow,
  put: readonly PutAwayRow[],
): Promise<readonly number[]> {
  const own = new Set(put.filter(({ rack }) => rack === count.rack).map((row) => row.container));
  const moved = await books.select(movements, { from: count.entry + 1 });
  const changes = moved
    .filter(({ from, to }) => from === count.place || to === count.place)
    .filter(({ container }) => own.has(container))
    .map(({ entry }) => entry);
  for (const { container, rack, entry } of put) {
    if (entry <= count.entry) continue;
    // What came to the place after the count lay in no rack of it then.
    const cameAfter = ((await containerOf(books, container))?.entry ?? 0) > count.entry;
    if (rack === count.rack || !cameAfter) changes.push(entry);
  }
  return changes;
}

/** The racks of a place with what was counted in them since the last close. */
export async function rackStates(books: BookReader, place: string): Promise<readonly RackState[]> {
  const rows = await books.select(racks, { by: 'byPlace', prefix: [place] });
  if (rows.length === 0) return [];
  const start = periodStart(await lastClosing(books), place);
  const put: PutAwayRow[] = [];
  for (const { rack } of rows) {
    put.push(...(await books.select(putAways, { by: 'byRack', prefix: [rack] })));
  }
  const states: RackState[] = [];
  for (const rack of rows) {
    const selection = { prefix: [rack.rack], from: start + 1, descending: true, limit: 1 };
    const [count] = await books.select(rackCounts, selection);
    const changes = count ? await changesAfter(books, count, put) : [];
    states.push({ rack, count, outdatedBy: changes.length > 0 ? Math.min(...changes) : undefined });
  }
  return states;
}
