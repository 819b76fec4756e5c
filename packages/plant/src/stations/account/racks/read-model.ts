import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import type { ContainersPutAway, RackChecked, RackOpened } from './bodies.ts';
import { putAways, racks } from './books.ts';

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
