import { parse } from 'csv-parse/sync';
import readWorkbook from 'read-excel-file/node';
import { describe, expect, it } from 'vitest';
import type { PaperSources } from '../../journal/station.ts';
import { csvBytes } from '../../tables/csv.ts';
import {
  type AccountTrial,
  close,
  found,
  shift,
  sign,
  tally,
  withPieces,
} from './account-trial.ts';
import { closings } from './books.ts';
import { accountPapers } from './papers.ts';
import { shiftSheetContent } from './shift-sheet-content.ts';
import { shiftSheetPdf } from './shift-sheet-pdf.ts';

const sources = (trial: AccountTrial): PaperSources => ({
  books: trial.books,
  instant: new Date(trial.now).toISOString(),
  signer: trial.signer,
  proofOf: async () => undefined,
});

const paper = (name: string) => {
  const named = accountPapers.find((one) => one.paper === name);
  if (!named) throw new RangeError(`no paper ${name}`);
  return named;
};

/** The early shift closed with one piece missing and signed for. */
async function closedShift(): Promise<AccountTrial> {
  const trial = await withPieces();
  await tally(trial, 'receiving', [found(99, '3079.1')]);
  await sign(trial, { explanation: 'Searched the bench, "twice"; nothing found.' });
  await trial.do(
    'hand-over-shift',
    { shift, remark: 'One piece is missing in receiving.' },
    'custodian',
    'storeman',
  );
  await close(trial);
  return trial;
}

const linesOf = (bytes: Uint8Array | undefined): string[] =>
  new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes).split('\r\n');

describe('the shift sheet', () => {
  it('says in words and figures what two people signed', async () => {
    const trial = await closedShift();
    const closing = await trial.books.get(closings, shift);
    if (!closing) throw new RangeError('not closed');
    const content = shiftSheetContent({
      plantTitle: 'Trial Plant',
      timeZone: 'Europe/Vienna',
      closing,
      entryHash: undefined,
      handOver: undefined,
      flows: [],
      nameOf: (person) => `Ms ${person}`,
    });
    expect(content).toMatchObject({
      // 07:00 UTC is eight o'clock in Vienna in March.
      closedAt: '2026-03-02 08:00',
      author: 'Ms accountant',
      witness: 'Ms custodian',
      lines: [
        {
          place: 'Receiving',
          book: '100',
          tally: '99',
          signed: '−1',
          difference: '0',
          grossBook: '3110.30',
          grossTally: '3079.10',
        },
      ],
    });
    // 3 110.3 − 3 079.1 g with the 0.1155 g of two weighings.
    expect(content.lines[0]?.unexplained).toBe('31.200 ± 0.115, act');
  });

  it('is a tagged PDF/A-2a, the same bytes each time', async () => {
    const trial = await closedShift();
    const made = await paper('shift-sheet').render(sources(trial), shift);
    expect(made).toMatchObject({
      mediaType: 'application/pdf',
      fileName: 'shift-2026-03-02-early.pdf',
    });
    const text = Buffer.from(made?.bytes ?? []).toString('latin1');
    expect(text.startsWith('%PDF-1.7')).toBe(true);
    expect(text).toMatch(/pdfaid:part>2</);
    expect(text).toMatch(/pdfaid:conformance>A</);
    const again = await paper('shift-sheet').render(sources(trial), shift);
    expect(Buffer.from(again?.bytes ?? []).equals(Buffer.from(made?.bytes ?? []))).toBe(true);
  });

  it('is printed although a name is in letters that the fonts do not have', async () => {
    const trial = await closedShift();
    const closing = await trial.books.get(closings, shift);
    if (!closing) throw new RangeError('not closed');
    const content = shiftSheetContent({
      plantTitle: '造幣',
      timeZone: 'UTC',
      closing,
      entryHash: 'ab'.repeat(32),
      handOver: undefined,
      flows: [],
      nameOf: () => '山田',
    });
    expect(shiftSheetPdf(content).length).toBeGreaterThan(1000);
  });

  it('is not there before the shift is closed', async () => {
    const trial = await withPieces();
    expect(await paper('shift-sheet').render(sources(trial), shift)).toBeUndefined();
  });
});

describe('the tables of a month', () => {
  it('list every difference with who signed for it', async () => {
    const trial = await closedShift();
    const made = await paper('month-differences').render(sources(trial), '2026-03');
    expect(made).toMatchObject({ fileName: 'differences-2026-03.csv' });
    const [head, first, second, end] = linesOf(made?.bytes);
    expect(head?.startsWith('\ufeffDifference,Form,Shift')).toBe(true);
    expect(first).toBe(
      'D-10,signed,2026-03-02-early,2026-03-02T07:00:00.000Z,Receiving,gold,trial-piece,M-1,-1,0,0,Chief,custodian,10,open,"Searched the bench, ""twice""; nothing found.",,',
    );
    // The grams of the piece stand out, since only the piece was signed for.
    expect(second?.startsWith('G-12-receiving-1,grams only')).toBe(true);
    expect(end).toBe('');
    expect(await paper('month-differences').render(sources(trial), '2026-02')).toBeUndefined();
    expect(await paper('month-differences').render(sources(trial), shift)).toBeUndefined();
  });

  it('list every line of every close', async () => {
    const trial = await closedShift();
    const made = await paper('month-balances').render(sources(trial), '2026-03');
    const [, first] = linesOf(made?.bytes);
    expect(first).toMatch(
      /^2026-03-02-early,2026-03-02T07:00:00\.000Z,12,Receiving,gold,trial-piece,100,99,-1,0,3110\.3,3079\.1,31\.2,0,0\.115\d*,act$/,
    );
    expect(await paper('month-balances').render(sources(trial), '2026-02')).toBeUndefined();
  });
});

describe('the workbooks of a month', () => {
  it.each([
    ['month-differences', 'Difference', 2],
    ['month-balances', 'Shift', 1],
  ])('hold in %s what the separated values hold', async (name, head, lines) => {
    const trial = await closedShift();
    const made = await paper(`${name}-workbook`).render(sources(trial), '2026-03');
    expect(made?.fileName).toMatch(/-2026-03\.xlsx$/);
    const [sheet] = await readWorkbook(Buffer.from(made?.bytes ?? []));
    const rows = sheet?.data ?? [];
    expect(rows[0]?.[0]).toBe(head);
    expect(rows).toHaveLength(lines + 1);
    const csv = await paper(name).render(sources(trial), '2026-03');
    const cells = parse(Buffer.from(csv?.bytes ?? []), { bom: true }) as string[][];
    for (const [at, row] of rows.entries()) {
      const texts = row.map((cell) => (cell === null ? '' : String(cell)));
      expect(texts.slice(0, 6)).toEqual(cells[at]?.slice(0, 6));
    }
    expect(await paper(`${name}-workbook`).render(sources(trial), '2026-02')).toBeUndefined();
  });
});

describe('comma-separated values', () => {
  it('quote what has to be quoted, and never hand a spreadsheet a formula', () => {
    const [head, row] = linesOf(
      csvBytes(
        ['a', 'b'],
        [
          ['=1+1', 'x, "y"\nz'],
          [-1, null],
        ],
      ),
    );
    expect(head).toBe('\ufeffa,b');
    expect(row).toBe(`'=1+1,"x, ""y""\nz"`);
    expect(linesOf(csvBytes(['a'], [[-1]]))[1]).toBe('-1');
  });
});
