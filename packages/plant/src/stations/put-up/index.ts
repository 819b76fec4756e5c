import type { BookReader } from '../../journal/books.ts';
import {
  type BoxRow,
  boxes,
  boxesByMelt,
  type TubeRow,
  type TubeState,
  tubes,
  type WeighingRow,
  weighings,
} from './books.ts';

export type { BoxRow, TubeRow, WeighingRow } from './books.ts';

/** A sealed box with its tubes, melts, masses and seal. */
export async function boxOf(books: BookReader, box: string): Promise<BoxRow | undefined> {
  return books.get(boxes, box);
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

/** The boxes that were packed after an entry, in their order. */
export async function boxesPackedAfter(
  books: BookReader,
  entry: number,
): Promise<readonly BoxRow[]> {
  return books.select(boxes, { by: 'byEntry', from: entry + 1 });
}

/** The tubes that lie closed in put-up. */
export async function tubesInPutUp(books: BookReader): Promise<readonly TubeRow[]> {
  const states: readonly TubeState[] = ['proved', 'weigh again', 'stopped'];
  const found: TubeRow[] = [];
  for (const state of states) {
    found.push(...(await books.select(tubes, { by: 'byState', prefix: [state] })));
  }
  return found;
}

/** The tubes of some boxes, each as it was packed. */
export async function tubesOfBoxes(
  books: BookReader,
  packed: readonly BoxRow[],
): Promise<readonly TubeRow[]> {
  const found: TubeRow[] = [];
  for (const box of packed) {
    for (const { tube } of box.tubes) {
      const row = await books.get(tubes, tube);
      if (row?.box === box.box) found.push(row);
    }
  }
  return found;
}
