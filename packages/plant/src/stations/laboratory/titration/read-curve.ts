import type { PotentialUnit } from '../../../ports/instrument-dialect.ts';
import { sheetsOfCsv } from '../../../tables/csv-sheet.ts';
import { digitsOf, folded, type NumberForm, proposedForm } from '../../../tables/number-form.ts';
import {
  type Sheet,
  type SheetRow,
  type TableProblem,
  textAt,
  tidy,
} from '../../../tables/sheet.ts';

/** A point of a curve: titrant delivered, and what the electrode showed. */
export interface CurvePoint {
  readonly volumeMillilitres: number;
  readonly potentialMillivolts: number;
}

/** What a person may say of a table where it does not say it itself. */
interface CurveChoice {
  /** Place of the column, the first being 0. */
  readonly volumeColumn?: number;
  readonly potentialColumn?: number;
  readonly potentialUnit?: PotentialUnit;
}

/** How a table was understood, to be looked at before it is taken. */
interface CurveReading {
  readonly volumeColumn: number;
  readonly potentialColumn: number;
  readonly potentialUnit: PotentialUnit;
  /** Names of the columns as the header has them; empty where there is none. */
  readonly header: readonly string[];
}

export type CurveRead =
  | { readonly outcome: 'read'; readonly points: readonly CurvePoint[]; readonly as: CurveReading }
  | { readonly outcome: 'problems'; readonly problems: readonly TableProblem[] };

const fewestPoints = 8;
const mostPoints = 2000;

