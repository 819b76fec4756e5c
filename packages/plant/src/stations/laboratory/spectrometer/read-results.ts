import {
  filledPlaces,
  type Sheet,
  type SheetRow,
  type TableProblem,
  textAt,
} from '../../../tables/sheet.ts';
import type { SetAside } from '../exchange/file-bodies.ts';
import { contentIn, type FigureUnit, figureUnitNamed } from './content-unit.ts';
import { elementNamed, isStatistic } from './element-words.ts';
import {
  type ReadTable,
  type ResultMapping,
  type RowRole,
  readTableSchema,
} from './result-bodies.ts';
import { type LocatedResults, locateResults } from './result-table.ts';
import { roleOf, withoutReplicate } from './row-role.ts';

/** A line of the file that is no measurement, and what it is. */
interface LineLeftOut {
  readonly line: number;
  readonly words: string;
}

/** A result file read as a whole, or everything that is wrong with it. */
export type ResultsRead =
  | {
      readonly outcome: 'read';
      readonly table: ReadTable;
      readonly leftOut: readonly LineLeftOut[];
    }
  | { readonly outcome: 'problems'; readonly problems: readonly TableProblem[] };

const problemsFound = (problems: readonly TableProblem[]): ResultsRead => ({
  outcome: 'problems',
  problems: problems.toSorted((a, b) => a.line - b.line),
});

/** A row of measurements before its contents: where it stands, of what, in which role. */
interface RowHead {
  readonly line: number;
  readonly label: string;
  readonly role: RowRole;
}

/** Reads the table, notes what is wrong, and gathers the measurements in the order of their rows. */
class Reader {
  readonly problems: TableProblem[] = [];
  readonly leftOut: LineLeftOut[] = [];
  readonly #units = new Map<string, FigureUnit>();
  readonly #aside: ReadonlySet<number>;
  readonly #met = new Set<number>();
  readonly #rows: ReadTable['rows'][number][] = [];
  readonly mapping: ResultMapping;

  constructor(mapping: ResultMapping, setAside: readonly SetAside[]) {
    this.mapping = mapping;
    this.#aside = new Set(setAside.map(({ line }) => line));
  }

  note(line: number, column: string, value: string, accepted: string): void {
    this.problems.push({ line, column, value, accepted });
  }

