import { type Sheet, type SheetRow, textAt, tidy } from './sheet.ts';

/** The header of a table: which rows it takes up and what each column is called by it. */
export interface Header {
  /** Index of its first row; nothing for a table without a header. */
  readonly first: number;
  /** Index of the first row under it. */
  readonly end: number;
  /** By place; a name that stands twice bears its number. */
  readonly names: readonly string[];
}

const greatestName = 120;

/** A column without a name is called by its place. */
export const placeName = (place: number): string => `column ${place + 1}`;

/** The greatest number of cells in a row. */
export function widthOf(rows: readonly SheetRow[]): number {
  return rows.reduce((width, { cells }) => Math.max(width, cells.length), 0);
}

/** A cell merged over several columns stands in the first of them: it speaks for those with a name below. */
function upperText(upper: SheetRow, place: number, below: string): string {
  const own = textAt(upper, place);
  if (own !== '' || below === '') return own;
  for (let left = place - 1; left >= 0; left -= 1) {
    const text = textAt(upper, left);
    if (text !== '') return text;
  }
  return '';
}

function nameAt(rows: readonly SheetRow[], place: number): string {
  let name = '';
  for (const row of rows.toReversed()) {
    const isLowest = row === rows.at(-1);
    const text = isLowest ? textAt(row, place) : upperText(row, place, name);
    name = tidy(`${text} ${name}`);
  }
  return name.slice(0, greatestName) || placeName(place);
}

function numbered(names: readonly string[]): readonly string[] {
  return names.map((name, place) => {
    const same = names.flatMap((other, at) => (other === name ? [at] : []));
    return same.length === 1 ? name : `${name} (${same.indexOf(place) + 1})`;
  });
}

/** Rows taken as the header of a table, with the names that they give its columns. */
export function headerAt({ rows }: Sheet, first: number, span: number): Header {
  const own = rows.slice(first, first + span);
  const names = Array.from({ length: widthOf(own) }, (_, place) => nameAt(own, place));
  return { first, end: first + span, names: numbered(names) };
}
