import type { CsvValue } from './csv.ts';

/** Media type of a workbook: ECMA-376. */
export const workbookMediaType =
  'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';

/** Greatest width of a column, in characters. */
const widest = 40;

const decimalsOf = (digits: string): number => digits.split('.')[1]?.length ?? 0;

/**
 * A cell of a workbook: text is always text, a reading is a number that shows its own digits, and room
 * for a reading keeps as text whatever is typed into it.
 */
function cell(value: CsvValue) {
  if (value === null || value === '') return null;
  if (typeof value === 'string') return { value, type: String };
  if (typeof value === 'number') return { value, type: Number };
  if ('room' in value) return { value: '', type: String, format: '@', align: 'right' as const };
  const decimals = decimalsOf(value.digits);
  const format = decimals === 0 ? '0' : `0.${'0'.repeat(decimals)}`;
  return { value: Number(value.digits), type: Number, format };
}

function shownLength(value: CsvValue): number {
  if (value === null) return 0;
  if (typeof value !== 'object') return String(value).slice(0, widest).length;
  return 'room' in value ? 0 : value.digits.length;
}

/** A table as a workbook of one sheet (ECMA-376), its heads in bold and kept in sight. */
export async function workbookBytes(
  heads: readonly string[],
  rows: readonly (readonly CsvValue[])[],
  sheet: string,
): Promise<Uint8Array> {
  // Loaded when the first workbook is asked for.
  const { default: writeWorkbook } = await import('write-excel-file/node');
  const data = [
    heads.map((head) => ({ value: head, type: String, fontWeight: 'bold' as const })),
    ...rows.map((row) => row.map(cell)),
  ];
  const columns = heads.map((head, place) => ({
    width: Math.min(
      widest,
      2 + Math.max(head.length, ...rows.map((row) => shownLength(row[place] ?? null))),
    ),
  }));
  const made = await writeWorkbook(data, { sheet, columns, stickyRowsCount: 1 });
  return new Uint8Array(await made.toBuffer());
}
