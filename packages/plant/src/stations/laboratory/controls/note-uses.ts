import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { type UseRow, uses } from './books.ts';

/** What a result was made with. */
interface MadeWith extends Pick<UseRow, 'what' | 'melt' | 'assayRun' | 'of'> {
  readonly instruments: readonly string[];
  readonly reagentLots?: readonly string[] | undefined;
  /** The determination of a titrant's factor that it was computed with. */
  readonly titre?: string | undefined;
}

/** Notes what a result was made with, so that a lot, an instrument or a titre finds it again. */
export async function noteUses(
  books: BookWriter,
  entry: RecordedEntry,
  made: MadeWith,
): Promise<void> {
  const { what, melt, assayRun, of, titre } = made;
  const { number, instant, author } = entry;
  const use = { entry: number, instant, author, what, melt, assayRun, of };
  for (const id of new Set(made.instruments))
    await books.put(uses, { thing: 'instrument', id, ...use });
  for (const id of made.reagentLots ?? [])
    await books.put(uses, { thing: 'reagent-lot', id, ...use });
  if (titre !== undefined) await books.put(uses, { thing: 'titre', id: titre, ...use });
}
