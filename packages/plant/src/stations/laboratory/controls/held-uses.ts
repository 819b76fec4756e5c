import type { BookReader } from '../../../journal/books.ts';
import { type InstrumentReadingRow, instrumentReadings } from '../../../journal/core-books.ts';
import { assayRuns, type TrialRow, trials } from '../books.ts';
import { examinations } from '../examination/books.ts';
import { blanksMeasuredOf } from '../read-model-queries.ts';
import { screenings } from '../screening/books.ts';
import { holdAnswers, titres, type UseRow, uses } from './books.ts';
import type { Hold } from './holds.ts';

/** A result or weighing that a hold reaches. */
export type Use = Omit<UseRow, 'thing' | 'id'> & {
  /** What was done, where it was no result of the laboratory: `drum weighed`. */
  readonly act: string | null;
};

const useOf = ({ thing: _thing, id: _id, ...row }: UseRow): Use => ({ ...row, act: null });

/** Acts that name an instrument and rest on no reading of their own. */
const withoutReadings = ['InstrumentConnected', 'InstrumentDisconnected', 'ResultFileTaken'];

/** What a weighing was of: the thing of its entry that stands first here. */
const weighedThings = ['box', 'tube', 'drum', 'portion', 'run', 'place', 'melt'];

const actOf = (kind: string): string => kind.replace(/(?<=[a-z])(?=[A-Z])/g, ' ').toLowerCase();

function weighingOf({ entry, kind, instant, author, things }: InstrumentReadingRow): Use {
  const of = weighedThings.flatMap((name) => things.find(({ thing }) => thing === name) ?? [])[0];
  const melt = things.find(({ thing }) => thing === 'melt')?.id ?? '';
  const what = 'weighing' as const;
  const first = of ?? things[0] ?? { thing: 'entry', id: String(entry) };
  return { entry, instant, author, what, melt, assayRun: null, of: { ...first }, act: actOf(kind) };
}

/** Whatever else the instrument gave: weighings of receiving, press room, put-up, account. */
async function weighingsOf(
  books: BookReader,
  hold: Hold,
  known: ReadonlySet<number>,
): Promise<readonly Use[]> {
  if (hold.thing !== 'instrument') return [];
  const range = { prefix: [hold.id], from: hold.from + 1, below: hold.through };
  const rows = await books.select(instrumentReadings, range);
  return rows
    .filter(({ kind, station }) => station !== 'registers' && !withoutReadings.includes(kind))
    .filter(({ entry }) => !known.has(entry))
    .map(weighingOf);
}

/** The results that were computed with a factor in doubt, whenever they were recorded. */
async function computedWith(books: BookReader, factors: readonly Use[]): Promise<readonly Use[]> {
  const found: Use[] = [];
  for (const { assayRun } of factors) {
    const rows = await books.select(uses, { prefix: ['titre', assayRun ?? ''] });
    found.push(...rows.map(useOf));
  }
  return found;
}

/** Everything that a hold reaches, each entry once, in the order of the journal. */
export async function usesOfHold(books: BookReader, hold: Hold): Promise<readonly Use[]> {
  const range = { prefix: [hold.thing, hold.id], from: hold.from + 1, below: hold.through };
  const direct = (await books.select(uses, range)).map(useOf);
  const factors = direct.filter(({ what }) => what === 'titrant factor');
  const byEntry = new Map<number, Use>();
  for (const use of [...direct, ...(await computedWith(books, factors))]) {
    byEntry.set(use.entry, use);
  }
  for (const use of await weighingsOf(books, hold, new Set(byEntry.keys()))) {
    byEntry.set(use.entry, use);
  }
  return [...byEntry.values()].sort((one, other) => one.entry - other.entry);
}

/** A result or weighing in doubt that waits for the chief assayer's word. */
export interface HeldUse extends Use {
  /** Nothing where the laboratory has no trial of the melt, or none was on trial. */
  readonly trial: TrialRow | undefined;
}

/** Whether it still counts by itself, whatever became of its melt. */
async function stillStands(books: BookReader, use: Use): Promise<boolean> {
  switch (use.what) {
    case 'run':
      return (await books.get(assayRuns, use.assayRun ?? ''))?.state !== 'void';
    case 'measurement of blanks':
      return (await blanksMeasuredOf(books, use.melt)).some(
        (row) => row.measurement.entry === use.entry,
      );
    case 'hardness':
    case 'grain size':
    case 'edge':
      return (await books.get(examinations, use.melt, use.entry))?.setAside === null;
    case 'screening':
      return (await books.get(screenings, use.melt, use.entry))?.state !== 'set aside';
    case 'titrant factor':
      return (await books.get(titres, use.assayRun ?? ''))?.setAside === null;
    case 'weighing':
      return true;
  }
}

/** What a hold keeps in doubt: reached by it, not answered for, and still counting. */
export async function heldUses(books: BookReader, hold: Hold): Promise<readonly HeldUse[]> {
  const answers = await books.select(holdAnswers, { prefix: [hold.hold] });
  const answered = new Set(answers.map((row) => row.entry));
  const held: HeldUse[] = [];
  for (const use of await usesOfHold(books, hold)) {
    if (answered.has(use.entry)) continue;
    const trial = use.melt === '' ? undefined : await books.get(trials, use.melt);
    // Nothing rests any more on what was found of a refused melt.
    if (trial?.returned != null || trial?.ruling === 'refuse') continue;
    if (await stillStands(books, use)) held.push({ ...use, trial });
  }
  return held;
}