/** A number with its sign and power of ten taken apart; nothing where it is no number at all. */
function partsOfNumber(text: string) {
  const [, sign = '', size = '', , exponent = '0'] =
    /^([+\-−]?)\s*(\d[\d.,'’ ]*?)(e([+-]?\d{1,2}))?$/i.exec(text) ?? [];
  return size === '' ? undefined : { isBelow: sign === '-' || sign === '−', size, exponent };
}

/** The number in a cell, its point moved by so many places; nothing where there is none. */
function numberIn(text: string, form: NumberForm, places = 0): number | undefined {
  const parts = partsOfNumber(text);
  const digits = parts && digitsOf(parts.size, form);
  if (!parts || digits === undefined) return undefined;
  return Number(`${parts.isBelow ? '-' : ''}${digits}e${Number(parts.exponent) + places}`);
}

const looksLikeNumber = (text: string): boolean => partsOfNumber(text) !== undefined;

/** Text whose columns stand apart by blanks alone. */
function sheetOfBlanks(text: string): Sheet {
  const rows = text.split(/\r?\n/).flatMap((line, index): SheetRow[] => {
    const tidied = tidy(line);
    if (tidied === '') return [];
    const cells = tidied.split(' ').map((cell) => ({ kind: 'text' as const, text: cell }));
    return [{ line: index + 1, cells }];
  });
  return { rows, isRagged: true };
}

const numbersIn = (row: SheetRow): number =>
  row.cells.filter(({ text }) => looksLikeNumber(text)).length;

/** Rows of a sheet that hold two numbers at least: the more, the likelier it is laid out right. */
const pairsIn = ({ rows }: Sheet): number => rows.filter((row) => numbersIn(row) >= 2).length;

/** Whether every row has as many cells as the others. */
const isEven = ({ rows }: Sheet): boolean =>
  new Set(rows.filter((row) => numbersIn(row) >= 2).map(({ cells }) => cells.length)).size === 1;

function likeliest(sheets: readonly Sheet[]): Sheet | undefined {
  const laidOut = sheets.filter((sheet) => pairsIn(sheet) > 0);
  const score = (sheet: Sheet) => 2 * pairsIn(sheet) + (isEven(sheet) ? 1 : 0);
  return laidOut.toSorted((left, right) => score(right) - score(left))[0];
}

/** Rows before the first that holds two numbers; the last of them names the columns. */
function splitHeader({ rows }: Sheet): {
  readonly header: readonly string[];
  readonly body: readonly SheetRow[];
} {
  const first = rows.findIndex((row) => numbersIn(row) >= 2);
  const above = rows[first - 1];
  const names = above?.cells.map(({ text }) => text) ?? [];
  return { header: names.length >= 2 ? names : [], body: rows.slice(Math.max(0, first)) };
}

const volumeWords = /^(v|vol|volume|volumen|titrant|added|burette)\b|\b(ml|cm3|cm³)\b/;
const potentialWords = /^(e|u|emf|potential|potenzial|voltage|spannung|signal)\b|\b(mv|v)\b/;

/** Words of a column's name, with its unit as a word of its own. */
const wordsOf = (name: string): string =>
  folded(name)
    .replace(/[^a-z0-9³]+/g, ' ')
    .trim();

function columnOf(header: readonly string[], words: RegExp, not?: number): number | undefined {
  const place = header.findIndex((name, at) => at !== not && words.test(wordsOf(name)));
  return place < 0 ? undefined : place;
}

/** The unit that the header gives the potentials; millivolts where it says nothing. */
function unitIn(name: string | undefined): PotentialUnit {
  return name !== undefined && /\b(v|volt|volts)$/.test(wordsOf(name)) ? 'V' : 'mV';
}

const problem = (line: number, column: string, value: string, accepted: string): CurveRead => ({
  outcome: 'problems',
  problems: [{ line, column, value, accepted }],
});

/** Which columns are meant, or what would have to be said of them. */
function understood(
  header: readonly string[],
  body: readonly SheetRow[],
  choice: CurveChoice,
): CurveReading | { readonly refused: CurveRead } {
  const width = Math.max(...body.map(({ cells }) => cells.length));
  const byName = columnOf(header, volumeWords);
  const isNarrow = width === 2;
  const volumeColumn = choice.volumeColumn ?? byName ?? (isNarrow ? 0 : undefined);
  const potentialColumn =
    choice.potentialColumn ??
    columnOf(header, potentialWords, volumeColumn) ??
    (isNarrow && volumeColumn !== undefined ? 1 - volumeColumn : undefined);
  if (volumeColumn === undefined || potentialColumn === undefined) {
    const accepted = 'two columns, or a header that names volume and potential';
    return { refused: problem(0, 'table', `${width} columns`, accepted) };
  }
  const potentialUnit = choice.potentialUnit ?? unitIn(header[potentialColumn]);
  return { volumeColumn, potentialColumn, potentialUnit, header };
}

interface ReadRow {
  readonly line: number;
  readonly point?: CurvePoint;
  readonly problems: readonly TableProblem[];
}

function readRow(row: SheetRow, as: CurveReading, form: NumberForm): ReadRow {
  const problems: TableProblem[] = [];
  const numberAt = (place: number, column: string, places: number) => {
    const text = textAt(row, place);
    const number = numberIn(text, form, places);
    if (number === undefined) {
      problems.push({ line: row.line, column, value: text, accepted: 'a number' });
    }
    return number;
  };
  const volumeMillilitres = numberAt(as.volumeColumn, 'volume', 0);
  const places = as.potentialUnit === 'V' ? 3 : 0;
  const potentialMillivolts = numberAt(as.potentialColumn, 'potential', places);
  if (volumeMillilitres === undefined || potentialMillivolts === undefined) {
    return { line: row.line, problems };
  }
  if (volumeMillilitres < 0) {
    const value = textAt(row, as.volumeColumn);
    problems.push({ line: row.line, column: 'volume', value, accepted: 'a volume of 0 or more' });
  }
  return { line: row.line, point: { volumeMillilitres, potentialMillivolts }, problems };
}

/** Volumes only rise in a titration: a row that does not is a slip, or another curve. */
function risingProblems(rows: readonly ReadRow[]): readonly TableProblem[] {
  return rows.flatMap(({ line, point }, index) => {
    const before = rows[index - 1]?.point;
    if (!point || !before || point.volumeMillilitres > before.volumeMillilitres) return [];
    const accepted = `a volume above ${before.volumeMillilitres}, which stands before it`;
    return [{ line, column: 'volume', value: String(point.volumeMillilitres), accepted }];
  });
}

/** How the numbers of the two columns are written; a doubt means thousands, which a curve has none of. */
function formOf(body: readonly SheetRow[], as: CurveReading): NumberForm {
  const texts = body.flatMap((row) =>
    [as.volumeColumn, as.potentialColumn].map((place) =>
      textAt(row, place)
        .replace(/^[+\-−]/, '')
        .replace(/e[+-]?\d+$/i, ''),
    ),
  );
  return proposedForm(texts).form;
}

function readSheet(sheet: Sheet, choice: CurveChoice): CurveRead {
  const { header, body } = splitHeader(sheet);
  const as = understood(header, body, choice);
  if ('refused' in as) return as.refused;
  const form = formOf(body, as);
  const rows = body.map((row) => readRow(row, as, form));
  const problems = [...rows.flatMap((row) => row.problems), ...risingProblems(rows)];
  if (problems.length > 0) {
    return { outcome: 'problems', problems: problems.toSorted((a, b) => a.line - b.line) };
  }
  const points = rows.flatMap(({ point }) => (point ? [point] : []));
  if (points.length >= fewestPoints && points.length <= mostPoints) {
    return { outcome: 'read', points, as };
  }
  const accepted = `from ${fewestPoints} to ${mostPoints} points`;
  return problem(0, 'table', `${points.length} points`, accepted);
}

/** Reads a curve from a table that was laid out as rows, as files are. */
function readCurveSheets(sheets: readonly Sheet[], choice: CurveChoice = {}): CurveRead {
  const sheet = likeliest(sheets);
  if (sheet) return readSheet(sheet, choice);
  return problem(0, 'table', 'no row with two numbers', 'a row for each point: volume, potential');
}

/**
 * Reads a titration curve from text as titrators export it or people paste it: volume and potential
 * in a row, apart by comma, semicolon, tab, bar or blanks, with decimal point or comma, with or
 * without a header. Nothing of it is taken unless every row is right; each that is not is named by
 * its line.
 */
export function readCurve(text: string, choice: CurveChoice = {}): CurveRead {
  const laidOut = sheetsOfCsv(text);
  if (laidOut.outcome === 'problem') {
    return { outcome: 'problems', problems: [laidOut.problem] };
  }
  return readCurveSheets([...laidOut.sheets, sheetOfBlanks(text)], choice);
}
