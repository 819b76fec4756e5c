import type { Header } from '../../../tables/header-rows.ts';
import {
  type Cell,
  filledPlaces,
  type Sheet,
  type SheetRow,
  type TableProblem,
  textAt,
} from '../../../tables/sheet.ts';
import { locateTable } from './header.ts';
import { isSumWord, type ListField, meltOfHeading } from './header-words.ts';
import type { ListMapping } from './list-bodies.ts';
import {
  announcedBy,
  disagreements,
  type LeftOut,
  type ListAccount,
  type ListHead,
  type PackingListResult,
  refused,
  type SetAside,
} from './list-result.ts';
import { type ListDrum, massesOf, RowCells } from './list-row.ts';
import { ListTotals } from './list-totals.ts';

/**
 * Reads a supplier's packing list by its mapping, one drum in a row. Nothing is taken unless every
 * row is right or is set aside with a reason, and every sum that the list states agrees.
 */
export function readList(
  sheets: readonly Sheet[],
  mapping: ListMapping,
  head: ListHead,
  setAside: readonly SetAside[] = [],
): PackingListResult {
  const located = locateTable(sheets, mapping.columns);
  if (!located) return refused([headerProblem(sheets, mapping)]);
  const reader = new TableReader(located.header, located.places, { mapping, setAside });
  reader.read(located.sheet);
  const { drums } = reader;
  const problems = [...reader.problems(), ...disagreements(drums, mapping)];
  if (problems.length > 0) return refused(problems.toSorted((a, b) => a.line - b.line));
  return announcedBy(drums, head, { mapping, account: reader.account() });
}

function headerProblem(sheets: readonly Sheet[], { columns }: ListMapping): TableProblem {
  const names = Object.values(columns).filter((name) => name !== null);
  const first = sheets[0]?.rows[0]?.cells.map(({ text }) => text).join(';') ?? '';
  return {
    line: 1,
    column: 'header',
    value: first.slice(0, 200),
    accepted: `a header with each of these columns once: ${names.join(', ')}`,
  };
}

interface ReadBy {
  readonly mapping: ListMapping;
  readonly setAside: readonly SetAside[];
}

/** Goes through the rows of a table, tells drums from sums and notes, and reads the drums. */
class TableReader {
  readonly drums: ListDrum[] = [];
  readonly #leftOut: LeftOut[] = [];
  readonly #problems: TableProblem[] = [];
  readonly #totals: ListTotals;
  readonly #header: Header;
  readonly #places: ReadonlyMap<ListField, number>;
  readonly #by: ReadBy;
  readonly #asideLines: ReadonlySet<number>;
  readonly #metAside = new Set<number>();
  #melt: Cell = { kind: 'text', text: '' };
  #fineness: Cell = { kind: 'text', text: '' };

  constructor(header: Header, places: ReadonlyMap<ListField, number>, by: ReadBy) {
    this.#header = header;
    this.#places = places;
    this.#by = by;
    this.#totals = new ListTotals(places, by.mapping);
    this.#asideLines = new Set(by.setAside.map(({ line }) => line));
  }

  read(sheet: Sheet): void {
    const { first, end } = this.#header;
    for (const row of sheet.rows.slice(0, first)) this.#takeTitle(row);
    const under = sheet.rows.slice(end);
    const last = under.findLastIndex((row) => this.#filledFields(row) >= 3);
    for (const [index, row] of under.entries()) {
      this.#take(row, { isBelow: index > last, isRagged: sheet.isRagged });
    }
  }

  problems(): readonly TableProblem[] {
    const unknown = this.#by.setAside.filter(({ line }) => !this.#metAside.has(line));
    return [
      ...this.#problems,
      ...this.#totals.problems,
      ...unknown.map(({ line }) => ({
        line,
        column: 'set aside',
        value: String(line),
        accepted: 'a line of a drum or of a sum in this list',
      })),
    ];
  }

  account(): ListAccount {
    return {
      leftOut: this.#leftOut,
      rows: this.drums.map(({ line, drum, asSent }) => ({ line, drum, ...asSent })),
      totals: this.#totals.checked,
      setAside: this.#by.setAside,
    };
  }

  #filledFields(row: SheetRow): number {
    return [...this.#places.values()].filter((place) => textAt(row, place) !== '').length;
  }

  #takeTitle(row: SheetRow): void {
    if (filledPlaces(row).length === 0) return;
    this.#heading(row);
    this.#leave(row, 'above the table');
  }

