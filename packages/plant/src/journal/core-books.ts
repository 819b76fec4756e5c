import { type BookReader, type BookWriter, defineBook } from './books.ts';
import type { Descent, Entry, Thing } from './entry.ts';
import { invariant } from './fault.ts';
import { merkleNodes } from './merkle.ts';
import { isInsidePlace, type Place } from './place.ts';
import type { Posting } from './posting.ts';
import type { EntryKind } from './station.ts';

/** What should lie at a place, of one piece standard and melt. */
export interface BalanceRow {
  readonly [field: string]: string | number;
  readonly place: string;
  readonly metal: string;
  readonly pieceStandard: string;
  /** Empty where melts are mixed. */
  readonly melt: string;
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
}

/** The book: what should lie at each place, inside and outside. */
export const balances = defineBook<BalanceRow>({
  name: 'core_balance',
  meaning: 'What should lie at a place, of one metal, piece standard and melt.',
  key: ['place', 'metal', 'pieceStandard', 'melt'],
  indexes: { byStandard: ['pieceStandard', 'place'], byMelt: ['melt', 'place'] },
});

/** One posting with the entry that made it. */
export interface MovementRow {
  readonly [field: string]: string | number | boolean;
  readonly entry: number;
  readonly line: number;
  readonly shift: string;
  readonly metal: string;
  readonly pieceStandard: string;
  readonly melt: string;
  readonly container: string;
  readonly from: string;
  readonly to: string;
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
  readonly estimated: boolean;
}

/** Every posting, in order. */
export const movements = defineBook<MovementRow>({
  name: 'core_movement',
  meaning: 'One posting of an entry.',
  key: ['entry', 'line'],
  indexes: { byShift: ['shift', 'entry'], byMelt: ['melt', 'entry'] },
});

/** Which entries speak of a thing. */
export const threads = defineBook<{
  thing: string;
  id: string;
  entry: number;
  kind: string;
  instant: string;
}>({
  name: 'core_thread',
  meaning: 'An entry that speaks of a thing.',
  key: ['thing', 'id', 'entry'],
  indexes: { byId: ['id', 'thing', 'entry'] },
});

/** What came out of what. */
export const descents = defineBook<{
  parentThing: string;
  parentId: string;
  childThing: string;
  childId: string;
  entry: number;
}>({
  name: 'core_descent',
  meaning: 'One thing that came out of another, and the entry that says so.',
  key: ['parentThing', 'parentId', 'childThing', 'childId'],
  indexes: { byChild: ['childThing', 'childId', 'parentThing', 'parentId'] },
});

/** Which command recorded which entries, so that a command sent twice is recorded once. */
export const requests = defineBook<{
  author: string;
  idempotencyKey: string;
  requestHash: string;
  firstEntry: number;
  lastEntry: number;
}>({
  name: 'core_request',
  meaning: 'The entries that one command recorded.',
  key: ['author', 'idempotencyKey'],
});

/** The books that belong to no station. */
export const coreBooks = [balances, descents, merkleNodes, movements, requests, threads] as const;

/** A place that would hold less than nothing after a posting. */
export interface Shortage {
  readonly place: Place;
  readonly pieceStandard: string;
  readonly melt: string | null;
  readonly pieces: number;
}

/** Folds an entry into the books that belong to no station; answers the places left with less than nothing. */
export async function applyCore(
  books: BookWriter,
  entry: Entry,
  kind: EntryKind,
): Promise<readonly Shortage[]> {
  for (const [index, posting] of entry.postings.entries()) {
    await books.put(movements, movementRow(entry, posting, index + 1));
    await changeBalance(books, posting, 'to');
    await changeBalance(books, posting, 'from');
  }
  const shortages = await shortagesAfter(books, entry.postings);
  for (const thing of kind.things(entry.body)) await thread(books, entry, thing);
  for (const descent of kind.descents?.(entry.body) ?? []) await descend(books, entry, descent);
  await noteRequest(books, entry);
  return shortages;
}

function movementRow(entry: Entry, posting: Posting, line: number): MovementRow {
  return {
    entry: entry.number,
    line,
    shift: entry.shift,
    metal: posting.metal,
    pieceStandard: posting.pieceStandard,
    melt: posting.melt ?? '',
    container: posting.container ?? '',
    from: posting.from,
    to: posting.to,
    pieces: posting.pieces,
    grossMicrograms: posting.grossMicrograms,
    fineMicrograms: posting.fineMicrograms,
    estimated: posting.estimated,
  };
}

/** The places that hold less than nothing once all the postings of an entry are done, each once. */
async function shortagesAfter(
  books: BookReader,
  postings: readonly Posting[],
): Promise<readonly Shortage[]> {
  const shortages = new Map<string, Shortage>();
  for (const { from: place, metal, pieceStandard, melt } of postings) {
    if (!isInsidePlace(place)) continue;
    const row = await books.get(balances, place, metal, pieceStandard, melt ?? '');
    if (!row || row.pieces >= 0) continue;
    const name = JSON.stringify([place, metal, pieceStandard, melt]);
    shortages.set(name, { place, pieceStandard, melt, pieces: row.pieces });
  }
  return [...shortages.values()];
}

/** Adds the posting to the balance of one of its ends. */
async function changeBalance(
  books: BookWriter,
  posting: Posting,
  end: 'from' | 'to',
): Promise<void> {
  const sign = end === 'to' ? 1 : -1;
  const { metal, pieceStandard } = posting;
  const melt = posting.melt ?? '';
  const place = posting[end];
  const before = await books.get(balances, place, metal, pieceStandard, melt);
  const row = {
    place,
    metal,
    pieceStandard,
    melt,
    pieces: (before?.pieces ?? 0) + sign * posting.pieces,
    grossMicrograms: (before?.grossMicrograms ?? 0) + sign * posting.grossMicrograms,
    fineMicrograms: (before?.fineMicrograms ?? 0) + sign * posting.fineMicrograms,
  };
  invariant(
    [row.pieces, row.grossMicrograms, row.fineMicrograms].every(Number.isSafeInteger),
    `balance of ${place} exceeds the safe integers`,
  );
  await books.put(balances, row);
}

async function thread(books: BookWriter, entry: Entry, thing: Thing): Promise<void> {
  const { number, kind, instant } = entry;
  await books.put(threads, { ...thing, entry: number, kind, instant });
}

async function descend(books: BookWriter, entry: Entry, descent: Descent): Promise<void> {
  await books.put(descents, {
    parentThing: descent.parent.thing,
    parentId: descent.parent.id,
    childThing: descent.child.thing,
    childId: descent.child.id,
    entry: entry.number,
  });
}

async function noteRequest(books: BookWriter, entry: Entry): Promise<void> {
  const { author, idempotencyKey, requestHash, number } = entry;
  const earlier = await books.get(requests, author, idempotencyKey);
  const firstEntry = earlier?.firstEntry ?? number;
  await books.put(requests, {
    author,
    idempotencyKey,
    requestHash,
    firstEntry,
    lastEntry: number,
  });
}

/** The sum of what lies at a place, by piece standard. */
export async function balanceOfPlace(
  books: BookReader,
  place: Place,
): Promise<readonly BalanceRow[]> {
  return books.select(balances, { prefix: [place] });
}
