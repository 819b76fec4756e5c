/** What may stand in a cell; nothing for an empty one. */
export type CsvValue = string | number | null;

/** A text that a spreadsheet would take for a formula is marked as text. */
const isFormula = /^[=+\-@\t\r]/;

function cell(value: CsvValue): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const text = isFormula.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** A table as comma-separated values after RFC 4180, in UTF-8 with its mark so that spreadsheets know it. */
export function csvBytes(
  heads: readonly string[],
  rows: readonly (readonly CsvValue[])[],
): Uint8Array {
  const lines = [heads, ...rows].map((row) => row.map(cell).join(','));
  return new TextEncoder().encode(`\ufeff${lines.join('\r\n')}\r\n`);
}
