import type { Header } from '../../../tables/header-rows.ts';
import { proposedForm } from '../../../tables/number-form.ts';
import { type Sheet, type SheetRow, textAt } from '../../../tables/sheet.ts';
import { type FigureUnit, figureUnitNamed } from './content-unit.ts';
import { type ColumnKind, columnKindNamed, elementNamed, isStatistic } from './element-words.ts';
import type { ResultMapping } from './result-bodies.ts';
import { elementsOfHeader, type FoundResults, findResults, locateResults } from './result-table.ts';
import { proposedMarks } from './row-role.ts';

/** What a result file seems to mean, to be confirmed by a person. */
export interface ResultProposal {
  readonly mapping: ResultMapping;
  /** What the columns are called, in their order. */
  readonly names: readonly string[];
  /** What the file leaves open, in sentences. */
  readonly doubts: readonly string[];
  /** True when the instrument's mapping was confirmed before and fits this file. */
  readonly isAsConfirmed: boolean;
}

const rowsLookedAt = 400;

/** What a result file seems to mean: as confirmed for its instrument where that fits, else as it shows. */
export function proposeResultMapping(
  sheets: readonly Sheet[],
  confirmed: ResultMapping | undefined,
): ResultProposal | undefined {
  const located = confirmed && locateResults(sheets, confirmed);
  if (confirmed && located) {
    return { mapping: confirmed, names: located.header.names, doubts: [], isAsConfirmed: true };
  }
  const found = findResults(sheets);
  return found && proposedFor(found);
}

/** The columns that the words of a header tell, but for those of elements. */
function columnsByWords({ names }: Header): ReadonlyMap<ColumnKind, number> {
  const found = new Map<ColumnKind, number>();
  for (const [place, name] of names.entries()) {
    const kind = columnKindNamed(name);
    if (kind && !isStatistic(name) && !found.has(kind)) found.set(kind, place);
  }
  return found;
}

const isWord = (text: string): boolean => /\p{L}/u.test(text) && !/^[<>]/.test(text);

/** The first column of words that is none of those known: the label of the solution. */
function labelByShape(
  rows: readonly SheetRow[],
  width: number,
  taken: ReadonlySet<number>,
): number | undefined {
  for (let place = 0; place < width; place += 1) {
    if (taken.has(place)) continue;
    const texts = rows.map((row) => textAt(row, place)).filter((text) => text !== '');
    if (texts.length > 0 && texts.filter(isWord).length >= texts.length / 2) return place;
  }
  return undefined;
}

function proposedFor(found: FoundResults): ResultProposal {
  const rows = found.sheet.rows.slice(found.header.end, found.header.end + rowsLookedAt);
  if (found.layout === 'elements across') return acrossProposal(found, rows);
  return found.layout === 'elements down' ? downProposal(found, rows) : rowProposal(found, rows);
}

/** Parts of a mapping that every layout proposes in the same way. */
function sharedParts(
  rows: readonly SheetRow[],
  places: readonly number[],
  texts: { readonly kinds: readonly string[] },
) {
  const cells = rows.flatMap((row) => places.flatMap((place) => row.cells[place] ?? []));
  const written = cells.filter(({ kind }) => kind === 'text').map(({ text }) => text);
  const { form, isDoubtful } = proposedForm(written.map((text) => text.replace(/^[<-]\s*/, '')));
  const doubts = isDoubtful
    ? [
        `Every ${form.decimalMark} stands before three digits: it is taken as the decimal mark, and could mark thousands.`,
      ]
    : [];
  return { form, doubts, marks: proposedMarks(texts.kinds) };
}

const noColumns = {
  label: null,
  role: null,
  element: null,
  content: null,
  unit: null,
  limit: null,
} as const;

/** The unit that a line above the table states for the whole of it. */
function unitAbove({ sheet, header }: FoundResults): FigureUnit | undefined {
  return sheet.rows
    .slice(0, header.first)
    .flatMap(({ cells }) => cells.map(({ text }) => figureUnitNamed(text)))
    .find((unit) => unit !== undefined);
}

const unitDoubt = 'The file does not say in which unit its contents are; mg/kg is taken.';

function acrossProposal(found: FoundResults, rows: readonly SheetRow[]): ResultProposal {
  const { header } = found;
  const { names } = header;
  const elements = elementsOfHeader(header);
  const places = elements.map(({ place }) => place);
  const byWords = columnsByWords(header);
  const taken = new Set([...places, ...[...byWords.values()]]);
  const label = byWords.get('label') ?? labelByShape(rows, names.length, taken);
  const role = byWords.get('role');
  const kinds = rows.map((row) => textAt(row, role ?? label));
  const { form, doubts, marks } = sharedParts(rows, places, { kinds });
  const named = elements.map(({ place }) => figureUnitNamed(names[place] ?? ''));
  const whole = named.find((unit) => unit !== undefined) ?? unitAbove(found);
  const seen = new Set<string>();
  const second: string[] = [];
  const mapped = elements.map(({ place, element }, index) => {
    const isSecond = seen.has(element);
    if (isSecond) second.push(names[place] ?? '');
    seen.add(element);
    return {
      column: names[place] ?? '',
      element: isSecond ? null : element,
      unit: named[index] ?? whole ?? ('mg/kg' as const),
    };
  });
  return {
    mapping: {
      layout: 'elements across',
      columns: { ...noColumns, label: nameAt(names, label), role: nameAt(names, role) },
      elements: mapped,
      leftOut: [],
      unit: whole ?? 'mg/kg',
      ...form,
      fillDown: isFilledDown(rows, label, places),
      marks,
    },
    names,
    doubts: [
      ...doubts,
      ...(whole ? [] : [unitDoubt]),
      ...second.map((column) => `${column} is left out: another column has the same element.`),
    ],
    isAsConfirmed: false,
  };
}

