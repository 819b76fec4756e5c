import type { BookReader, BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { blanks } from '../books.ts';
import type {
  FurtherBlanksDrawnBody,
  FurtherBlanksTakenBody,
  FurtherPickSubstitutedBody,
} from './bodies.ts';
import { type FurtherRound, furtherRounds } from './books.ts';

/** The rounds of further blanks of a melt, oldest first. */
export function furtherRoundsOf(books: BookReader, melt: string): Promise<readonly FurtherRound[]> {
  return books.select(furtherRounds, { prefix: [melt] });
}

const isOpen = ({ state }: FurtherRound): boolean => state === 'asked' || state === 'drawn';

/** The round of a melt that is asked for and not taken yet. */
export async function openFurtherRound(
  books: BookReader,
  melt: string,
): Promise<FurtherRound | undefined> {
  return (await furtherRoundsOf(books, melt)).find(isOpen);
}

/** The laboratory asked for further blanks: the hash of that entry is the seed of their draw. */
export async function noteFurtherAsked(
  books: BookWriter,
  entry: RecordedEntry,
  asked: Pick<FurtherRound, 'melt' | 'round' | 'consignment' | 'pieces' | 'reason'>,
): Promise<void> {
  const { melt, round, consignment, pieces, reason } = asked;
  await books.put(furtherRounds, {
    melt,
    round,
    consignment,
    pieces,
    reason,
    state: 'asked',
    askedEntry: entry.number,
    askedHash: entry.hash,
    askedAt: entry.instant,
    askedBy: entry.author,
    drawn: null,
    substitutions: [],
    taken: null,
  });
}

/** The trial of a melt was closed: nobody waits for its further blanks any more. */
export async function noteFurtherLapsed(books: BookWriter, melt: string): Promise<void> {
  const open = await openFurtherRound(books, melt);
  if (open) await books.put(furtherRounds, { ...open, state: 'lapsed' });
}

async function changeRound(
  books: BookWriter,
  of: { readonly melt: string; readonly round: number },
  change: (row: FurtherRound) => Partial<FurtherRound>,
): Promise<void> {
  const row = await books.get(furtherRounds, of.melt, of.round);
  if (row) await books.put(furtherRounds, { ...row, ...change(row) });
}

export async function applyFurtherDraw(
  books: BookWriter,
  entry: RecordedEntry<FurtherBlanksDrawnBody>,
): Promise<void> {
  const { melt, round, seed, takenBefore, draw, blanks: drawn } = entry.body;
  await changeRound(books, entry.body, () => ({
    state: 'drawn',
    drawn: { entry: entry.number, instant: entry.instant, seed, takenBefore, draw, blanks: drawn },
  }));
  for (const blank of drawn) {
    await books.put(blanks, {
      ...blank,
      melt,
      forAssay: true,
      forPhysical: false,
      further: round,
      isDrawn: false,
    });
  }
}

export async function applyFurtherSubstitution(
  books: BookWriter,
  entry: RecordedEntry<FurtherPickSubstitutedBody>,
): Promise<void> {
  const { melt: _melt, consignment: _consignment, ...substitution } = entry.body;
  await changeRound(books, entry.body, ({ substitutions }) => ({
    substitutions: [...substitutions, { ...substitution, entry: entry.number }],
  }));
  const blank = await books.get(blanks, entry.body.blank);
  if (blank) await books.put(blanks, { ...blank, ...entry.body.substitute });
}

export async function applyFurtherTaking(
  books: BookWriter,
  entry: RecordedEntry<FurtherBlanksTakenBody>,
): Promise<void> {
  const { grossMicrograms, blanks: taken, scanned, notScanned, reason } = entry.body;
  await changeRound(books, entry.body, () => ({
    state: 'taken',
    taken: {
      entry: entry.number,
      instant: entry.instant,
      grossMicrograms,
      blanks: taken,
      scanned,
      notScanned,
      reason,
    },
  }));
  for (const { blank } of taken) {
    const row = await books.get(blanks, blank);
    if (row) await books.put(blanks, { ...row, isDrawn: true });
  }
}
