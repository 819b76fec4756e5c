import type { BookReader } from '../../../journal/books.ts';
import {
  condemnedLotsOf,
  type ReagentLotRow,
  reagentLotOf,
  type SuspectIntervalRow,
  suspectIntervalsOf,
} from '../../registers/index.ts';
import { type AssayRunRow, assayRuns, type TrialRow, trials } from '../books.ts';
import { blanksMeasuredOf } from '../read-model-queries.ts';
import { holdAnswers, type UseRow, uses } from './books.ts';

/** A reason why runs and measurements of the past are in doubt. */
export interface Hold {
  /** Its name, stable and unique: `reagent-lot/HNO3-7`. */
  readonly hold: string;
  readonly thing: UseRow['thing'];
  readonly id: string;
  /** Entries between these two are in doubt, the ends not among them. */
  readonly from: number;
  readonly through: number;
  readonly since: string;
  /** What happened, as a sentence. */
  readonly words: string;
}

function holdOfLot(row: ReagentLotRow): readonly Hold[] {
  if (!row.condemned) return [];
  const { entry, instant, reason } = row.condemned;
  return [
    {
      hold: `reagent-lot/${row.lot}`,
      thing: 'reagent-lot',
      id: row.lot,
      from: 0,
      through: entry,
      since: instant,
      words: `Lot ${row.lot} of ${row.reagent} was condemned: ${reason}`,
    },
  ];
}

function holdOfCheck(row: SuspectIntervalRow): Hold {
  return {
    hold: `instrument/${row.instrument}/${row.through}`,
    thing: 'instrument',
    id: row.instrument,
    from: row.from,
    through: row.through,
    since: row.throughInstant,
    words: `Instrument ${row.instrument} failed its check in entry ${row.through}. ${row.words}`,
  };
}

/** Every hold there is, also those whose runs are all answered for. */
export async function holdsOf(books: BookReader): Promise<readonly Hold[]> {
  return [
    ...(await condemnedLotsOf(books)).flatMap(holdOfLot),
    ...(await suspectIntervalsOf(books)).map(holdOfCheck),
  ];
}

/** What must be known of a run or measurement to see what puts it in doubt. */
export interface Made {
  readonly entry: number;
  readonly instruments: readonly string[];
  readonly reagentLots: readonly string[];
}

export const madeOfRun = ({ entry, instrument, worksheet }: AssayRunRow): Made => ({
  entry,
  instruments: 'balance' in worksheet ? [instrument, worksheet.balance] : [instrument],
  reagentLots: worksheet.reagentLots ?? [],
});

/** The holds on one run or measurement that nobody has answered for. */
export async function holdsOn(books: BookReader, made: Made): Promise<readonly Hold[]> {
  const found: Hold[] = [];
  for (const lot of made.reagentLots) {
    const row = await reagentLotOf(books, lot);
    if (row) found.push(...holdOfLot(row));
  }
  for (const instrument of new Set(made.instruments)) {
    found.push(...(await suspectIntervalsOf(books, instrument)).map(holdOfCheck));
  }
  const open: Hold[] = [];
  for (const hold of found) {
    const isInside = made.entry > hold.from && made.entry < hold.through;
    if (isInside && !(await books.get(holdAnswers, hold.hold, made.entry))) open.push(hold);
  }
  return open;
}

/** A run or measurement in doubt that waits for the chief assayer's word. */
export interface HeldUse extends UseRow {
  /** Nothing where the laboratory has no trial of the melt. */
  readonly trial: TrialRow | undefined;
}

/** Whether anything still rests on it: void runs, corrected measurements and refused melts do not count. */
async function stillCounts(books: BookReader, use: UseRow, trial: TrialRow | undefined) {
  if (trial?.returned != null || trial?.ruling === 'refuse') return false;
  if (use.assayRun !== null) return (await books.get(assayRuns, use.assayRun))?.state !== 'void';
  const blanks = await blanksMeasuredOf(books, use.melt);
  return blanks.some((row) => row.measurement.entry === use.entry);
}

/** What a hold keeps in doubt: used in its interval, not answered for, and still counting. */
export async function heldUses(books: BookReader, hold: Hold): Promise<readonly HeldUse[]> {
  const used = await books.select(uses, {
    prefix: [hold.thing, hold.id],
    from: hold.from + 1,
  });
  const answers = await books.select(holdAnswers, { prefix: [hold.hold] });
  const answered = new Set(answers.map((row) => row.entry));
  const held: HeldUse[] = [];
  for (const use of used) {
    if (use.entry >= hold.through || answered.has(use.entry)) continue;
    const trial = await books.get(trials, use.melt);
    if (await stillCounts(books, use, trial)) held.push({ ...use, trial });
  }
  return held;
}
