import { type NumberForm, plainDecimal } from './number-form.ts';

/** A reading as it was sent: its digits stay as they are, trailing zeros too. */
export interface Digits {
  readonly digits: string;
}

/** An empty cell for a reading: what is written into it stays text, with its trailing zeros. */
export const roomForReading = { room: 'reading' } as const;

/** What may stand in a cell; nothing for an empty one. */
export type CsvValue = string | number | Digits | typeof roomForReading | null;

type DecimalMark = NumberForm['decimalMark'];

/** A text that a spreadsheet would take for a formula is marked as text. */
const isFormula = /^[=+\-@\t\r]/;

const withMark = (digits: string, mark: DecimalMark): string =>
  mark === 'comma' ? digits.replace('.', ',') : digits;

/** Cells are parted by a semicolon where the comma is the decimal mark. */
const separatorOf = (mark: DecimalMark): string => (mark === 'comma' ? ';' : ',');

function cell(value: CsvValue, mark: DecimalMark): string {
  if (value === null) return '';
  if (typeof value === 'number') return withMark(plainDecimal(value), mark);
  if (typeof value === 'object') return 'room' in value ? '' : withMark(value.digits, mark);
  const text = isFormula.test(value) ? `'${value}` : value;
  const isQuoted = /["\r\n]/.test(text) || text.includes(separatorOf(mark));
  return isQuoted ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * A table as separated values after RFC 4180, in UTF-8 with its mark so that spreadsheets know it:
 * with commas between cells, or with semicolons where the comma is the decimal mark.
 */
export function csvBytes(
  heads: readonly string[],
  rows: readonly (readonly CsvValue[])[],
  mark: DecimalMark = 'point',
): Uint8Array {
  const lines = [heads, ...rows].map((row) =>
    row.map((value) => cell(value, mark)).join(separatorOf(mark)),
  );
  return new TextEncoder().encode(`\ufeff${lines.join('\r\n')}\r\n`);
}
