import type { BookReader } from '../../journal/books.ts';
import { movements } from '../../journal/core-books.ts';
import type { Paper, PaperSources } from '../../journal/station.ts';
import { type CsvValue, csvBytes } from '../../tables/csv.ts';
import { workbookBytes, workbookMediaType } from '../../tables/workbook.ts';
import { peopleOf, plantOf } from '../registers/index.ts';
import { type ClosingRow, closings, differences } from './books.ts';
import { handOvers, periods } from './books-periods.ts';
import { balanceHeads, balanceRows, differenceHeads, differenceRows } from './month-tables.ts';
import { seesBook } from './sees-book.ts';
import { shiftFlows } from './shift-flows.ts';
import { isInPeriod } from './shift-names.ts';
import { shiftSheetContent } from './shift-sheet-content.ts';
import { shiftSheetPdf } from './shift-sheet-pdf.ts';

/** Full names by sign-in names. */
async function namesIn(books: BookReader): Promise<(person: string) => string> {
  const names = new Map((await peopleOf(books)).map(({ person, name }) => [person, name]));
  return (person) => names.get(person) ?? person;
}

/** A closed shift with the names of the two who closed it, to print. */
const shiftSheet: Paper = {
  paper: 'shift-sheet',
  station: 'account',
  readableBy: seesBook,
  title: 'shift sheet',
  render: async ({ books, proofOf }: PaperSources, shift: string) => {
    const closing = await books.get(closings, shift);
    if (!closing) return undefined;
    const plant = await plantOf(books);
    const moved = await books.select(movements, { by: 'byShift', prefix: [shift] });
    const content = shiftSheetContent({
      plantTitle: plant?.title ?? '',
      timeZone: plant?.timeZone ?? 'UTC',
      closing,
      entryHash: (await proofOf(closing.entry))?.entryHash,
      handOver: await books.get(handOvers, shift),
      flows: shiftFlows(moved),
      nameOf: await namesIn(books),
    });
    return {
      mediaType: 'application/pdf',
      fileName: `shift-${shift}.pdf`,
      bytes: shiftSheetPdf(content),
    };
  },
};

async function closingsOf(books: BookReader, month: string): Promise<readonly ClosingRow[]> {
  const row = await books.get(periods, month);
  const found: ClosingRow[] = [];
  for (const shift of row?.shifts ?? []) {
    const closing = await books.get(closings, shift);
    if (closing) found.push(closing);
  }
  return found;
}

const monthForm = /^\d{4}-\d{2}$/;

/** A table of one month; nothing where the month has none. */
interface MonthTable {
  readonly name: 'differences' | 'balances';
  readonly heads: readonly string[];
  readonly rowsOf: (
    books: BookReader,
    month: string,
  ) => Promise<readonly (readonly CsvValue[])[] | undefined>;
}

/** The differences that were signed or stood out in a month. */
const differencesOfMonth: MonthTable = {
  name: 'differences',
  heads: differenceHeads,
  rowsOf: async (books, month) => {
    const all = await books.select(differences, { by: 'byEntry' });
    const rows = all.filter((row) => isInPeriod(row.shift, month));
    const isKnown = (await books.get(periods, month)) !== undefined;
    return rows.length === 0 && !isKnown ? undefined : differenceRows(rows, await namesIn(books));
  },
};

/** Every balance that the closes of a month made. */
const balancesOfMonth: MonthTable = {
  name: 'balances',
  heads: balanceHeads,
  rowsOf: async (books, month) => {
    const closed = await closingsOf(books, month);
    return closed.length === 0 ? undefined : balanceRows(closed);
  },
};

/** A table of a month as separated values, for any program. */
const monthCsv = ({ name, heads, rowsOf }: MonthTable): Paper => ({
  paper: `month-${name}`,
  station: 'account',
  readableBy: seesBook,
  title: `list of ${name}`,
  render: async ({ books }: PaperSources, month: string) => {
    const rows = monthForm.test(month) ? await rowsOf(books, month) : undefined;
    return (
      rows && {
        mediaType: 'text/csv; charset=utf-8',
        fileName: `${name}-${month}.csv`,
        bytes: csvBytes(heads, rows),
      }
    );
  },
});

/** The same table as a workbook. */
const monthWorkbook = ({ name, heads, rowsOf }: MonthTable): Paper => ({
  paper: `month-${name}-workbook`,
  station: 'account',
  readableBy: seesBook,
  title: `workbook of ${name}`,
  render: async ({ books }: PaperSources, month: string) => {
    const rows = monthForm.test(month) ? await rowsOf(books, month) : undefined;
    return (
      rows && {
        mediaType: workbookMediaType,
        fileName: `${name}-${month}.xlsx`,
        bytes: await workbookBytes(heads, rows, `${name} ${month}`),
      }
    );
  },
});

const monthTables = [differencesOfMonth, balancesOfMonth];

export const accountPapers: readonly Paper[] = [
  shiftSheet,
  ...monthTables.map(monthCsv),
  ...monthTables.map(monthWorkbook),
];
