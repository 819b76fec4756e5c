import type { BookReader, BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import type {
  PortionDiscardedBody,
  PortionKeptBody,
  PortionOpenedBody,
  PortionReturnedBody,
  PortionSentBody,
  PortionsSealedBody,
  PortionTakenBackBody,
} from './bodies.ts';
import { type BlankUse, blankUse, type PortionRow, portions, sendings } from './books.ts';
import { isHeld, portionStates } from './words.ts';

export async function applySealing(
  books: BookWriter,
  entry: RecordedEntry<PortionsSealedBody>,
): Promise<void> {
  const { portions: sealed, ...shared } = entry.body;
  for (const { gross: _gross, ...portion } of sealed) {
    await books.put(portions, {
      ...shared,
      ...portion,
      gone: [],
      state: 'sealed',
      since: entry.instant,
      sealedAt: entry.instant,
      entry: entry.number,
      document: null,
    });
  }
}

async function changePortion(
  books: BookWriter,
  entry: RecordedEntry<{ readonly portion: string }>,
  change: Partial<PortionRow>,
): Promise<void> {
  const row = await books.get(portions, entry.body.portion);
  if (!row) return;
  const isSame = change.state === undefined || change.state === row.state;
  await books.put(portions, { ...row, ...change, since: isSame ? row.since : entry.instant });
}

export async function applySending(
  books: BookWriter,
  entry: RecordedEntry<PortionSentBody>,
): Promise<void> {
  const { portion, to, document, sealFound, grossMicrograms, answerBy } = entry.body;
  const row = await books.get(portions, portion);
  await books.put(sendings, {
    portion,
    entry: entry.number,
    instant: entry.instant,
    author: entry.author,
    witness: entry.witness ?? '',
    to,
    document,
    seal: sealFound,
    blanks: row?.blanks ?? [],
    grossMicrograms,
    answerBy: answerBy ?? null,
  });
  await changePortion(books, entry, { state: `with the ${to}`, document });
}

export async function applyTakingBack(
  books: BookWriter,
  entry: RecordedEntry<PortionTakenBackBody>,
): Promise<void> {
  const { isSealed, blanks, grossMicrograms } = entry.body;
  const row = await books.get(portions, entry.body.portion);
  const missing = (row?.blanks ?? []).filter((blank) => !blanks.includes(blank));
  const gone = [...(row?.gone ?? []), ...missing];
  const state = isSealed ? 'sealed' : 'opened';
  await changePortion(books, entry, { state, blanks, gone, grossMicrograms });
}

export async function applyOpening(
  books: BookWriter,
  entry: RecordedEntry<PortionOpenedBody>,
): Promise<void> {
  await changePortion(books, entry, { state: 'opened' });
}

export async function applyPortionReturn(
  books: BookWriter,
  entry: RecordedEntry<PortionReturnedBody>,
): Promise<void> {
  await changePortion(books, entry, { state: 'returned' });
}

export async function applyDiscarding(
  books: BookWriter,
  entry: RecordedEntry<PortionDiscardedBody>,
): Promise<void> {
  const state = entry.body.how === 'used up' ? 'used up' : 'discarded';
  await changePortion(books, entry, { state });
}

export async function applyKeeping(
  books: BookWriter,
  entry: RecordedEntry<PortionKeptBody>,
): Promise<void> {
  const { place, keptUntil } = entry.body;
  await changePortion(books, entry, { place, keptUntil });
}

/** Notes what the laboratory did with blanks of a sample. */
export async function noteBlankUses(
  books: BookWriter,
  entry: Pick<RecordedEntry, 'number'>,
  of: { readonly blanks: readonly string[]; readonly use: BlankUse },
): Promise<void> {
  for (const blank of of.blanks) {
    await books.put(blankUse, { blank, use: of.use, entry: entry.number });
  }
}

/** The portions of a melt in the order of their ids. */
export async function portionsOfMelt(
  books: BookReader,
  melt: string,
): Promise<readonly PortionRow[]> {
  return books.select(portions, { by: 'byMelt', prefix: [melt] });
}

/**
 * The blanks of a melt's sample that the laboratory cannot work on, each with the portion that holds
 * it or with which it went. A blank of a portion that was opened is free again.
 */
export async function heldBlanks(
  books: BookReader,
  melt: string,
): Promise<ReadonlyMap<string, PortionRow>> {
  const held = new Map<string, PortionRow>();
  for (const row of await portionsOfMelt(books, melt)) {
    const out = isHeld(row.state) ? [...row.blanks, ...row.gone] : row.gone;
    for (const blank of out) held.set(blank, row);
  }
  return held;
}

/** Every portion that is still sealed or outside, in the order of their ids. */
export async function keptPortions(books: BookReader): Promise<readonly PortionRow[]> {
  const found: PortionRow[] = [];
  for (const state of portionStates.slice(0, 3)) {
    found.push(...(await books.select(portions, { by: 'byState', prefix: [state] })));
  }
  return found;
}
