import { proposedForm, splitUnit } from '../../../tables/number-form.ts';
import { type Sheet, type SheetRow, textAt } from '../../../tables/sheet.ts';
import { type ListMassUnit, unitNamed } from './amount.ts';
import { type FoundTable, fieldsOfHeader, findTable, locateTable } from './header.ts';
import { type ListField, meltOfHeading } from './header-words.ts';
import type { ListMapping } from './list-bodies.ts';
import { fieldsByShape, likelyDrums } from './value-shape.ts';

/** A mapping while it is looked at: a column that must be there may not have been found yet. */
export type ProposedMapping = Omit<ListMapping, 'columns'> & {
  readonly columns: Readonly<Record<ListField, string | null>>;
};

/** What the columns of a list seem to mean, to be confirmed by a person. */
export interface Proposal {
  readonly mapping: ProposedMapping;
  /** What the columns are called, in their order. */
  readonly names: readonly string[];
  /** The first row under the header, by column name. */
  readonly firstRow: Readonly<Record<string, string>>;
  /** What the list leaves open, in sentences. */
  readonly doubts: readonly string[];
  /** True when the supplier's mapping was confirmed before and fits this list. */
  readonly isAsConfirmed: boolean;
}

const massFields = ['gross', 'tare', 'net'] as const;

/** What the list seems to mean: as confirmed for its supplier where that fits, else as it shows. */
export function proposeMapping(
  sheets: readonly Sheet[],
  confirmed: ListMapping | undefined,
): Proposal | undefined {
  const located = confirmed && locateTable(sheets, confirmed.columns);
  if (confirmed && located) {
    return {
      mapping: confirmed,
      ...shown({ ...located, score: 0 }),
      doubts: [],
      isAsConfirmed: true,
    };
  }
  const table = findTable(sheets);
  return table && proposedFor(table);
}

function shown(table: FoundTable): Pick<Proposal, 'names' | 'firstRow'> {
  const { names } = table.header;
  const [row] = likelyDrums(table.sheet, table.header);
  const cells = names.map((name, place) => [name, row ? textAt(row, place) : ''] as const);
  return { names, firstRow: Object.fromEntries(cells) };
}

function proposedFor(table: FoundTable): Proposal {
  const rows = likelyDrums(table.sheet, table.header);
  const byWords = fieldsOfHeader(table.header);
  const free = table.header.names.flatMap((_, place) =>
    [...byWords.values()].includes(place) ? [] : [place],
  );
  const sample = numericTexts(rows, byWords, free);
  const { form, isDoubtful } = proposedForm(sample);
  const byShape = fieldsByShape(rows, free, { form, known: new Set(byWords.keys()) });
  const places = new Map([...byShape, ...byWords]);
  const name = (field: ListField) => table.header.names[places.get(field) ?? -1] ?? null;
  const columns = {
    drum: name('drum'),
    melt: name('melt'),
    pieces: name('pieces'),
    gross: name('gross'),
    tare: name('tare'),
    net: name('net'),
    seal: name('seal'),
    fineness: name('fineness'),
  };
  const doubts = [
    ...(isDoubtful ? [doubtOfMark(form.decimalMark)] : []),
    ...doubtsOfColumns(columns, byShape),
  ];
  const units = unitsOf(table, rows, columns, places);
  return {
    mapping: {
      columns,
      fillDown: isFilledDown(rows, places.get('melt')),
      units: units.units,
      finenessUnit: finenessUnitOf(columns.fineness, rows, places.get('fineness')),
      ...form,
    },
    ...shown(table),
    doubts: [...doubts, ...units.doubts],
    isAsConfirmed: false,
  };
}

