import { type Header, headerAt, placeName, widthOf } from '../../../tables/header-rows.ts';
import { filledPlaces, type Sheet, type SheetRow, textAt, tidy } from '../../../tables/sheet.ts';
import { fieldNamed, isSumWord, type ListField, listFields } from './header-words.ts';

const rowsLookedAt = 80;
const greatestSpan = 3;

const isPlaceName = (name: string): boolean => /^column \d+$/.test(name);

/** The fields that a header names, each with the first column whose words name it. */
export function fieldsOfHeader({ names }: Header): ReadonlyMap<ListField, number> {
  const places = new Map<ListField, number>();
  for (const [place, name] of names.entries()) {
    const field = fieldNamed(name);
    if (field && !places.has(field)) places.set(field, place);
  }
  return places;
}

/** A row of numbers is no header, however its words read. */
function isWordy(row: SheetRow): boolean {
  const filled = filledPlaces(row);
  const words = filled.filter((place) => !/^[\d.,' ]+$/.test(textAt(row, place)));
  return filled.length >= 1 && words.length >= filled.length * 0.7;
}

/** Every way in which rows near the top could be the header. */
function* windows(sheet: Sheet): Generator<Header> {
  const last = Math.min(rowsLookedAt, sheet.rows.length);
  for (let first = 0; first < last; first += 1) {
    for (let span = 1; span <= greatestSpan && first + span <= last; span += 1) {
      const below = sheet.rows[first + span - 1];
      if (!below || !isWordy(below)) break;
      yield headerAt(sheet, first, span);
    }
  }
}

const leastFields = 3;

function scoreOf(header: Header): number {
  const fields = fieldsOfHeader(header).size;
  return fields < leastFields ? 0 : fields - 0.1 * (header.end - header.first);
}

/** A row under the header that names units or goes on with the words has no digit in it. */
function isContinued(row: SheetRow | undefined): boolean {
  if (!row) return false;
  const filled = filledPlaces(row);
  if (filled.length === 0 || isSumWord(textAt(row, filled[0]))) return false;
  return filled.every((place) => {
    const cell = row.cells[place];
    return cell?.kind === 'text' && !/\d/.test(cell.text);
  });
}

function extended(sheet: Sheet, header: Header): Header {
  let span = header.end - header.first;
  while (span < greatestSpan && isContinued(sheet.rows[header.first + span])) span += 1;
  return headerAt(sheet, header.first, span);
}

/** A list without a header begins at the first row of several cells with numbers among them. */
function withoutHeader(sheet: Sheet): Header | undefined {
  const first = sheet.rows.findIndex((row) => {
    const filled = filledPlaces(row);
    const numbers = filled.filter((place) => /^\d/.test(textAt(row, place)));
    return filled.length >= 5 && numbers.length >= 2;
  });
  if (first < 0) return undefined;
  const width = widthOf(sheet.rows.slice(first));
  return { first, end: first, names: Array.from({ length: width }, (_, at) => placeName(at)) };
}

/** A sheet with the header that names most of what a packing list says. */
export interface FoundTable {
  readonly sheet: Sheet;
  readonly header: Header;
  readonly score: number;
}

/** The table among the sheets whose header is known best; a list without a header comes last. */
export function findTable(sheets: readonly Sheet[]): FoundTable | undefined {
  let best: FoundTable | undefined;
  for (const sheet of sheets) {
    for (const header of windows(sheet)) {
      const score = scoreOf(header);
      if (score > (best?.score ?? 0)) best = { sheet, header, score };
    }
  }
  if (best) return { ...best, header: extended(best.sheet, best.header) };
  for (const sheet of sheets) {
    const header = withoutHeader(sheet);
    if (header) return { sheet, header, score: 0 };
  }
  return undefined;
}

/** Where the columns of a mapping stand. */
interface LocatedTable {
  readonly sheet: Sheet;
  readonly header: Header;
  readonly places: ReadonlyMap<ListField, number>;
}

type Columns = Readonly<Record<ListField, string | null>>;

function placesIn(header: Header, columns: Columns): ReadonlyMap<ListField, number> | undefined {
  const places = new Map<ListField, number>();
  for (const field of listFields) {
    const name = columns[field];
    if (name === null) continue;
    const place = header.names.indexOf(tidy(name));
    if (place < 0) return undefined;
    places.set(field, place);
  }
  return places;
}

/** The table whose header has every column of the mapping once; nothing when there is none. */
export function locateTable(sheets: readonly Sheet[], columns: Columns): LocatedTable | undefined {
  const names = Object.values(columns).filter((name) => name !== null);
  if (names.every(isPlaceName)) {
    for (const sheet of sheets) {
      const header = withoutHeader(sheet);
      const places = header && placesIn(header, columns);
      if (header && places) return { sheet, header, places };
    }
    return undefined;
  }
  for (const sheet of sheets) {
    for (const header of windows(sheet)) {
      const places = placesIn(header, columns);
      if (places) return { sheet, header, places };
    }
  }
  return undefined;
}
