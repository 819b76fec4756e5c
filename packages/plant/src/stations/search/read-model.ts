import { faultRate } from '@cupel/calculation';
import type { BookReader, BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import type { CausesForetold, LookTaken, SearchEnded, SearchOpened } from './bodies.ts';
import { counted, foretoldCauses, kindTallies, looks, type SearchRow, searches } from './books.ts';
import { type FaultKind, type FaultRates, faultKindNames, faultKinds } from './fault-kinds.ts';

async function addToKind(
  books: BookWriter,
  kind: string,
  added: { readonly opportunities: number; readonly confirmed: number },
): Promise<void> {
  const before = await books.get(kindTallies, kind);
  await books.put(kindTallies, {
    kind,
    opportunities: (before?.opportunities ?? 0) + added.opportunities,
    confirmed: (before?.confirmed ?? 0) + added.confirmed,
  });
}

/** The one record of `counted`. */
const countedKey = 'all';

export async function applySearchOpened(
  books: BookWriter,
  entry: RecordedEntry<SearchOpened>,
): Promise<void> {
  const { search, pieceStandard, residuals, opportunities, countedTo, forShift } = entry.body;
  await books.put(searches, {
    search,
    state: 'open',
    pieceStandard,
    shift: forShift ?? entry.shift,
    openedEntry: entry.number,
    openedInstant: entry.instant,
    openedBy: entry.author,
    residuals,
    minutesLooked: 0,
    ended: null,
  });
  for (const { kind, count } of opportunities) {
    await addToKind(books, kind, { opportunities: count, confirmed: 0 });
  }
  await books.put(counted, { plant: countedKey, entry: countedTo });
}

export async function applyCausesForetold(
  books: BookWriter,
  entry: RecordedEntry<CausesForetold>,
): Promise<void> {
  const { search, causes } = entry.body;
  for (const cause of causes) await books.put(foretoldCauses, { search, ...cause });
}

export async function applyLookTaken(
  books: BookWriter,
  entry: RecordedEntry<LookTaken>,
): Promise<void> {
  const { body, number, instant, author } = entry;
  await books.put(looks, { ...body, entry: number, instant, author });
  const mistaken = body.mistaken && (await books.get(looks, body.search, body.mistaken));
  if (mistaken) await books.put(looks, { ...mistaken, mistakenIn: number });
  const row = await books.get(searches, body.search);
  if (row) await books.put(searches, { ...row, minutesLooked: row.minutesLooked + body.minutes });
}

export async function applySearchEnded(
  books: BookWriter,
  entry: RecordedEntry<SearchEnded>,
): Promise<void> {
  const { search, end, kind, cause, proof, probabilityPredicted, rankPredicted } = entry.body;
  const row = await books.get(searches, search);
  if (!row) return;
  await books.put(searches, {
    ...row,
    state: end,
    ended: {
      entry: entry.number,
      instant: entry.instant,
      author: entry.author,
      witness: entry.witness ?? '',
      cause,
      kind,
      proof,
      probabilityPredicted,
      rankPredicted,
    },
  });
  if (kind !== null && end === 'cause confirmed') {
    await addToKind(books, kind, { opportunities: 0, confirmed: 1 });
  }
}

/** Up to which entry opportunities are counted; 0 before the first search. */
export async function countedTo(books: BookReader): Promise<number> {
  return (await books.get(counted, countedKey))?.entry ?? 0;
}

/** Rates of every kind, learned from confirmed causes. */
export async function learnedRates(books: BookReader): Promise<FaultRates> {
  const rates = new Map<FaultKind, number>();
  for (const kind of faultKindNames) {
    const row = await books.get(kindTallies, kind);
    const confirmed = row?.confirmed ?? 0;
    const tally = {
      assumedRate: faultKinds[kind].assumedRate,
      // A cause can be confirmed before its opportunity was counted.
      opportunities: Math.max(confirmed, row?.opportunities ?? 0),
      confirmed,
    };
    rates.set(kind, faultRate(tally));
  }
  return rates;
}

/** The open searches, oldest first. */
export async function openSearches(books: BookReader): Promise<readonly SearchRow[]> {
  return books.select(searches, { by: 'byState', prefix: ['open'] });
}
