import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { type UseRow, uses } from './books.ts';

/** Notes what a run or measurement was made with, so that a lot or an instrument finds it again. */
export async function noteUses(
  books: BookWriter,
  entry: RecordedEntry,
  made: {
    readonly melt: string;
    readonly assayRun: string | null;
    readonly instruments: readonly string[];
    readonly reagentLots?: readonly string[] | undefined;
  },
): Promise<void> {
  const { melt, assayRun } = made;
  const { number, instant, author } = entry;
  const note = (thing: UseRow['thing'], id: string) =>
    books.put(uses, { thing, id, entry: number, instant, author, melt, assayRun });
  for (const instrument of new Set(made.instruments)) await note('instrument', instrument);
  for (const lot of made.reagentLots ?? []) await note('reagent-lot', lot);
}
