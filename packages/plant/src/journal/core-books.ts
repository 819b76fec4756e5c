import { type BookReader, type BookWriter, defineBook } from './books.ts';
import type { Descent, Entry, Thing } from './entry.ts';
import { invariant } from './fault.ts';
import { merkleNodes } from './merkle.ts';
import { type InsidePlace, isInsidePlace, type Place } from './place.ts';
import type { Posting } from './posting.ts';
import type { EntryKind } from './station.ts';
import { type Weighed, weighingsOf } from './weighed.ts';

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

/** What should lie at a place, of one piece standard, all melts together. */
export interface PlaceBalanceRow {
  readonly [field: string]: string | number;
  readonly place: string;
  readonly metal: string;
  readonly pieceStandard: string;
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
}

/** The sums of the balances of each place inside: those by melt grow with every melt that leaves some micrograms. */
export const placeBalances = defineBook<PlaceBalanceRow>({
  name: 'core_place_balance',
  meaning: 'What should lie at a place, of one metal and piece standard, all melts together.',
  key: ['place', 'metal', 'pieceStandard'],
});

/** One posting with the entry that made it. */
export type MovementRow = {
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
  /** The weighings of which its gross mass is the sum; none where it was not weighed, or nobody knows. */
  readonly weighings: readonly Weighed[];
};

/** Every posting, in order. */
export const movements = defineBook<MovementRow>({
  name: 'core_movement',
  meaning: 'One posting of an entry.',
  edition: 2,
  key: ['entry', 'line'],
  indexes: { byShift: ['shift', 'entry'], byMelt: ['melt', 'entry'] },
});

/** What moved at a place in a shift: counted, so that nobody has to read the postings for it. */
type ShiftMovementRow = {
  /** Empty for the whole plant. */
  readonly place: string;
  readonly shift: string;
  readonly movements: number;
  readonly firstEntry: number;
  readonly lastEntry: number;
  readonly pieceStandards: readonly string[];
};

