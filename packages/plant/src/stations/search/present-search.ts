import type { BookReader } from '../../journal/books.ts';
import { invariant } from '../../journal/fault.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { Calculate } from '../../journal/station.ts';
import { type LookRow, looks, type SearchRow, searches } from './books.ts';
import { rankedOnce } from './kept-rankings.ts';
import { type Ranking, rank } from './ranking.ts';
import { learnedRates } from './read-model.ts';
import { searchRefusals } from './refusals.ts';
import { searchFacts } from './search-facts.ts';

/** A search with where it stands now. */
export interface PresentSearch {
  readonly row: SearchRow;
  readonly looks: readonly LookRow[];
  /** Nothing once the search has ended: the figures have moved on since. */
  readonly ranking: Ranking | undefined;
  /** The entry after which the ranking holds. */
  readonly rankedAfter: number;
}

const looksOf = (books: BookReader, search: string): Promise<readonly LookRow[]> =>
  books.select(looks, { prefix: [search] });

async function rankNow(
  books: BookReader,
  { search, pieceStandard }: SearchRow,
  calculate: Calculate | undefined,
): Promise<Ranking> {
  const facts = await searchFacts(books, pieceStandard);
  invariant(facts, `search ${search} is for ${pieceStandard}, which is not registered`);
  const rates = await learnedRates(books);
  const taken = await looksOf(books, search);
  return rank(facts, { rates, taken }, calculate);
}

/** Reads a search and, while it is open, ranks what can be wrong. */
export async function presentSearch(
  books: BookReader,
  search: string,
  calculate?: Calculate,
): Promise<PresentSearch | undefined> {
  const row = await books.get(searches, search);
  if (!row) return undefined;
  const taken = await looksOf(books, search);
  if (row.state !== 'open') return { row, looks: taken, ranking: undefined, rankedAfter: 0 };
  const ranked = await rankedOnce(books, search, () => rankNow(books, row, calculate));
  return { row, looks: taken, ...ranked };
}

/** A search as its commands need it: what is recorded of it as it is now, the ranking as it was prepared. */
export async function searchInHand(
  books: BookReader,
  search: string,
  prepared: PresentSearch | undefined,
): Promise<PresentSearch | undefined> {
  const row = await books.get(searches, search);
  // A search that was opened meanwhile has no ranking yet.
  if (!row || !prepared?.ranking) return presentSearch(books, search);
  const { ranking, rankedAfter } = prepared;
  const taken = await looksOf(books, search);
  return { row, looks: taken, ranking: row.state === 'open' ? ranking : undefined, rankedAfter };
}

/** Why nothing can be recorded in a search, if so. */
export function searchRefusal(
  search: string,
  present: PresentSearch | undefined,
): Refusal | undefined {
  if (!present) {
    return refuse(searchRefusals, 'SearchUnknown', {
      message: `There is no search ${search}.`,
      field: 'search',
      figures: { search },
    });
  }
  const { state, ended } = present.row;
  if (state === 'open') return undefined;
  return refuse(searchRefusals, 'SearchOver', {
    message: `Search ${search} ended in entry ${ended?.entry}: ${state}.`,
    field: 'search',
    figures: { search, state, entry: ended?.entry ?? null },
  });
}
