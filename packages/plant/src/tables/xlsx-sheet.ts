import { plainDecimal } from './number-form.ts';
import { type FormatMeaning, shownDigits } from './number-format.ts';
import { type Cell, type Sheet, type SheetsRead, tidy } from './sheet.ts';
import { formatsOfWorkbook } from './shown-cells.ts';
import { boundUnpackedBytes } from './zip-entries.ts';

const greatestBytes = 16 * 1024 * 1024;
/** A table of 20 000 rows takes less when it is unpacked. */
const greatestUnpackedBytes = 128 * 1024 * 1024;
const greatestRows = 20_000;

/** True for the first bytes of a ZIP archive, which a workbook is. */
export function isWorkbook(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 0x03 && bytes[3] === 0x04;
}

function problem(value: string, accepted: string): SheetsRead {
  return { outcome: 'problem', problem: { line: 0, column: 'file', value, accepted } };
}

/** A cell as the workbook holds it; a sheet keeps no more than fifteen digits of a number. */
function cellOf(value: unknown, format: FormatMeaning): Cell {
  if (value === null || value === undefined) return { kind: 'text', text: '' };
  if (value instanceof Date) return { kind: 'day', text: value.toISOString().slice(0, 10) };
  if (typeof value === 'number') {
    const text = plainDecimal(Number(value.toPrecision(15)));
    if (format === 'as held') return { kind: 'number', text };
    return { kind: 'number', text, shown: format === 'other' ? null : shownDigits(text, format) };
  }
  return { kind: 'text', text: tidy(String(value)) };
}

/** The sheets of a workbook (ECMA-376) as rows, each with its row number in the sheet. */
export async function sheetsOfWorkbook(bytes: Uint8Array): Promise<SheetsRead> {
  if (bytes.length > greatestBytes) {
    return problem(`${bytes.length} bytes`, `a workbook of at most ${greatestBytes} bytes`);
  }
  // Loaded when the first workbook comes: most files are text.
  const { default: readWorkbook } = await import('read-excel-file/universal');
  let read: Awaited<ReturnType<typeof readWorkbook>>;
  let formats: ReturnType<typeof formatsOfWorkbook>;
  try {
    boundUnpackedBytes(bytes, greatestUnpackedBytes);
    read = await readWorkbook(new Uint8Array(bytes).buffer, { trim: true });
    formats = formatsOfWorkbook(bytes);
  } catch (error) {
    return problem((error as Error).message.slice(0, 200), 'a workbook that is whole, or CSV');
  }
  const sheets = read
    .map(({ sheet, data }): Sheet => {
      const formatAt = formats.get(sheet) ?? (() => 'as held' as const);
      const rows = data.slice(0, greatestRows).map((row, index) => ({
        line: index + 1,
        cells: row.map((value, place) => cellOf(value, formatAt(index + 1, place))),
      }));
      return { rows, isRagged: false };
    })
    .filter(({ rows }) => rows.some(({ cells }) => cells.some(({ text }) => text !== '')));
  return sheets.length > 0
    ? { outcome: 'sheets', sheets }
    : problem('a workbook without a filled cell', 'a sheet with a table');
}