/** Movements by place and shift, and of all places together under the empty name. */
export const shiftMovements = defineBook<ShiftMovementRow>({
  name: 'core_shift_movement',
  meaning: 'How many postings brought or took metal at a place in a shift, and the last of them.',
  key: ['place', 'shift'],
  indexes: { byLast: ['place', 'lastEntry'] },
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

/** Which entries rest on what an instrument showed. */
export type InstrumentReadingRow = {
  readonly instrument: string;
  readonly entry: number;
  readonly kind: string;
  readonly station: string;
  readonly instant: string;
  readonly author: string;
  /** What the entry speaks of, the first of them where they are many. */
  readonly things: readonly { readonly thing: string; readonly id: string }[];
};

/** Entries by the instrument that gave their readings. */
export const instrumentReadings = defineBook<InstrumentReadingRow>({
  name: 'core_instrument_reading',
  meaning: 'An entry whose readings came from an instrument, and what it speaks of.',
  key: ['instrument', 'entry'],
});

/** The books that belong to no station. */
export const coreBooks = [
  balances,
  descents,
  instrumentReadings,
  merkleNodes,
  movements,
  placeBalances,
  requests,
  shiftMovements,
  threads,
] as const;

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
  const weighings = await weighingsOf(books, entry, kind);
  for (const [index, posting] of entry.postings.entries()) {
    await books.put(movements, {
      ...movementRow(entry, posting, index + 1),
      weighings: weighings[index] ?? [],
    });
    await changeBalance(books, posting, 'to');
    await changeBalance(books, posting, 'from');
  }
  await countMovements(books, entry);
  const shortages = await shortagesAfter(books, entry.postings);
  const things = kind.things(entry.body);
  for (const thing of things) await thread(books, entry, thing);
  await noteInstruments(books, entry, kind, things);
  for (const descent of kind.descents?.(entry.body) ?? []) await descend(books, entry, descent);
  await noteRequest(books, entry);
  return shortages;
}

function movementRow(entry: Entry, posting: Posting, line: number): Omit<MovementRow, 'weighings'> {
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

/** Counts the postings of an entry for its shift: once for the plant, once for each place inside. */
async function countMovements(books: BookWriter, entry: Entry): Promise<void> {
  const { postings, shift, number } = entry;
  if (postings.length === 0) return;
  const touched = new Map<string, Posting[]>([['', [...postings]]]);
  for (const posting of postings) {
    for (const place of new Set([posting.from, posting.to])) {
      if (isInsidePlace(place)) touched.set(place, [...(touched.get(place) ?? []), posting]);
    }
  }
  for (const [place, own] of touched) {
    const before = await books.get(shiftMovements, place, shift);
    const named = own.map(({ pieceStandard }) => pieceStandard);
    await books.put(shiftMovements, {
      place,
      shift,
      movements: (before?.movements ?? 0) + own.length,
      firstEntry: before?.firstEntry ?? number,
      lastEntry: number,
      pieceStandards: [...new Set([...(before?.pieceStandards ?? []), ...named])].sort(),
    });
  }
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
  const row = { place, metal, pieceStandard, melt, ...added(before, posting, sign) };
  if (isInsidePlace(place)) {
    const whole = await books.get(placeBalances, place, metal, pieceStandard);
    const sum = { place, metal, pieceStandard, ...added(whole, posting, sign) };
    await books.put(placeBalances, sum);
  }
  // Where nothing lies any more there is no record: whoever reads a place reads what is there.
  const isEmpty = [row.pieces, row.grossMicrograms, row.fineMicrograms].every((one) => one === 0);
  if (isEmpty) await books.remove(balances, place, metal, pieceStandard, melt);
  else await books.put(balances, row);
}

/** The figures of a balance with those of a posting added or taken away. */
function added(
  before: PlaceBalanceRow | BalanceRow | undefined,
  posting: Posting,
  sign: 1 | -1,
): { pieces: number; grossMicrograms: number; fineMicrograms: number } {
  const figures = {
    pieces: (before?.pieces ?? 0) + sign * posting.pieces,
    grossMicrograms: (before?.grossMicrograms ?? 0) + sign * posting.grossMicrograms,
    fineMicrograms: (before?.fineMicrograms ?? 0) + sign * posting.fineMicrograms,
  };
  invariant(
    Object.values(figures).every(Number.isSafeInteger),
    `balance of ${sign === 1 ? posting.to : posting.from} exceeds the safe integers`,
  );
  return figures;
}

async function thread(books: BookWriter, entry: Entry, thing: Thing): Promise<void> {
  const { number, kind, instant } = entry;
  await books.put(threads, { ...thing, entry: number, kind, instant });
}

/** An entry on a whole sample speaks of a hundred blanks; the first things say what it was about. */
const greatestThings = 8;

async function noteInstruments(
  books: BookWriter,
  entry: Entry,
  kind: EntryKind,
  things: readonly Thing[],
): Promise<void> {
  const further = kind.instruments?.(entry.body) ?? [];
  const all = entry.instrument === null ? further : [entry.instrument, ...further];
  if (all.length === 0) return;
  const named = things.slice(0, greatestThings).map(({ thing: name, id }) => ({ thing: name, id }));
  const { number, station, instant, author } = entry;
  const row = { entry: number, kind: entry.kind, station, instant, author, things: named };
  for (const instrument of new Set(all))
    await books.put(instrumentReadings, { instrument, ...row });
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

/** What lies at a place of each piece standard, all melts together; as short after years as at first. */
export async function sumsOfPlace(
  books: BookReader,
  place: InsidePlace,
): Promise<readonly PlaceBalanceRow[]> {
  return books.select(placeBalances, { prefix: [place] });
}

/** What lies at a place, by piece standard and melt. */
export async function balanceOfPlace(
  books: BookReader,
  place: Place,
): Promise<readonly BalanceRow[]> {
  return books.select(balances, { prefix: [place] });
}
