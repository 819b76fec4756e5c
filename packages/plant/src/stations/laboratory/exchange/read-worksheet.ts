import { lengthReadingSchema, massReadingSchema, type Reading } from '../../../journal/reading.ts';
import { digitsOf, folded } from '../../../tables/number-form.ts';
import {
  filledPlaces,
  type Sheet,
  type SheetRow,
  type TableProblem,
  textAt,
} from '../../../tables/sheet.ts';
import type { SetAside } from './file-bodies.ts';

/** The units that a heading may state, each as a reading has it. */
const units = ['kg', 'g', 'mg', 'mm', 'µm'] as const;
type Unit = (typeof units)[number];

/** A column of readings: its place and the unit that its heading states. */
interface ReadingColumn {
  readonly place: number;
  readonly head: string;
  readonly unit: Unit;
}

/** The heading of a column apart from its unit: "Mass, g" and "Mass (g)" are mass in g. */
function headParts(head: string): { readonly name: string; readonly unit: Unit | undefined } {
  const [, name = head, unit = ''] =
    /^(.*?)(?:,\s*|\s*[([]\s*)([^\s,()[\]]+)\s*[)\]]?$/.exec(head) ?? [];
  const known = units.find((one) => one === unit.replace('μ', 'µ'));
  return known ? { name: name.trim(), unit: known } : { name: head, unit: undefined };
}

const isNamed = (head: string, name: string): boolean =>
  folded(headParts(head).name).trim() === folded(name);

/** A worksheet that came back: its header and the rows under it. */
export interface FoundSheet {
  readonly heads: readonly string[];
  readonly rows: readonly SheetRow[];
}

const rowsLookedAt = 20;

/** The sheet and row whose headings have all of those names; nothing when there is none. */
export function findSheet(
  sheets: readonly Sheet[],
  names: readonly string[],
): FoundSheet | undefined {
  for (const { rows } of sheets) {
    for (const [at, row] of rows.slice(0, rowsLookedAt).entries()) {
      const heads = row.cells.map(({ text }) => text);
      if (names.every((name) => heads.some((head) => isNamed(head, name)))) {
        return { heads, rows: rows.slice(at + 1) };
      }
    }
  }
  return undefined;
}

/** A reading with a mark for decimals, whichever it is: a worksheet groups no digits. */
function digitsIn(text: string): string | undefined {
  const decimalMark = text.includes(',') ? 'comma' : 'point';
  return digitsOf(text, { decimalMark, groupMark: 'none' });
}

/** Reads the rows of a worksheet and notes what is wrong with them. */
export class WorksheetReader {
  readonly problems: TableProblem[] = [];
  readonly leftOut: { readonly line: number; readonly words: string }[] = [];
  readonly #found: FoundSheet;
  readonly #aside: ReadonlySet<number>;
  readonly #met = new Set<number>();

  constructor(found: FoundSheet, setAside: readonly SetAside[]) {
    this.#found = found;
    this.#aside = new Set(setAside.map(({ line }) => line));
  }

  note(line: number, column: string, value: string, accepted: string): void {
    this.problems.push({ line, column, value, accepted });
  }

  place(name: string): number {
    return this.#found.heads.findIndex((head) => isNamed(head, name));
  }

  /** The column of that name with the unit of its heading, which must be one of those. */
  column(name: string, accepted: readonly Unit[]): ReadingColumn {
    const place = this.place(name);
    const head = this.#found.heads[place] ?? name;
    const { unit } = headParts(head);
    if (unit && accepted.includes(unit)) return { place, head, unit };
    this.note(0, name, head, `a heading with its unit, as “${name}, ${accepted[0]}”`);
    return { place, head, unit: accepted[0] ?? 'g' };
  }

  /** The rows in which something stands and which are not set aside. */
  *rows(readings: readonly ReadingColumn[]): Generator<SheetRow> {
    for (const row of this.#found.rows) {
      if (filledPlaces(row).length === 0) continue;
      if (this.#aside.has(row.line)) {
        this.#met.add(row.line);
        continue;
      }
      if (readings.every(({ place }) => textAt(row, place) === '')) {
        this.leftOut.push({ line: row.line, words: 'without a reading' });
        continue;
      }
      yield row;
    }
    for (const line of this.#aside) {
      if (!this.#met.has(line)) {
        this.note(line, 'set aside', String(line), 'a line of this worksheet');
      }
    }
  }

  /** An id as it stands; a sheet that made a day of it is told so. */
  id(row: SheetRow, name: string): string {
    const cell = row.cells[this.place(name)];
    const text = (cell?.text ?? '').replace(/^'(?=[=+\-@])/, '');
    if (cell?.kind === 'day') {
      this.note(row.line, name, text, 'an id; the sheet holds a day here: write the cell as text');
    } else if (text === '') this.note(row.line, name, '', `the ${name.toLowerCase()}`);
    return text;
  }

  /** Every row must be of the melt that it is taken for. */
  checkMelt(row: SheetRow, melt: string): void {
    const text = textAt(row, this.place('Melt'));
    if (text !== '' && text !== melt) this.note(row.line, 'Melt', text, melt);
  }

  /** A reading with the decimals that stand in its cell for whoever looks at it. */
  reading(row: SheetRow, { place, head, unit }: ReadingColumn): Reading {
    const cell = row.cells[place];
    const { shown } = cell ?? {};
    const text = cell?.text ?? '';
    if (shown === null || (shown !== undefined && Number(shown) !== Number(text))) {
      const form = shown === null ? 'not as a plain number' : `as ${shown}`;
      const accepted = `a cell that shows the whole reading; it holds ${text} and shows it ${form}: write it as text`;
      this.note(row.line, head, text, accepted);
      return { text, unit, typed: true };
    }
    const digits = cell?.kind === 'day' ? undefined : digitsIn(shown ?? text);
    const reading = { text: digits ?? text, unit, typed: true };
    const schema = unit === 'mm' || unit === 'µm' ? lengthReadingSchema : massReadingSchema;
    const parsed = schema.safeParse(reading);
    if (digits === undefined || !parsed.success) {
      const accepted = parsed.success
        ? 'digits with one decimal sign'
        : parsed.error.issues[0]?.message;
      this.note(
        row.line,
        head,
        text,
        digits === undefined ? `a number in ${unit}` : (accepted ?? ''),
      );
    }
    return reading;
  }
}
