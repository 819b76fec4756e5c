import { sheetsOfCsv } from './csv-sheet.ts';
import type { Sheet, SheetsRead } from './sheet.ts';
import { isWorkbook, sheetsOfWorkbook } from './xlsx-sheet.ts';

/** A file laid out as rows, and the text by which its cells can be kept. */
export interface TableFileRead {
  readonly read: SheetsRead;
  /** The cells as text; for a file of text the text itself. */
  readonly text: string;
}

/** The text of a file: by its byte order mark, else UTF-8, else the code page that older desks write. */
export function textOfBytes(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

/** Lays out a file, told by its bytes: a workbook, else text. */
export async function readTableFile(bytes: Uint8Array): Promise<TableFileRead> {
  if (isWorkbook(bytes)) {
    const read = await sheetsOfWorkbook(bytes);
    return { read, text: read.outcome === 'sheets' ? transcript(read.sheets) : '' };
  }
  const text = textOfBytes(bytes);
  return { read: sheetsOfCsv(text), text };
}

const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;

/** The cells of every sheet as text with semicolons, a row in a line. */
export function transcript(sheets: readonly Sheet[]): string {
  return sheets
    .flatMap(({ rows }) => rows.map(({ cells }) => cells.map(({ text }) => quoted(text)).join(';')))
    .join('\n');
}