/** The cells that hold numbers as the list writes them; a sheet's own numbers show no mark. */
function numericTexts(
  rows: readonly SheetRow[],
  byWords: ReadonlyMap<ListField, number>,
  free: readonly number[],
): readonly string[] {
  const asked = (['pieces', ...massFields, 'fineness'] as const).flatMap(
    (field) => byWords.get(field) ?? [],
  );
  const places = asked.length > 0 ? asked : free;
  return rows.flatMap(({ cells }) =>
    places.flatMap((place) => {
      const cell = cells[place];
      return cell?.kind === 'text' && /^\D{0,8}\d[\d.,'’ ]*\D{0,8}$/.test(cell.text)
        ? [cell.text]
        : [];
    }),
  );
}

function doubtOfMark(mark: 'point' | 'comma'): string {
  return `Every ${mark} stands before three digits: it is taken as the decimal mark, and could mark thousands.`;
}

function doubtsOfColumns(
  columns: Readonly<Record<ListField, string | null>>,
  byShape: ReadonlyMap<ListField, number>,
): readonly string[] {
  return [...byShape.keys()].map(
    (field) => `${columns[field]} is taken as ${field} by its values, not by its name.`,
  );
}

/** The unit of each mass: named in its header, in its cells, or in a line above the table. */
function unitsOf(
  table: FoundTable,
  rows: readonly SheetRow[],
  columns: Readonly<Record<ListField, string | null>>,
  places: ReadonlyMap<ListField, number>,
): { readonly units: ListMapping['units']; readonly doubts: readonly string[] } {
  const above = table.sheet.rows
    .slice(0, table.header.first)
    .flatMap(({ cells }) => cells.map(({ text }) => unitOfNote(text)))
    .find((unit) => unit !== undefined);
  const named = massFields.map((field) => {
    const place = places.get(field);
    if (place === undefined) return undefined;
    const inCells = rows.map((row) => unitNamed(splitUnit(textAt(row, place)).unit));
    return inCells.find((unit) => unit !== undefined) ?? unitNamed(columns[field] ?? '');
  });
  const shared = named.find((unit) => unit !== undefined) ?? above;
  const of = (index: number): ListMassUnit => named[index] ?? shared ?? 'kg';
  return {
    units: { gross: of(0), tare: of(1), net: of(2) },
    doubts: shared ? [] : ['The list does not say in which unit its masses are; kg is taken.'],
  };
}

/** A line above the table speaks of units only when it speaks of masses. */
function unitOfNote(text: string): ListMassUnit | undefined {
  const isOfMass = /mass|weight|gewicht|poids|pesi|peso|masse|unit|einheit|unite|unidad/i;
  return isOfMass.test(text) ? unitNamed(text) : undefined;
}

/** True where the melt stands in the first of its rows only. */
function isFilledDown(rows: readonly SheetRow[], place: number | undefined): boolean {
  if (place === undefined) return false;
  const filled = rows.filter((row) => textAt(row, place) !== '').length;
  return filled > 0 && filled < rows.length;
}

function finenessUnitOf(
  name: string | null,
  rows: readonly SheetRow[],
  place: number | undefined,
): ListMapping['finenessUnit'] {
  if (name === null || place === undefined) return 'per mille';
  if (/‰|per ?mill?e|promille|permille|pour mille/i.test(name)) return 'per mille';
  if (/%|percent|prozent|pour ?cent|per ?cento|por ?c(i|e)ento/i.test(name)) return 'percent';
  const values = rows
    .map((row) => Number(splitUnit(textAt(row, place)).number.replace(',', '.')))
    .filter((value) => value > 0);
  const greatest = Math.max(0, ...values);
  if (greatest === 0 || greatest > 100) return 'per mille';
  return greatest > 1 ? 'percent' : 'fraction';
}

/** Fields that a mapping must have and that no column was found for. */
export function missingFields(
  mapping: ProposedMapping,
  sheets: readonly Sheet[],
): readonly string[] {
  const { columns } = mapping;
  const missing: string[] = (['drum', 'pieces', 'seal'] as const).filter(
    (field) => columns[field] === null,
  );
  if (columns.melt === null && !hasMeltHeadings(sheets)) missing.push('melt');
  const masses = massFields.filter((field) => columns[field] !== null);
  return masses.length >= 2 ? missing : [...missing, 'two of gross, tare and net'];
}

function hasMeltHeadings(sheets: readonly Sheet[]): boolean {
  return sheets.some(({ rows }) =>
    rows.some(({ cells }) => cells.some(({ text }) => meltOfHeading(text) !== undefined)),
  );
}
