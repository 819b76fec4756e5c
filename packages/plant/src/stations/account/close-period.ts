import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type MovementRow, movements } from '../../journal/core-books.ts';
import { invariant } from '../../journal/fault.ts';
import { merkleNodes, rootHash } from '../../journal/merkle.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { type ClosingRow, closings, type DifferenceRow, differences } from './books.ts';
import { type PeriodRow, periods } from './books-periods.ts';
import { DayClosed, MonthClosed } from './entries-periods.ts';
import { openShifts, type Period, periodOf } from './period.ts';
import { periodDifferences, periodLines, rangeOf } from './period-statement.ts';
import { piecesRefusals } from './pieces-differ.ts';
import { accountRefusals } from './refusals.ts';
import { dayOfShift, isInPeriod, monthOfShift } from './shift-names.ts';
import { witnessRoles } from './witness.ts';

interface PeriodInput {
  readonly period: string;
}

interface PeriodFacts {
  readonly row: PeriodRow | undefined;
  readonly closings: readonly ClosingRow[];
  /** The days of a month in which a shift was closed. */
  readonly days: readonly PeriodRow[];
  readonly present: Period;
  /** Every movement since the period began. */
  readonly movements: readonly MovementRow[];
  readonly open: readonly DifferenceRow[];
  readonly hashes: { readonly leaf: string; readonly tree: string } | undefined;
}

async function hashesAt(books: BookReader, entry: number): Promise<PeriodFacts['hashes']> {
  const leaf = await books.get(merkleNodes, 0, entry - 1);
  invariant(leaf, `the tree has no leaf of entry ${entry}`);
  return { leaf: leaf.hash, tree: await rootHash(books, entry) };
}

async function daysOf(books: BookReader, row: PeriodRow): Promise<readonly PeriodRow[]> {
  const names = [...new Set(row.shifts.map(dayOfShift))].sort();
  const rows = await Promise.all(names.map((day) => books.get(periods, day)));
  return rows.filter((day): day is PeriodRow => day !== undefined);
}

async function periodFacts(books: BookReader, { period }: PeriodInput): Promise<PeriodFacts> {
  const row = await books.get(periods, period);
  const closed: ClosingRow[] = [];
  for (const shift of row?.shifts ?? []) {
    const closing = await books.get(closings, shift);
    if (closing) closed.push(closing);
  }
  const range = rangeOf(closed);
  const open = await books.select(differences, { by: 'byState', prefix: ['open'] });
  return {
    row,
    closings: closed,
    days: row?.length === 'month' ? await daysOf(books, row) : [],
    present: await periodOf(books),
    movements: closed.length === 0 ? [] : await books.select(movements, { from: range.firstEntry }),
    open: open.filter((difference) => isInPeriod(difference.shift, period)),
    hashes: closed.length === 0 ? undefined : await hashesAt(books, range.lastEntry),
  };
}

function timeRefusal(
  { period }: PeriodInput,
  facts: PeriodFacts,
  circumstances: Circumstances,
): Refusal | undefined {
  const { row } = facts;
  if (row?.state === 'closed') {
    return refuse(accountRefusals, 'PeriodAlreadyClosed', {
      message: `${period} was closed in entry ${row.entry}.`,
      field: 'period',
      figures: { period, entry: row.entry },
    });
  }
  const { shift } = circumstances;
  const today = period.length === 7 ? monthOfShift(shift) : dayOfShift(shift);
  if (period < today) return undefined;
  return refuse(accountRefusals, 'PeriodNotOver', {
    message: `${period} is not over: the present shift is ${shift}.`,
    field: 'period',
    figures: { period, presentShift: shift },
  });
}

function openRefusals({ period }: PeriodInput, facts: PeriodFacts): readonly Refusal[] {
  const shifts = openShifts(facts.present).filter((shift) => isInPeriod(shift, period));
  const open = shifts.map((shift) =>
    refuse(accountRefusals, 'ShiftStillOpen', {
      message: `Shift ${shift} of ${period} is open: metal moved in it, and no close covers it.`,
      field: 'period',
      figures: { period, shift },
    }),
  );
  const days = facts.days
    .filter((day) => day.state === 'open')
    .map((day) =>
      refuse(accountRefusals, 'DayStillOpen', {
        message: `${day.period} is not closed; its shifts are ${day.shifts.join(', ')}.`,
        field: 'period',
        figures: { period, day: day.period },
      }),
    );
  return [...open, ...days];
}

/** Differences of pieces that a tally of the period shows and that nobody has signed. */
function unsignedRefusals({ period }: PeriodInput, facts: PeriodFacts): readonly Refusal[] {
  return facts.present.places.flatMap(({ tally }) =>
    tally && isInPeriod(tally.shift, period) ? piecesRefusals(tally, facts.present) : [],
  );
}

function refusalsOf(
  input: PeriodInput,
  facts: PeriodFacts,
  circumstances: Circumstances,
): readonly Refusal[] {
  const early = timeRefusal(input, facts, circumstances);
  if (early) return [early];
  const open = openRefusals(input, facts);
  if (open.length > 0) return open;
  if (facts.closings.length === 0) {
    const { period } = input;
    const message = `No shift of ${period} has been closed, so there is nothing to freeze.`;
    const figures = { period };
    return [refuse(accountRefusals, 'PeriodWithoutWork', { message, field: 'period', figures })];
  }
  return unsignedRefusals(input, facts);
}

function decidePeriod(
  input: PeriodInput,
  facts: PeriodFacts,
  circumstances: Circumstances,
): Decision {
  const refusals = refusalsOf(input, facts, circumstances);
  if (refusals.length > 0) return { refusals };
  const { hashes } = facts;
  invariant(hashes, 'a period with closes has hashes');
  const range = rangeOf(facts.closings);
  const isMonth = input.period.length === 7;
  const body = {
    period: input.period,
    ...range,
    lastEntryLeafHash: hashes.leaf,
    treeHash: hashes.tree,
    shifts: facts.closings.map(({ shift, entry, firstEntry, lastEntry }) => ({
      shift,
      entry,
      firstEntry,
      lastEntry,
    })),
    days: facts.days.map((day) => day.period),
    lines: periodLines({
      places: facts.present.places,
      movements: facts.movements,
      range,
    }),
    differences: periodDifferences(facts.closings),
    openDifferences: facts.open.map((one) => one.difference),
  };
  return {
    entries: [draft(isMonth ? MonthClosed : DayClosed, body)],
    answer: { period: input.period, ...range },
  };
}

const periodCommand = (
  length: 'day' | 'month',
  field: { readonly form: RegExp; readonly accepted: string },
) =>
  defineCommand({
    command: `close-${length}`,
    station: 'account',
    title: `Close ${length}`,
    input: z.strictObject({
      period: z
        .string(field.accepted)
        .regex(field.form, field.accepted)
        .meta({
          title: length === 'day' ? 'Day' : 'Month',
          description: 'A shift belongs to the day on which it begins.',
        }),
    }),
    roles: ['metal accountant'],
    signature: 'author and witness',
    witnessRoles,
    facts: periodFacts,
    decide: decidePeriod,
  });

/** Freezes a day once all its shifts are closed. */
export const closeDay = periodCommand('day', {
  form: /^\d{4}-\d{2}-\d{2}$/,
  accepted: 'a day such as 2026-11-25',
});

/** Freezes a month once all its days are closed. */
export const closeMonth = periodCommand('month', {
  form: /^\d{4}-\d{2}$/,
  accepted: 'a month such as 2026-11',
});
