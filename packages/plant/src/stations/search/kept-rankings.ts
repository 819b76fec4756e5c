import type { BookReader } from '../../journal/books.ts';
import { newestLeaf } from '../../journal/merkle.ts';
import type { Ranking } from './ranking.ts';

/** A ranking with the entry after which it holds. */
interface DatedRanking {
  readonly ranking: Ranking;
  readonly rankedAfter: number;
}

/**
 * The newest rankings, by search and by the hash of the journal's newest leaf: the same journal gives the same
 * ranking, so that what one tablet has asked for is calculated for no other, nor for the look recorded from it.
 */
const kept = new Map<string, Promise<Ranking>>();

/** So many are kept. */
const mostKept = 8;

function keep(key: string, making: Promise<Ranking>): void {
  kept.set(key, making);
  // A ranking that was stopped, because whoever asked has left, is none.
  making.catch(() => kept.delete(key));
  const [oldest] = kept.keys();
  if (kept.size > mostKept && oldest !== undefined) kept.delete(oldest);
}

/** What stands at a key, unless its making is stopped. */
async function atKey(key: string): Promise<Ranking | undefined> {
  try {
    return await kept.get(key);
  } catch {
    return undefined;
  }
}

/** The ranking of a search as the books stand, made only where nobody has asked for it yet. */
export async function rankedOnce(
  books: BookReader,
  search: string,
  make: () => Promise<Ranking>,
): Promise<DatedRanking> {
  const leaf = await newestLeaf(books);
  const key = `${search} ${leaf?.hash ?? ''}`;
  const known = await atKey(key);
  const rankedAfter = leaf?.entry ?? 0;
  if (known) return { ranking: known, rankedAfter };
  const making = make();
  keep(key, making);
  const ranking = await making;
  // Entries that came while the facts were read can be in them: then this is not the ranking of that leaf alone.
  if ((await newestLeaf(books))?.hash !== leaf?.hash) kept.delete(key);
  return { ranking, rankedAfter };
}
