import type { BookReader } from '../../journal/books.ts';
import { movements } from '../../journal/core-books.ts';
import type { Weighed } from '../../journal/weighed.ts';
import { boxOf } from '../put-up/index.ts';
import type { BoxesDispatched } from './bodies.ts';

/** Boxes leave with the masses that brought them into the strong room, and so with their weighings. */
export async function weighingsOfDispatch(
  { boxes }: BoxesDispatched,
  books: BookReader,
): Promise<readonly (readonly Weighed[])[]> {
  const found: (readonly Weighed[])[] = [];
  for (const { box, parts } of boxes) {
    const packed = (await boxOf(books, box))?.entry;
    const came = packed === undefined ? [] : await books.select(movements, { prefix: [packed] });
    for (const { melt } of parts) {
      found.push(came.find((row) => row.melt === melt)?.weighings ?? []);
    }
  }
  return found;
}
