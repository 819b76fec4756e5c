/** A cell as the file has it: text, a number with a decimal point, or a calendar day. */
export interface Cell {
  readonly kind: 'text' | 'number' | 'day';
  readonly text: string;
  /**
   * A number as the sheet shows it, with the decimals of its format; nothing where that is no plain
   * decimal number. Left out where the sheet shows what it holds.
   */
  readonly shown?: string | null;
}

/** A row with the line on which it stands in the file, the first being 1. */
export interface SheetRow {
  readonly line: number;
  readonly cells: readonly Cell[];
}

/** A table as rows of cells, before anything is known of what they mean. */
export interface Sheet {
  readonly rows: readonly SheetRow[];
  /** True where a row longer than the header can only come from a separator too many. */
  readonly isRagged: boolean;
}

/** What is wrong with a table; line 0 is the file as a whole, or what was typed beside it. */
export interface TableProblem {
  readonly line: number;
  readonly column: string;
  readonly value: string;
  readonly accepted: string;
}

/** A file that could be laid out as rows, in one way or several, or why it could not. */
export type SheetsRead =
  | { readonly outcome: 'sheets'; readonly sheets: readonly Sheet[] }
  | { readonly outcome: 'problem'; readonly problem: TableProblem };

/** A text without blanks at its ends and with single blanks inside, whatever kind of blank it had. */
export function tidy(text: string): string {
  return text
    .replace(/\uFEFF/g, '')
    .replace(/\s+/gu, ' ')
    .trim();
}

/** The text of the cell at that place; empty where the row ends before it. */
export function textAt(row: SheetRow, place: number | undefined): string {
  return place === undefined ? '' : (row.cells[place]?.text ?? '');
}

/** The places of a row at which something stands. */
export function filledPlaces(row: SheetRow): readonly number[] {
  return row.cells.flatMap(({ text }, place) => (text === '' ? [] : [place]));
}
