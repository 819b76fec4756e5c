import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import type { NumbersCounted, NumbersReceived, NumbersSpoiled } from './bodies.ts';
import { numberSeries, spoiledNumbers } from './books.ts';

export async function applyReceived(
  books: BookWriter,
  entry: RecordedEntry<NumbersReceived>,
): Promise<void> {
  const { number, instant, body } = entry;
  await books.put(numberSeries, { ...body, entry: number, instant, count: null });
}

export async function applySpoiled(
  books: BookWriter,
  entry: RecordedEntry<NumbersSpoiled>,
): Promise<void> {
  const { number, author, witness, body } = entry;
  await books.put(spoiledNumbers, { ...body, entry: number, author, witness: witness ?? '' });
}

export async function applyCounted(
  books: BookWriter,
  entry: RecordedEntry<NumbersCounted>,
): Promise<void> {
  const { number, instant, body } = entry;
  const row = await books.get(numberSeries, body.series);
  if (row) {
    await books.put(numberSeries, { ...row, count: { ...body, entry: number, instant } });
  }
}
