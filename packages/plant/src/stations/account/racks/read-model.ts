import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import type { ContainersPutAway, RackChecked, RackCounted, RackOpened } from './bodies.ts';
import { putAways, rackCounts, racks } from './books.ts';
import { contentOfRack } from './container.ts';

export async function applyRackOpened(
  books: BookWriter,
  entry: RecordedEntry<RackOpened>,
): Promise<void> {
  await books.put(racks, { ...entry.body, entry: entry.number, check: null });
}

export async function applyPutAway(
  books: BookWriter,
  entry: RecordedEntry<ContainersPutAway>,
): Promise<void> {
  const { rack, containers } = entry.body;
  for (const { container } of containers) {
    await books.put(putAways, { container, rack, entry: entry.number });
  }
}

export async function applyRackChecked(
  books: BookWriter,
  entry: RecordedEntry<RackChecked>,
): Promise<void> {
  const { rack, found, missing, strange } = entry.body;
  const row = await books.get(racks, rack);
  if (!row) return;
  const { number, instant, author } = entry;
  const check = { entry: number, instant, author, found, missing, strange };
  await books.put(racks, { ...row, check });
}

/** Keeps a count with what the labels of the containers say at this entry. */
export async function applyRackCounted(
  books: BookWriter,
  entry: RecordedEntry<RackCounted>,
): Promise<void> {
  const { rack, place, lines } = entry.body;
  const content = await contentOfRack(books, { rack, place });
  const byStandard = Map.groupBy(content, ({ pieceStandard }) => pieceStandard);
  await books.put(rackCounts, {
    rack,
    entry: entry.number,
    place,
    instant: entry.instant,
    author: entry.author,
    lines,
    labelled: [...byStandard].map(([pieceStandard, of]) => ({
      pieceStandard,
      pieces: of.reduce((sum, { pieces }) => sum + pieces, 0),
    })),
  });
}
