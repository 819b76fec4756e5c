import type { BookWriter } from '../../../journal/books.ts';
import { defineBook } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import type { MetalTakenOut } from './bodies.ts';

export type TakenOutRow = MetalTakenOut & {
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string;
};

/** What left the laboratory in another form than pieces. */
export const takenOut = defineBook<TakenOutRow>({
  name: 'laboratory_taken_out',
  meaning: 'Cuttings, cornets, solutions and losses by which metal left the laboratory.',
  key: ['melt', 'entry'],
});

export async function applyTakenOut(
  books: BookWriter,
  entry: RecordedEntry<MetalTakenOut>,
): Promise<void> {
  const { number, instant, author, witness, body } = entry;
  await books.put(takenOut, { ...body, entry: number, instant, author, witness: witness ?? '' });
}
