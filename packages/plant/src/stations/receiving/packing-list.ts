// The build for browsers runs in Node as well: the desk reads a list before it is sent.
import { CsvError, parse } from 'csv-parse/browser/esm/sync';
import type { z } from 'zod';
import { idSchema } from '../registers/index.ts';
import {
  type AnnounceInput,
  announceInput,
  drumPiecesSchema,
  meltIdSchema,
  supplierFinenessSchema,
} from './announce-input.ts';
import type { PackingListColumns } from './bodies.ts';

/** What a packing list does not say itself. */
export interface PackingListReading {
  readonly consignment: string;
  readonly supplier: string;
  readonly document: string;
  readonly pieceStandard: string;
  readonly columns: PackingListColumns;
  readonly massUnit: 'kg' | 'g';
  readonly decimalMark: 'point' | 'comma';
}

/** One thing that is wrong with a packing list; line 0 is what was typed beside it. */
export interface PackingListProblem {
  readonly line: number;
  readonly column: string;
  readonly value: string;
  readonly accepted: string;
}

/** A packing list read as a whole, or everything that is wrong with it. */
export type PackingListResult =
  | { readonly outcome: 'read'; readonly input: AnnounceInput }
  | { readonly outcome: 'problems'; readonly problems: readonly PackingListProblem[] };

const separators = [';', '\t', ','] as const;
const greatestCharacters = 2_000_000;

type Row = { readonly line: number; readonly cells: readonly string[] };
type Field = keyof PackingListColumns;

/**
 * Reads a supplier's packing list, one drum in a row, with a header. Separators: comma, semicolon or
 * tab, whichever gives the columns named. Nothing is taken unless every row is right.
 */
export function readPackingList(text: string, reading: PackingListReading): PackingListResult {
  if (text.length > greatestCharacters) {
    return refused([whole(`${text.length} characters`, `at most ${greatestCharacters}`)]);
  }
  for (const separator of separators) {
    const header = splitRows(text, { delimiter: separator, to: 1 });
    const places = 'rows' in header ? placesOfColumns(header.rows, reading.columns) : undefined;
    if (!places) continue;
    const split = splitRows(text, { delimiter: separator });
    return 'rows' in split ? readRows(split.rows, places, reading) : refused([split.problem]);
  }
  return refused([headerProblem(text, reading.columns)]);
}

function refused(problems: readonly PackingListProblem[]): PackingListResult {
  return { outcome: 'problems', problems };
}

const whole = (value: string, accepted: string): PackingListProblem => ({
  line: 0,
  column: 'packing list',
  value,
  accepted,
});

function splitRows(
  text: string,
  options: { readonly delimiter: string; readonly to?: number },
): { readonly rows: readonly Row[] } | { readonly problem: PackingListProblem } {
  try {
    const records = parse(text, {
      ...options,
      bom: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as { record: string[]; info: { lines: number } }[];
    return { rows: records.map(({ record, info }) => ({ line: info.lines, cells: record })) };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error.lines === 'number' ? error.lines : 1;
    const accepted = 'cells whose quotes are closed, with quotes inside them doubled';
    return { problem: { line, column: 'row', value: error.code, accepted } };
  }
}

/** Where each column stands in the header; nothing when one of them is missing. */
function placesOfColumns(
  rows: readonly Row[],
  columns: PackingListColumns,
): ReadonlyMap<Field, number> | undefined {
  const header = rows[0]?.cells ?? [];
  const places = new Map<Field, number>();
  for (const [field, name] of Object.entries(columns) as [Field, string | null][]) {
    if (name === null) continue;
    const place = header.indexOf(name.trim());
    if (place < 0 || header.lastIndexOf(name.trim()) !== place) return undefined;
    places.set(field, place);
  }
  return places;
}

function headerProblem(text: string, columns: PackingListColumns): PackingListProblem {
  const names = Object.values(columns).filter((name) => name !== null);
  return {
    line: 1,
    column: 'header',
    value: (text.split(/\r?\n/, 1)[0] ?? '').slice(0, 200),
    accepted: `a header with each of these columns once: ${names.join(', ')}`,
  };
}

function readRows(
  rows: readonly Row[],
  places: ReadonlyMap<Field, number>,
  reading: PackingListReading,
): PackingListResult {
  const width = rows[0]?.cells.length ?? 0;
  const problems: PackingListProblem[] = [];
  const drums: DrumRow[] = [];
  for (const row of rows.slice(1)) {
    if (row.cells.length !== width) {
      const value = `${row.cells.length} cells`;
      problems.push({ line: row.line, column: 'row', value, accepted: `${width} cells` });
      continue;
    }
    const cells = new Cells(row, places, reading);
    const drum = readDrum(cells);
    if (cells.problems.length === 0) drums.push(drum);
    problems.push(...cells.problems);
  }
  problems.push(...disagreements(drums, reading.columns));
  if (problems.length > 0) return refused(problems);
  return announce(drums, reading);
}

type DrumRow = AnnounceInput['drums'][number] & {
  readonly line: number;
  readonly supplierFinenessPerMille: number | null;
};

/** The cells of one row, each read by its schema; what is wrong is noted with line and column. */
class Cells {
  readonly problems: PackingListProblem[] = [];
  readonly row: Row;
  readonly #places: ReadonlyMap<Field, number>;
  readonly #reading: PackingListReading;

  constructor(row: Row, places: ReadonlyMap<Field, number>, reading: PackingListReading) {
    this.row = row;
    this.#places = places;
    this.#reading = reading;
  }

  has(field: Field): boolean {
    return this.#places.has(field) && this.#text(field) !== '';
  }

  text(field: Field, schema: z.ZodType<string>): string {
    const value = this.#text(field);
    this.#check(field, schema, value);
    return value;
  }

  number(field: Field, schema: z.ZodType<number | null>, accepted: string): number {
    const text = this.#decimal(field, accepted);
    if (text === undefined) return Number.NaN;
    this.#check(field, schema, Number(text));
    return Number(text);
  }

  mass(field: 'gross' | 'tare'): AnnounceInput['drums'][number]['gross'] {
    const unit = this.#reading.massUnit;
    const text = this.#decimal(field, `a mass in ${unit}`) ?? '';
    return { text, unit, typed: true };
  }

  #text(field: Field): string {
    return this.row.cells[this.#places.get(field) ?? -1] ?? '';
  }

  /** The digits with a decimal point; no grouping of thousands, which could be read in two ways. */
  #decimal(field: Field, accepted: string): string | undefined {
    const value = this.#text(field);
    const { decimalMark } = this.#reading;
    const form = decimalMark === 'comma' ? /^\d+(,\d+)?$/ : /^\d+(\.\d+)?$/;
    if (form.test(value)) return value.replace(',', '.');
    this.#note(field, value, `${accepted}, digits with a decimal ${decimalMark}, not grouped`);
    return undefined;
  }

  #check(field: Field, schema: z.ZodType, value: unknown): void {
    const parsed = schema.safeParse(value);
    if (parsed.success) return;
    this.#note(field, this.#text(field), parsed.error.issues[0]?.message ?? '');
  }

  #note(field: Field, value: string, accepted: string): void {
    const column = this.#reading.columns[field] ?? field;
    this.problems.push({ line: this.row.line, column, value, accepted });
  }
}

