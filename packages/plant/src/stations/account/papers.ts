import type { BookReader } from '../../journal/books.ts';
import { movements } from '../../journal/core-books.ts';
import type { Paper, PaperSources } from '../../journal/station.ts';
import { peopleOf, plantOf } from '../registers/index.ts';
import { type ClosingRow, closings, differences } from './books.ts';
import { handOvers, periods } from './books-periods.ts';
import { csvBytes } from './csv.ts';
import { balanceHeads, balanceRows, differenceHeads, differenceRows } from './month-tables.ts';
import { seesBook } from './sees-book.ts';
import { shiftFlows } from './shift-flows.ts';
import { isInPeriod } from './shift-names.ts';
import { shiftSheetContent } from './shift-sheet-content.ts';
import { shiftSheetPdf } from './shift-sheet-pdf.ts';

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
    const names = new Map((await peopleOf(books)).map(({ person, name }) => [person, name]));
    const moved = await books.select(movements, { by: 'byShift', prefix: [shift] });
    const content = shiftSheetContent({
      plantTitle: plant?.title ?? '',
      timeZone: plant?.timeZone ?? 'UTC',
      closing,
      entryHash: (await proofOf(closing.entry))?.entryHash,
      handOver: await books.get(handOvers, shift),
      flows: shiftFlows(moved),
      nameOf: (person) => names.get(person) ?? person,
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

const csvFile = (fileName: string, bytes: Uint8Array) => ({
  mediaType: 'text/csv; charset=utf-8',
  fileName,
  bytes,
});

const monthForm = /^\d{4}-\d{2}$/;

/** The differences that were signed or stood out in a month, as a table for a spreadsheet. */
const monthDifferences: Paper = {
  paper: 'month-differences',
  station: 'account',
  readableBy: seesBook,
  title: 'list of differences',
  render: async ({ books }: PaperSources, month: string) => {
    if (!monthForm.test(month)) return undefined;
    const all = await books.select(differences, { by: 'byEntry' });
    const rows = all.filter((row) => isInPeriod(row.shift, month));
    const isKnown = (await books.get(periods, month)) !== undefined;
    if (rows.length === 0 && !isKnown) return undefined;
    return csvFile(`differences-${month}.csv`, csvBytes(differenceHeads, differenceRows(rows)));
  },
};

/** Every balance that the closes of a month made, as a table for a spreadsheet. */
const monthBalances: Paper = {
  paper: 'month-balances',
  station: 'account',
  readableBy: seesBook,
  title: 'list of balances',
  render: async ({ books }: PaperSources, month: string) => {
    if (!monthForm.test(month)) return undefined;
    const closed = await closingsOf(books, month);
    if (closed.length === 0) return undefined;
    return csvFile(`balances-${month}.csv`, csvBytes(balanceHeads, balanceRows(closed)));
  },
};

export const accountPapers = [shiftSheet, monthDifferences, monthBalances] as const;