const nameAt = (names: readonly string[], place: number | undefined): string | null =>
  place === undefined ? null : (names[place] ?? null);

/** True where a label stands at the first of its replicates only; one that is missing is a fault of its row. */
function isFilledDown(
  rows: readonly SheetRow[],
  label: number | undefined,
  places: readonly number[],
): boolean {
  if (label === undefined) return false;
  const measured = rows.filter((row) => places.some((place) => /\d/.test(textAt(row, place))));
  const named = measured.filter((row) => textAt(row, label) !== '');
  return named.length > 0 && named.length <= (2 / 3) * measured.length;
}

const notSolution =
  /^(line|linie|wave|wellen|longueur|lambda|λ|nm$|remark|bemerk|note|no\.?$|nr\.?$)/i;

/** Columns beside the elements that hold no solution: lines, remarks, means. */
function leftOutDown(
  names: readonly string[],
  rows: readonly SheetRow[],
  taken: ReadonlySet<number>,
): readonly string[] {
  return names.filter((name, place) => {
    if (taken.has(place)) return false;
    const texts = rows.map((row) => textAt(row, place)).filter((text) => text !== '');
    const hasContent = texts.some((text) => /^[<-]?\s*\d/.test(text));
    return !hasContent || isStatistic(name) || notSolution.test(name);
  });
}

function downProposal(found: FoundResults, rows: readonly SheetRow[]): ResultProposal {
  const { header, elementPlace } = found;
  const { names } = header;
  const byWords = columnsByWords(header);
  const element = elementPlace ?? 0;
  const unitPlace = byWords.get('unit');
  const limit = byWords.get('limit');
  const taken = new Set([element, ...(unitPlace === undefined ? [] : [unitPlace])]);
  const leftOut = leftOutDown(
    names,
    rows,
    new Set([...taken, ...(limit === undefined ? [] : [limit])]),
  );
  const solutions = names.flatMap((name, place) =>
    taken.has(place) || leftOut.includes(name) ? [] : [place],
  );
  const measured = rows.filter((row) => elementNamed(textAt(row, element)) !== undefined);
  const { form, doubts, marks } = sharedParts(measured, solutions, {
    kinds: solutions.map((place) => names[place] ?? ''),
  });
  const inCells = measured
    .map((row) => figureUnitNamed(`${textAt(row, element)} ${textAt(row, unitPlace)}`))
    .find((unit) => unit !== undefined);
  const unit = inCells ?? unitAbove(found);
  return {
    mapping: {
      layout: 'elements down',
      columns: {
        ...noColumns,
        element: nameAt(names, element),
        unit: nameAt(names, unitPlace),
        limit: nameAt(names, limit),
      },
      elements: [],
      leftOut: [...leftOut],
      unit: unit ?? 'mg/kg',
      ...form,
      fillDown: false,
      marks,
    },
    names,
    doubts: [...doubts, ...(unit ? [] : [unitDoubt])],
    isAsConfirmed: false,
  };
}

function rowProposal(found: FoundResults, rows: readonly SheetRow[]): ResultProposal {
  const { header, elementPlace } = found;
  const { names } = header;
  const byWords = columnsByWords(header);
  const element = elementPlace ?? 0;
  const known = new Set([element, ...byWords.values()]);
  const label = byWords.get('label') ?? labelByShape(rows, names.length, known);
  const content = byWords.get('content') ?? numberColumn(rows, names.length, known);
  const role = byWords.get('role');
  const places = content === undefined ? [] : [content];
  const kinds = rows.map((row) => textAt(row, role ?? label));
  const { form, doubts, marks } = sharedParts(rows, places, { kinds });
  const unitPlace = byWords.get('unit');
  const unit =
    rows
      .map((row) => figureUnitNamed(textAt(row, unitPlace)))
      .find((named) => named !== undefined) ??
    figureUnitNamed(nameAt(names, content) ?? '') ??
    unitAbove(found);
  return {
    mapping: {
      layout: 'one value in a row',
      columns: {
        label: nameAt(names, label),
        role: nameAt(names, role),
        element: nameAt(names, element),
        content: nameAt(names, content),
        unit: nameAt(names, unitPlace),
        limit: nameAt(names, byWords.get('limit')),
      },
      elements: [],
      leftOut: [],
      unit: unit ?? 'mg/kg',
      ...form,
      fillDown: isFilledDown(rows, label, places),
      marks,
    },
    names,
    doubts: [...doubts, ...(unit ? [] : [unitDoubt])],
    isAsConfirmed: false,
  };
}

/** The last column of numbers that is none of those known. */
function numberColumn(
  rows: readonly SheetRow[],
  width: number,
  known: ReadonlySet<number>,
): number | undefined {
  for (let place = width - 1; place >= 0; place -= 1) {
    if (known.has(place)) continue;
    const texts = rows.map((row) => textAt(row, place)).filter((text) => text !== '');
    const numbers = texts.filter((text) => /^[<-]?\s*\d/.test(text));
    if (texts.length > 0 && numbers.length >= texts.length / 2) return place;
  }
  return undefined;
}