  #leave(row: SheetRow, words: string): void {
    this.#leftOut.push({ line: row.line, words });
  }

  /** A melt that stands in a line of its own holds for the drums below it. */
  #heading(row: SheetRow): boolean {
    if (this.#by.mapping.columns.melt !== null) return false;
    const texts = filledPlaces(row).map((place) => textAt(row, place));
    const melt = [...texts, texts.join(' ')].map(meltOfHeading).find((id) => id !== undefined);
    if (melt === undefined) return false;
    this.#melt = { kind: 'text', text: melt };
    return true;
  }

  #take(row: SheetRow, at: { readonly isBelow: boolean; readonly isRagged: boolean }): void {
    if (filledPlaces(row).length === 0) return;
    const isAside = this.#asideLines.has(row.line);
    if (isAside) this.#metAside.add(row.line);
    if (this.#isHeaderAgain(row)) this.#leave(row, 'the header again');
    else if (this.#isSum(row)) this.#totals.hold(row, isAside);
    else if (this.#isHeading(row)) this.#leave(row, 'names the melt');
    else if (at.isBelow && this.#isNote(row)) this.#leave(row, 'below the table');
    else this.#takeDrum(row, isAside, at.isRagged);
  }

  #isHeading(row: SheetRow): boolean {
    return filledPlaces(row).length <= 2 && this.#heading(row);
  }

  #isNote(row: SheetRow): boolean {
    return this.#filledFields(row) < 3 && !this.#hasNumber(row);
  }

  #takeDrum(row: SheetRow, isAside: boolean, isRagged: boolean): void {
    this.#totals.add(row);
    if (isAside) return;
    const width = this.#header.names.length;
    if (!isRagged || row.cells.length <= width) {
      this.#readDrum(row);
      return;
    }
    const value = `${row.cells.length} cells`;
    this.#problems.push({ line: row.line, column: 'row', value, accepted: `${width} cells` });
  }

  #isHeaderAgain(row: SheetRow): boolean {
    const { first, end, names } = this.#header;
    if (first === end) return false;
    const places = [...this.#places.values()];
    const same = places.filter((place) => {
      const text = textAt(row, place);
      return text !== '' && (names[place] === text || (names[place] ?? '').startsWith(`${text} `));
    });
    return same.length >= 3 && same.length >= places.length - 1;
  }

  /** A sum says so in a cell, and has neither a seal nor, beside that word, a drum; or it has figures alone. */
  #isSum(row: SheetRow): boolean {
    const named: readonly ListField[] = ['drum', 'melt', 'seal'];
    const isNameless = named.every((field) => textAt(row, this.#places.get(field)) === '');
    if (isNameless && this.#hasNumber(row)) return true;
    const worded = filledPlaces(row).filter((place) => isSumWord(textAt(row, place)));
    const isFree = (field: ListField) => {
      const place = this.#places.get(field);
      return textAt(row, place) === '' || worded.includes(place ?? -1);
    };
    return worded.length > 0 && isFree('seal') && (isFree('drum') || !this.#hasId(row, 'drum'));
  }

  /** The number of drums may stand in their column in a row of sums. */
  #hasId(row: SheetRow, field: ListField): boolean {
    return !/^\d{1,4}( .*)?$/.test(textAt(row, this.#places.get(field)));
  }

  #hasNumber(row: SheetRow): boolean {
    const asked: readonly ListField[] = ['pieces', 'gross', 'tare', 'net'];
    return asked.some((field) => /\d/.test(textAt(row, this.#places.get(field))));
  }

  /** The cell itself, or the one above it that holds for it. */
  #held(cells: RowCells, field: 'melt' | 'fineness', above: Cell): Cell {
    const own = cells.cell(field);
    if (own.text !== '') return own;
    const isHeading = field === 'melt' && this.#by.mapping.columns.melt === null;
    return isHeading || this.#by.mapping.fillDown ? above : own;
  }

  #readDrum(row: SheetRow): void {
    const { mapping } = this.#by;
    const cells = new RowCells(row, this.#places, mapping);
    const melt = this.#held(cells, 'melt', this.#melt);
    // A fineness holds for its melt only.
    const above = melt.text === this.#melt.text ? this.#fineness : { ...melt, text: '' };
    const fineness = this.#held(cells, 'fineness', above);
    this.#melt = melt;
    this.#fineness = fineness;
    const drum = cells.id('drum');
    const meltId = cells.id('melt', melt);
    const pieces = cells.pieces();
    const masses = massesOf(cells, mapping);
    const seal = cells.id('seal');
    const finenessPerMille = cells.fineness(fineness);
    this.#problems.push(...cells.problems);
    if (cells.problems.length > 0 || !masses) return;
    const { gross, tare } = masses;
    this.drums.push({
      line: row.line,
      drum,
      melt: meltId,
      pieces,
      gross: gross.reading,
      tare: tare.reading,
      seal,
      finenessPerMille,
      asSent: { gross: gross.asSent, tare: tare.asSent },
    });
  }
}
