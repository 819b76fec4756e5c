import type { BookReader } from '../../journal/books.ts';
import { type BoxRow, boxes, boxesByMelt, type WeighingRow, weighings } from './books.ts';

export type { BoxCheck, MeltInBox, ReferenceMean, TubeInBox } from './bodies.ts';
export type { BoxRow, WeighingRow } from './books.ts';

/** A sealed box with its tubes, melts, masses and seal. */
export async function boxOf(books: BookReader, box: string): Promise<BoxRow | undefined> {
  return books.get(boxes, box);
}

/** Every sealed box, in the order in which they were packed. */
export async function boxesPacked(books: BookReader): Promise<readonly BoxRow[]> {
  return books.select(boxes, { by: 'byEntry' });
}

/** The boxes that hold pieces of a melt, in the order of their names. */
export async function boxesOfMelt(
  books: BookReader,
  melt: string,
): Promise<readonly { readonly box: string; readonly pieces: number }[]> {
  return books.select(boxesByMelt, { prefix: [melt] });
}

/** The weighing of a tube that an entry recorded. */
export async function tubeWeighingOf(
  books: BookReader,
  tube: string,
  entry: number,
): Promise<WeighingRow | undefined> {
  return books.get(weighings, tube, entry);
}
