import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { Inquirer } from '../../journal/station.ts';
import { type LookRow, looks, type SearchRow, searches } from './books.ts';
import { type Ranking, rank, rankBeside } from './ranking.ts';
import { learnedRates } from './read-model.ts';
import { searchRefusals } from './refusals.ts';
import { searchFacts } from './search-facts.ts';

/** A search with where it stands now. */
export interface PresentSearch {
  readonly row: SearchRow;
  readonly looks: readonly LookRow[];
  /** Nothing once the search has ended: the figures have moved on since. */
  readonly ranking: Ranking | undefined;
}

/** Reads a search and, while it is open, ranks what can be wrong. */
export async function presentSearch(
  books: BookReader,
  search: string,
  calculate?: Inquirer['calculate'],
): Promise<PresentSearch | undefined> {
  const row = await books.get(searches, search);
  if (!row) return undefined;
  const taken = await books.select(looks, { prefix: [search] });
  const facts = row.state === 'open' ? await searchFacts(books, row.pieceStandard) : undefined;
  if (!facts) return { row, looks: taken, ranking: undefined };
  const rates = await learnedRates(books);
  const ranking = calculate
    ? await rankBeside(facts, { rates, taken }, calculate)
    : rank(facts, rates, taken);
  return { row, looks: taken, ranking };
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
