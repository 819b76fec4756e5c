import type { BookReader, BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { consignments, type Drum, drums, melts } from '../books.ts';
import type {
  DifferenceAnsweredBody,
  DifferenceRaisedBody,
  DifferenceSettledBody,
} from './bodies.ts';
import { type DifferenceLine, differenceLines, differences } from './books.ts';
import { type Figures, figuresOfDrum, figuresOfMelt, type SealFound } from './figures.ts';
import type { DifferenceCause, DifferingThing } from './words.ts';

type Told = Pick<RecordedEntry, 'number' | 'instant'>;

const sameFigures = (before: DifferenceLine, figures: Figures): boolean =>
  (Object.keys(figures) as (keyof Figures)[]).every(
    (name) => JSON.stringify(before[name]) === JSON.stringify(figures[name]),
  );

type Standing = Pick<DifferenceLine, 'state' | 'raisedIn' | 'earlier'>;

/** A line whose figures change after it was raised is open again, beside the document that has the old ones. */
function standingOf(before: DifferenceLine | undefined, figures: Figures): Standing {
  const isDifferent = figures.causes.length > 0;
  if (before && before.raisedIn !== null) {
    const { state, raisedIn, earlier } = before;
    if (!isDifferent || sameFigures(before, figures)) return { state, raisedIn, earlier };
    return { state: 'open', raisedIn: null, earlier: [...earlier, raisedIn] };
  }
  const earlier = before?.earlier ?? [];
  return { state: isDifferent ? 'open' : 'none', raisedIn: null, earlier };
}

async function putLine(
  books: BookWriter,
  entry: Told,
  line: { readonly consignment: string; readonly figures: Figures },
): Promise<void> {
  const { consignment, figures } = line;
  const before = await books.get(differenceLines, figures.thing, figures.id);
  const standing = standingOf(before, figures);
  await books.put(differenceLines, {
    ...figures,
    consignment,
    supplier: (await books.get(consignments, consignment))?.supplier ?? '',
    evidence: [...(before?.evidence ?? []), entry.number],
    beganAt: before?.beganAt ?? entry.instant,
    ...standing,
    since: before?.state === standing.state ? before.since : entry.instant,
  });
}

const noSeal: SealFound = { sealDocumented: null, sealFound: null };

/** The seal of the document stays in the line, also after the drum was admitted with another one. */
function sealOf(
  before: DifferenceLine | undefined,
  drum: Drum,
  found: string | null | undefined,
): SealFound {
  if (before && before.sealDocumented !== null) {
    return { sealDocumented: before.sealDocumented, sealFound: before.sealFound };
  }
  if (found === undefined || found === drum.seal) return noSeal;
  return { sealDocumented: drum.seal, sealFound: found };
}

/** Holds a drum against its document again, after an act that changed it. */
export async function followDrum(
  books: BookWriter,
  entry: Told,
  act: {
    readonly drum: string;
    /** Nothing where it bore none; left out where the act says nothing of a seal that differs. */
    readonly sealFound?: string | null;
  },
): Promise<void> {
  const drum = await books.get(drums, act.drum);
  if (!drum) return;
  const before = await books.get(differenceLines, 'drum', drum.drum);
  const figures = figuresOfDrum(drum, sealOf(before, drum, act.sealFound));
  await putLine(books, entry, { consignment: drum.consignment, figures });
}

/** What was taken in of a melt: its drums that have not gone back. */
async function takenOf(books: BookReader, melt: string) {
  const here = (await books.select(drums, { by: 'byMelt', prefix: [melt] })).filter(
    ({ state }) => state !== 'returned',
  );
  return {
    pieces: here.reduce((sum, { pieces }) => sum + pieces, 0),
    netMicrograms: here.reduce((sum, { netMicrograms }) => sum + (netMicrograms ?? 0), 0),
  };
}

async function followMelt(
  books: BookWriter,
  entry: Told,
  act: {
    readonly melt: string;
    readonly causes: readonly DifferenceCause[];
    readonly gone?: { readonly pieces: number; readonly netMicrograms: number };
  },
): Promise<void> {
  const row = await books.get(melts, act.melt);
  if (!row) return;
  const taken = await takenOf(books, act.melt);
  const { causes, melt } = act;
  const figures = figuresOfMelt({ melt, causes, taken, gone: act.gone ?? taken });
  await putLine(books, entry, { consignment: row.consignment, figures });
}

/** A refused melt is one difference with its supplier; another ruling takes it away while it is open. */
export async function followRuling(
  books: BookWriter,
  entry: Told,
  act: { readonly melt: string; readonly isRefused: boolean },
): Promise<void> {
  const before = await books.get(differenceLines, 'melt', act.melt);
  if (!act.isRefused && !before) return;
  await followMelt(books, entry, { melt: act.melt, causes: act.isRefused ? ['refused'] : [] });
}

/** What went back of a refused melt. */
export async function followMeltReturn(
  books: BookWriter,
  entry: Told,
  act: {
    readonly melt: string;
    readonly gone: { readonly pieces: number; readonly netMicrograms: number };
  },
): Promise<void> {
  await followMelt(books, entry, { ...act, causes: ['refused', 'returned'] });
}

async function changeLine(
  books: BookWriter,
  line: { readonly thing: DifferingThing; readonly id: string },
  change: Partial<DifferenceLine>,
): Promise<void> {
  const row = await books.get(differenceLines, line.thing, line.id);
  if (row) await books.put(differenceLines, { ...row, ...change });
}

export async function applyRaised(
  books: BookWriter,
  entry: RecordedEntry<DifferenceRaisedBody>,
): Promise<void> {
  const { body, number, instant } = entry;
  await books.put(differences, {
    ...body,
    state: 'raised',
    since: instant,
    entry: number,
    raisedAt: instant,
    author: entry.author,
    witness: entry.witness ?? '',
    answers: [],
    settlement: null,
  });
  for (const line of body.lines) {
    await changeLine(books, line, {
      state: 'raised',
      raisedIn: body.difference,
      since: instant,
    });
  }
}

export async function applyAnswered(
  books: BookWriter,
  entry: RecordedEntry<DifferenceAnsweredBody>,
): Promise<void> {
  const { difference, ...answer } = entry.body;
  const row = await books.get(differences, difference);
  if (!row) return;
  const { number, instant, author } = entry;
  await books.put(differences, {
    ...row,
    state: 'answered',
    since: instant,
    answers: [...row.answers, { ...answer, entry: number, instant, author }],
  });
}

export async function applySettled(
  books: BookWriter,
  entry: RecordedEntry<DifferenceSettledBody>,
): Promise<void> {
  const { difference, ...settlement } = entry.body;
  const row = await books.get(differences, difference);
  if (!row) return;
  const { number, instant, author } = entry;
  const witness = entry.witness ?? '';
  await books.put(differences, {
    ...row,
    state: 'settled',
    since: instant,
    settlement: { ...settlement, entry: number, instant, author, witness },
  });
  for (const line of row.lines) {
    const standing = await books.get(differenceLines, line.thing, line.id);
    // A line that changed since stands open, or in a later document.
    if (standing?.raisedIn !== difference) continue;
    await changeLine(books, line, { state: 'settled', since: instant });
  }
}
