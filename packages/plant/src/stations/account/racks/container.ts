import type { BookReader } from '../../../journal/books.ts';
import { movements, threads } from '../../../journal/core-books.ts';
import { putAways } from './books.ts';

/** A container as its postings tell it. */
export interface Container {
  readonly container: string;
  /** What it is: a box, a drum. */
  readonly thing: string;
  /** Where its metal went last. */
  readonly place: string;
  readonly pieceStandard: string;
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
  readonly entry: number;
}

/** Where a container lies and what is in it, from the newest entry that moved it; nothing if none did. */
export async function containerOf(
  books: BookReader,
  container: string,
): Promise<Container | undefined> {
  const spoken = await books.select(threads, { by: 'byId', prefix: [container] });
  const entries = [...new Set(spoken.map(({ entry }) => entry))].sort((a, b) => b - a);
  for (const entry of entries) {
    const moved = (await books.select(movements, { prefix: [entry] })).filter(
      (row) => row.container === container,
    );
    const [first] = moved;
    if (!first) continue;
    const sum = (field: 'pieces' | 'grossMicrograms' | 'fineMicrograms') =>
      moved.reduce((total, row) => total + row[field], 0);
    return {
      container,
      thing: spoken[0]?.thing ?? 'container',
      place: first.to,
      pieceStandard: first.pieceStandard,
      pieces: sum('pieces'),
      grossMicrograms: sum('grossMicrograms'),
      fineMicrograms: sum('fineMicrograms'),
      entry,
    };
  }
  return undefined;
}

/** What should lie in a rack: what was put there last and has not left the place since. */
export async function contentOfRack(
  books: BookReader,
  rack: { readonly rack: string; readonly place: string },
): Promise<readonly Container[]> {
  const rows = await books.select(putAways, { by: 'byRack', prefix: [rack.rack] });
  const found: Container[] = [];
  for (const { container } of rows) {
    const known = await containerOf(books, container);
    if (known?.place === rack.place) found.push(known);
  }
  return found;
}
