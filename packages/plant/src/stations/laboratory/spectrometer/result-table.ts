import { type Header, headerAt } from '../../../tables/header-rows.ts';
import { filledPlaces, type Sheet, type SheetRow, textAt } from '../../../tables/sheet.ts';
import { columnKindNamed, elementNamed, isStatistic, isUnitRow } from './element-words.ts';
import type { ResultMapping } from './result-bodies.ts';

const rowsLookedAt = 80;
const greatestSpan = 3;

/** Every way in which rows near the top could be the header. */
function* windows(sheet: Sheet): Generator<Header> {
  const last = Math.min(rowsLookedAt, sheet.rows.length);
  for (let first = 0; first < last; first += 1) {
    for (let span = 1; span <= greatestSpan && first + span <= last; span += 1) {
      const below = sheet.rows[first + span - 1];
      if (!below || filledPlaces(below).length === 0) break;
      yield headerAt(sheet, first, span);
    }
  }
}

/** The columns that name an element, each with it. */
export function elementsOfHeader({ names }: Header): readonly {
  readonly place: number;
  readonly element: string;
}[] {
  return names.flatMap((name, place) => {
    const element = elementNamed(name);
    return element === undefined || isStatistic(name) ? [] : [{ place, element }];
  });
}

/** A row of units or of wavelengths right under the names of the elements. */
function isContinued(row: SheetRow | undefined, places: readonly number[]): boolean {
  if (!row) return false;
  const inColumns = places.map((place) => textAt(row, place)).filter((text) => text !== '');
  if (inColumns.length === 0) return false;
  const others = filledPlaces(row).filter((place) => !places.includes(place));
  const isBare = others.every((place) => columnKindNamed(textAt(row, place)) !== undefined);
  const areLines = inColumns.every((text) => /^\d{3}[.,]\d{2,}( ?nm)?$/.test(text));
  return (isBare && isUnitRow(inColumns)) || (others.length === 0 && areLines);
}

/** A table that was found in a sheet, and how surely. */
export interface FoundResults {
  readonly layout: ResultMapping['layout'];
  readonly sheet: Sheet;
  readonly header: Header;
  /** Column of the elements, where they stand one under the other. */
  readonly elementPlace: number | null;
  readonly score: number;
}

const distinct = (all: readonly string[]): number => new Set(all).size;

function findAcross(sheet: Sheet): FoundResults | undefined {
  let best: FoundResults | undefined;
  for (const header of windows(sheet)) {
    const found = elementsOfHeader(header);
    const count = distinct(found.map(({ element }) => element));
    const score = count < 2 ? 0 : count - 0.1 * (header.end - header.first);
    if (score > (best?.score ?? 0)) {
      best = { layout: 'elements across', sheet, header, elementPlace: null, score };
    }
  }
  if (!best) return undefined;
  const { header } = best;
  const places = elementsOfHeader(header).map(({ place }) => place);
  let span = header.end - header.first;
  while (span < greatestSpan && isContinued(sheet.rows[header.first + span], places)) span += 1;
  return { ...best, header: headerAt(sheet, header.first, span) };
}

/** The header above a column of elements: the filled row right above the first of them. */
function headerAbove(sheet: Sheet, firstRow: number): Header | undefined {
  for (let above = firstRow - 1; above >= Math.max(0, firstRow - greatestSpan); above -= 1) {
    const row = sheet.rows[above];
    if (row && filledPlaces(row).length > 0) {
      const under = headerAt(sheet, above, 1);
      return { ...under, end: firstRow };
    }
  }
  return undefined;
}

/** The column in which most cells name elements, from the first of them on. */
function findDown(sheet: Sheet): FoundResults | undefined {
  const width = sheet.rows.reduce((most, { cells }) => Math.max(most, cells.length), 0);
  let best: FoundResults | undefined;
  for (let place = 0; place < width; place += 1) {
    const rows = sheet.rows.flatMap((row, at) => {
      const element = elementNamed(textAt(row, place));
      return element === undefined ? [] : [{ at, element }];
    });
    const [first] = rows;
    const header = first && headerAbove(sheet, first.at);
    const count = distinct(rows.map(({ element }) => element));
    if (!header || count < 2 || count <= (best?.score ?? 0)) continue;
    const layout =
      rows.length > count ? ('one value in a row' as const) : ('elements down' as const);
    best = { layout, sheet, header, elementPlace: place, score: count };
  }
  return best;
}

/** The table of results among the sheets that names most elements. */
export function findResults(sheets: readonly Sheet[]): FoundResults | undefined {
  let best: FoundResults | undefined;
  for (const sheet of sheets) {
    for (const found of [findAcross(sheet), findDown(sheet)]) {
      if (found && found.score > (best?.score ?? 0)) best = found;
    }
  }
  return best;
}

/** A table with the places of the columns that a mapping names. */
export interface LocatedResults {
  readonly sheet: Sheet;
  readonly header: Header;
  readonly placeOf: (column: string | null) => number | undefined;
}

/** Whether a header has every column of the mapping, and no element that the mapping does not know. */
function fits(header: Header, mapping: ResultMapping): boolean {
  const { columns, elements, layout } = mapping;
  const named = Object.values(columns).filter((name) => name !== null);
  const asked = layout === 'elements across' ? elements.map(({ column }) => column) : [];
  if (![...named, ...asked].every((name) => header.names.includes(name))) return false;
  if (layout !== 'elements across') return true;
  return elementsOfHeader(header).every(({ place }) => asked.includes(header.names[place] ?? ''));
}

/** Where elements stand in a column, one stands right under the header. */
function startsBelow(sheet: Sheet, header: Header, mapping: ResultMapping): boolean {
  if (mapping.layout === 'elements across') return true;
  const place = header.names.indexOf(mapping.columns.element ?? '');
  const under = sheet.rows.slice(header.end).find((row) => filledPlaces(row).length > 0);
  return under !== undefined && elementNamed(textAt(under, place)) !== undefined;
}

/** The table whose header has the columns of the mapping; nothing when there is none. */
export function locateResults(
  sheets: readonly Sheet[],
  mapping: ResultMapping,
): LocatedResults | undefined {
  for (const sheet of sheets) {
    for (const header of windows(sheet)) {
      if (!fits(header, mapping) || !startsBelow(sheet, header, mapping)) continue;
      const placeOf = (column: string | null) => {
        const place = column === null ? -1 : header.names.indexOf(column);
        return place < 0 ? undefined : place;
      };
      return { sheet, header, placeOf };
    }
  }
  return undefined;
}
