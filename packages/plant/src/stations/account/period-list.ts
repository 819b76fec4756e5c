import type { BookReader } from '../../journal/books.ts';
import { type PeriodRow, periods } from './books-periods.ts';
import { dayOfShift, isInPeriod, monthOfShift } from './shift-names.ts';

/** A day or month as the list of periods shows it. */
export interface ListedPeriod {
  readonly period: string;
  readonly length: 'day' | 'month';
  readonly state: 'closed' | 'runs' | 'shift open' | 'day open' | 'to be closed';
  readonly shifts: readonly string[];
  readonly lastClose: string;
  readonly entry: number | null;
}

/** A year of days is looked through for those that a month waits for. */
const mostDays = 400;

function stateOf(
  row: PeriodRow,
  at: { present: string; open: readonly string[]; openDays: readonly string[] },
): ListedPeriod['state'] {
  if (row.state === 'closed') return 'closed';
  const today = row.length === 'month' ? monthOfShift(at.present) : dayOfShift(at.present);
  if (row.period >= today) return 'runs';
  if (at.open.some((shift) => isInPeriod(shift, row.period))) return 'shift open';
  const waits = row.length === 'month' && at.openDays.some((day) => day.slice(0, 7) === row.period);
  return waits ? 'day open' : 'to be closed';
}

const listed = (row: PeriodRow, state: ListedPeriod['state']): ListedPeriod => ({
  period: row.period,
  length: row.length,
  state,
  shifts: row.shifts,
  lastClose: row.lastClose,
  entry: row.entry,
});

/** Every open day and month, oldest first, beside the shifts that no close covers. */
export async function openPeriods(
  books: BookReader,
  present: string,
  openShifts: readonly { readonly shift: string }[],
): Promise<readonly ListedPeriod[]> {
  const select = (length: 'day' | 'month') =>
    books.select(periods, { by: 'byState', prefix: [length, 'open'], limit: mostDays });
  const days = await select('day');
  const at = {
    present,
    open: openShifts.map(({ shift }) => shift),
    openDays: days.map((row) => row.period),
  };
  return [...days, ...(await select('month'))].map((row) => listed(row, stateOf(row, at)));
}

/** The newest days and months, closed ones too, newest first. */
export async function newestPeriods(
  books: BookReader,
  limits: { readonly days: number; readonly months: number },
  open: readonly ListedPeriod[],
): Promise<readonly ListedPeriod[]> {
  const select = (length: 'day' | 'month', limit: number) =>
    books.select(periods, { by: 'byLength', prefix: [length], descending: true, limit });
  const rows = [...(await select('month', limits.months)), ...(await select('day', limits.days))];
  return rows.map((row) => {
    const waiting = open.find((one) => one.period === row.period);
    return waiting ?? listed(row, 'closed');
  });
}
