// The build for browsers runs in Node as well: a desk reads a file before it is sent.
import { CsvError, parse } from 'csv-parse/browser/esm/sync';
import { type Sheet, type SheetsRead, type TableProblem, tidy } from './sheet.ts';

const separators = [';', '\t', ',', '|'] as const;
const greatestCharacters = 2_000_000;

/**
 * The text of a table laid out as rows: once for each separator under which some row has several
 * cells, the likeliest first. Which of them is meant shows when the header is looked for.
 */
export function sheetsOfCsv(text: string): SheetsRead {
  if (text.length > greatestCharacters) {
    return refused({
      line: 0,
      column: 'file',
      value: `${text.length} characters`,
      accepted: `at most ${greatestCharacters}`,
    });
  }
  const sheets: Sheet[] = [];
  let broken: { readonly problem: TableProblem; readonly cells: number } | undefined;
  let whole = 0;
  for (const separator of separators) {
    const split = splitRows(text, separator);
    const cells = cellsOfFirstLine(text, separator);
    if ('problem' in split) {
      if (cells > (broken?.cells ?? 0)) broken = { ...split, cells };
    } else {
      sheets.push(split);
      whole = Math.max(whole, cells);
    }
  }
  // The separator that the table is written with is the one that broke.
  if (broken && broken.cells > whole) return refused(broken.problem);
  return { outcome: 'sheets', sheets: sheets.toSorted(byEvenRows) };
}

function cellsOfFirstLine(text: string, separator: string): number {
  return (text.split(/\r?\n/, 1)[0] ?? '').split(separator).length;
}

function refused(problem: TableProblem): SheetsRead {
  return { outcome: 'problem', problem };
}

/** Rows of a table all have the same number of cells; the separator that makes most such rows goes first. */
function byEvenRows(left: Sheet, right: Sheet): number {
  return evenRows(right) - evenRows(left);
}

function evenRows({ rows }: Sheet): number {
  const counts = new Map<number, number>();
  for (const { cells } of rows) {
    if (cells.length > 1) counts.set(cells.length, (counts.get(cells.length) ?? 0) + 1);
  }
  return Math.max(0, ...counts.values());
}

function splitRows(text: string, delimiter: string): Sheet | { readonly problem: TableProblem } {
  try {
    const records = parse(text, {
      delimiter,
      bom: true,
      info: true,
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as { record: string[]; info: { lines: number } }[];
    const rows = records.map(({ record, info }) => ({
      line: info.lines,
      cells: record.map((cell) => ({ kind: 'text' as const, text: tidy(cell) })),
    }));
    return { rows, isRagged: true };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error.lines === 'number' ? error.lines : 1;
    const accepted = 'cells whose quotes are closed, with quotes inside them doubled';
    return { problem: { line, column: 'row', value: error.code, accepted } };
  }
}