function readDrum(cells: Cells): DrumRow {
  return {
    line: cells.row.line,
    drum: cells.text('drum', idSchema),
    melt: cells.text('melt', meltIdSchema),
    pieces: cells.number('pieces', drumPiecesSchema, 'a whole number of pieces'),
    gross: cells.mass('gross'),
    tare: cells.mass('tare'),
    seal: cells.text('seal', idSchema),
    supplierFinenessPerMille: cells.has('supplierFinenessPerMille')
      ? cells.number('supplierFinenessPerMille', supplierFinenessSchema, 'a fineness in ‰')
      : null,
  };
}

/** Rows of one melt that state different finenesses. */
function disagreements(
  drums: readonly DrumRow[],
  columns: PackingListColumns,
): readonly PackingListProblem[] {
  const first = new Map<string, DrumRow>();
  return drums.flatMap((drum) => {
    const earlier = first.get(drum.melt);
    if (!earlier) first.set(drum.melt, drum);
    if (!earlier || earlier.supplierFinenessPerMille === drum.supplierFinenessPerMille) return [];
    const accepted = `${earlier.supplierFinenessPerMille ?? 'nothing'}, as in line ${earlier.line} for the same melt`;
    const value = String(drum.supplierFinenessPerMille ?? '');
    const column = columns.supplierFinenessPerMille ?? 'fineness';
    return [{ line: drum.line, column, value, accepted }];
  });
}

function announce(drums: readonly DrumRow[], reading: PackingListReading): PackingListResult {
  const { consignment, supplier, document, pieceStandard, columns } = reading;
  const finenesses = new Map(drums.map((drum) => [drum.melt, drum.supplierFinenessPerMille]));
  const parsed = announceInput.safeParse({
    consignment,
    supplier,
    document,
    pieceStandard,
    melts: [...finenesses].map(([melt, supplierFinenessPerMille]) => ({
      melt,
      supplierFinenessPerMille,
    })),
    drums: drums.map(({ line: _line, supplierFinenessPerMille: _fineness, ...drum }) => drum),
  });
  if (parsed.success) return { outcome: 'read', input: parsed.data };
  return refused(
    parsed.error.issues.map((issue) => {
      const [list, index, field] = issue.path;
      const row = list === 'drums' ? drums[Number(index)] : undefined;
      const name = String(field ?? list ?? 'packing list');
      return {
        line: row?.line ?? 0,
        column: (row && columns[name as Field]) || name,
        value: valueIn(row ?? reading, name),
        accepted: issue.message,
      };
    }),
  );
}

function valueIn(holder: object, name: string): string {
  const value = (holder as Record<string, unknown>)[name];
  if (typeof value === 'object' && value !== null && 'text' in value) return String(value.text);
  return value === undefined ? '' : String(value);
}