  isAside(line: number): boolean {
    if (this.#aside.has(line)) this.#met.add(line);
    return this.#aside.has(line);
  }

  leave(row: SheetRow, words: string): void {
    this.leftOut.push({ line: row.line, words });
  }

  /** The content of a cell in the unit of its element; empty where it is wrong, which is noted. */
  content(
    row: SheetRow,
    place: number,
    at: { readonly unit: FigureUnit; readonly column: string },
  ) {
    const cell = row.cells[place] ?? { kind: 'text' as const, text: '' };
    const read = contentIn(cell, { form: this.mapping, unit: at.unit });
    if ('content' in read) return read.content;
    this.note(row.line, at.column, cell.text, read.accepted);
    return '';
  }

  /** An element has one unit in a table, so that its digits can be kept as they stand. */
  unitOf(element: string, unit: FigureUnit, row: SheetRow, column: string): boolean {
    const before = this.#units.get(element);
    if (before === undefined) this.#units.set(element, unit);
    if (before === undefined || before === unit) return true;
    this.note(row.line, column, unit, `${before}, as for ${element} above`);
    return false;
  }

  /** Elements that come later are filled up at the end. */
  add(row: RowHead, contents: ReadonlyMap<string, string>): void {
    const kept = [...this.#units.keys()].map((element) => contents.get(element) ?? '');
    this.#rows.push({ ...row, contents: kept });
  }

  result(): ResultsRead {
    const unknown = [...this.#aside].filter((line) => !this.#met.has(line));
    for (const line of unknown) {
      this.note(line, 'set aside', String(line), 'a line of a measurement in this file');
    }
    if (this.problems.length > 0) return problemsFound(this.problems);
    const elements = [...this.#units].map(([element, unit]) => ({ element, unit }));
    const rows = this.#rows.map((row) => ({
      ...row,
      contents: elements.map((_, at) => row.contents[at] ?? ''),
    }));
    const parsed = readTableSchema.safeParse({ elements, rows });
    if (parsed.success) return { outcome: 'read', table: parsed.data, leftOut: this.leftOut };
    return problemsFound(
      parsed.error.issues.map((issue) => {
        const row = rows[Number(issue.path[1])];
        const line = issue.path[0] === 'rows' ? (row?.line ?? 0) : 0;
        const column = String(issue.path[2] ?? issue.path[0] ?? 'file');
        return { line, column, value: row?.label ?? '', accepted: issue.message };
      }),
    );
  }
}

/**
 * Reads a spectrometer's table by its mapping. Nothing is taken unless every row is right or is set
 * aside with a reason. What the instrument reckoned itself, as means, is left out and said so.
 */
export function readResults(
  sheets: readonly Sheet[],
  mapping: ResultMapping,
  setAside: readonly SetAside[] = [],
): ResultsRead {
  const located = locateResults(sheets, mapping);
  if (!located) return problemsFound([headerProblem(sheets, mapping)]);
  const reader = new Reader(mapping, setAside);
  for (const row of located.sheet.rows.slice(0, located.header.first)) {
    if (filledPlaces(row).length > 0) reader.leave(row, 'above the table');
  }
  if (mapping.layout === 'elements across') readAcross(located, reader);
  else if (mapping.layout === 'elements down') readDown(located, reader);
  else readEach(located, reader);
  return reader.result();
}

function headerProblem(sheets: readonly Sheet[], mapping: ResultMapping): TableProblem {
  const columns = Object.values(mapping.columns).filter((name) => name !== null);
  const elements = mapping.elements.map(({ column }) => column);
  const first = sheets[0]?.rows[0]?.cells.map(({ text }) => text).join(';') ?? '';
  return {
    line: 1,
    column: 'header',
    value: first.slice(0, 200),
    accepted: `a header with each of these columns once: ${[...columns, ...elements].join(', ')}`,
  };
}

/** The rows under the header in which something stands and which are not set aside. */
function rowsUnder({ sheet, header }: LocatedResults, reader: Reader): readonly SheetRow[] {
  return sheet.rows.slice(header.end).filter((row) => {
    if (filledPlaces(row).length === 0 || reader.isAside(row.line)) return false;
    if (!sheet.isRagged || row.cells.length <= header.names.length) return true;
    const value = `${row.cells.length} cells`;
    reader.note(row.line, 'row', value, `${header.names.length} cells`);
    return false;
  });
}

/** Whether a row repeats the header or says what the instrument reckoned itself. */
function isNoMeasurement(row: SheetRow, located: LocatedResults, reader: Reader): boolean {
  const { header, placeOf } = located;
  const { columns } = reader.mapping;
  const places = [columns.label, columns.role, columns.element].flatMap((name) => {
    const place = placeOf(name);
    return place === undefined ? [] : [place];
  });
  const same = filledPlaces(row).filter((place) => header.names[place] === textAt(row, place));
  if (same.length >= 2) {
    reader.leave(row, 'the header again');
    return true;
  }
  if (!places.some((place) => isStatistic(textAt(row, place)))) return false;
  reader.leave(row, 'reckoned by the instrument');
  return true;
}

/** The label of a row: its own, or the one above that holds for it; problems are noted. */
function labelOf(
  row: SheetRow,
  at: { readonly place: number | undefined; above: string },
  reader: Reader,
) {
  const cell = at.place === undefined ? undefined : row.cells[at.place];
  const own = cell?.text ?? '';
  const column = reader.mapping.columns.label ?? 'label';
  if (cell?.kind === 'day') {
    reader.note(
      row.line,
      column,
      own,
      'a label; the sheet holds a day here: write the cell as text',
    );
  }
  if (own !== '') return own;
  if (reader.mapping.fillDown && at.above !== '') return at.above;
  reader.note(row.line, column, '', 'the label of a solution');
  return '';
}

function readAcross(located: LocatedResults, reader: Reader): void {
  const { placeOf } = located;
  const { columns, elements, marks } = reader.mapping;
  const taken = elements.flatMap(({ column, element, unit }) => {
    const place = placeOf(column);
    return element === null || place === undefined ? [] : [{ column, element, unit, place }];
  });
  const rolePlace = placeOf(columns.role);
  let above = '';
  for (const row of rowsUnder(located, reader)) {
    for (const { element, unit, column } of taken) reader.unitOf(element, unit, row, column);
    if (isNoMeasurement(row, located, reader)) continue;
    if (taken.every(({ place }) => textAt(row, place) === '')) {
      reader.leave(row, 'without a content');
      continue;
    }
    const label = labelOf(row, { place: placeOf(columns.label), above }, reader);
    above = label;
    const kind = textAt(row, rolePlace) || label;
    const contents = new Map(
      taken.map((at) => [at.element, reader.content(row, at.place, at)] as const),
    );
    reader.add(
      { line: row.line, label: withoutReplicate(label), role: roleOf(kind, marks) },
      contents,
    );
  }
}

/** The element that a cell names; a cell that names none is noted. */
function elementOf(row: SheetRow, place: number | undefined, reader: Reader): string | undefined {
  const text = textAt(row, place);
  const element = elementNamed(text);
  if (element === undefined) {
    reader.note(row.line, reader.mapping.columns.element ?? 'element', text, 'an element, as Cu');
  }
  return element;
}

function unitInRow(row: SheetRow, located: LocatedResults, reader: Reader): FigureUnit | undefined {
  const { columns, unit } = reader.mapping;
  const text = textAt(row, located.placeOf(columns.unit));
  const inElement = figureUnitNamed(textAt(row, located.placeOf(columns.element)));
  if (text === '') return inElement ?? unit;
  const named = figureUnitNamed(text);
  if (named === undefined) {
    reader.note(row.line, columns.unit ?? 'unit', text, 'a unit of content, as mg/kg, ppm, % or ‰');
  }
  return named;
}

function readDown(located: LocatedResults, reader: Reader): void {
  const { header, placeOf } = located;
  const { columns, leftOut, marks } = reader.mapping;
  const known = Object.values(columns).filter((name) => name !== null);
  const solutions = header.names.flatMap((name, place) =>
    known.includes(name) || leftOut.includes(name) || isStatistic(name) ? [] : [{ name, place }],
  );
  const limitPlace = placeOf(columns.limit);
  const columnsRead = new Map(solutions.map(({ name }) => [name, new Map<string, string>()]));
  const limits = new Map<string, string>();
  for (const row of rowsUnder(located, reader)) {
    if (isNoMeasurement(row, located, reader)) continue;
    if (solutions.every(({ place }) => textAt(row, place) === '')) {
      reader.leave(row, 'without a content');
      continue;
    }
    const element = elementOf(row, placeOf(columns.element), reader);
    const unit = unitInRow(row, located, reader);
    if (element === undefined || unit === undefined) continue;
    if (limits.has(element)) {
      reader.note(row.line, columns.element ?? 'element', element, 'each element once');
      continue;
    }
    reader.unitOf(element, unit, row, columns.unit ?? 'unit');
    for (const { name, place } of solutions) {
      columnsRead.get(name)?.set(element, reader.content(row, place, { unit, column: name }));
    }
    const limit =
      limitPlace === undefined
        ? ''
        : reader.content(row, limitPlace, { unit, column: columns.limit ?? 'limit' });
    limits.set(element, limit);
  }
  const line = located.sheet.rows[header.first]?.line ?? 1;
  for (const { name } of solutions) {
    const label = withoutReplicate(name);
    reader.add({ line, label, role: roleOf(label, marks) }, columnsRead.get(name) ?? new Map());
  }
  addLimits(limits, reader);
}

function addLimits(limits: ReadonlyMap<string, string>, reader: Reader): void {
  if ([...limits.values()].every((limit) => limit === '')) return;
  reader.add({ line: 0, label: 'detection limits', role: 'limit' }, limits);
}

/** The greater of two limits as they stand; a table states one for each element, or the same again. */
const greaterLimit = (left: string, right: string): string =>
  Number(right.replace('<', '')) > Number(left.replace('<', '') || '0') ? right : left;

function readEach(located: LocatedResults, reader: Reader): void {
  const { placeOf } = located;
  const { columns, marks } = reader.mapping;
  const [contentPlace, limitPlace, rolePlace] = [
    placeOf(columns.content) ?? -1,
    placeOf(columns.limit),
    placeOf(columns.role),
  ];
  const repeats = new Map<string, number>();
  const gathered = new Map<string, RowHead & { readonly of: Map<string, string> }>();
  const limits = new Map<string, string>();
  let above = '';
  for (const row of rowsUnder(located, reader)) {
    if (isNoMeasurement(row, located, reader)) continue;
    if (
      textAt(row, contentPlace) === '' &&
      elementNamed(textAt(row, placeOf(columns.element))) === undefined
    ) {
      reader.leave(row, 'without a content');
      continue;
    }
    const label = labelOf(row, { place: placeOf(columns.label), above }, reader);
    above = label;
    const element = elementOf(row, placeOf(columns.element), reader);
    const unit = unitInRow(row, located, reader);
    if (element === undefined || unit === undefined) continue;
    if (!reader.unitOf(element, unit, row, columns.unit ?? 'unit')) continue;
    const at = { unit, column: columns.content ?? 'content' };
    const content = reader.content(row, contentPlace, at);
    const name = withoutReplicate(label);
    // The n-th time that a solution has this element is its n-th replicate.
    const time = (repeats.get(`${name}\n${element}`) ?? 0) + 1;
    repeats.set(`${name}\n${element}`, time);
    const role = roleOf(textAt(row, rolePlace) || name, marks);
    const key = `${name}\n${time}`;
    const group = gathered.get(key) ?? {
      line: row.line,
      label: name,
      role,
      of: new Map<string, string>(),
    };
    group.of.set(element, content);
    gathered.set(key, group);
    if (limitPlace === undefined) continue;
    const limit = reader.content(row, limitPlace, { unit, column: columns.limit ?? 'limit' });
    limits.set(element, greaterLimit(limits.get(element) ?? '', limit));
  }
  const inOrder = [...gathered.values()].toSorted((a, b) => a.line - b.line);
  for (const { of, ...row } of inOrder) reader.add(row, of);
  addLimits(limits, reader);
}
