import type { Header } from '../../../tables/header-rows.ts';
import { digitsOf, type NumberForm, splitUnit } from '../../../tables/number-form.ts';
import { filledPlaces, type Sheet, type SheetRow, textAt } from '../../../tables/sheet.ts';
import type { ListField } from './header-words.ts';

const rowsLookedAt = 200;

/** The rows under a header that are filled well enough to be drums. */
export function likelyDrums(sheet: Sheet, header: Header): readonly SheetRow[] {
  const under = sheet.rows.slice(header.end, header.end + rowsLookedAt);
  const fill = Math.max(0, ...under.map((row) => filledPlaces(row).length));
  return under.filter((row) => filledPlaces(row).length >= Math.max(2, fill - 2));
}

interface Column {
  readonly place: number;
  readonly texts: readonly string[];
  /** The numbers of its cells; nothing unless every filled cell is one. */
  readonly numbers: readonly number[] | undefined;
}

function columnsOf(
  rows: readonly SheetRow[],
  places: readonly number[],
  form: NumberForm,
): readonly Column[] {
  return places.map((place) => {
    const texts = rows.map((row) => textAt(row, place)).filter((text) => text !== '');
    const numbers = texts.map((text) => Number(digitsOf(splitUnit(text).number, form)));
    const areNumbers = texts.length > 0 && numbers.every(Number.isFinite);
    return { place, texts, numbers: areNumbers ? numbers : undefined };
  });
}

const isWhole = ({ numbers }: Column) => numbers?.every(Number.isInteger) ?? false;
const isEachOnce = ({ texts }: Column) => texts.length > 1 && new Set(texts).size === texts.length;

/** Row numbers count up by one from the first. */
function isCounting({ numbers }: Column): boolean {
  const [first = 0] = numbers ?? [];
  return (numbers ?? []).length > 1 && (numbers ?? []).every((value, at) => value === first + at);
}

function isFineness({ numbers }: Column): boolean {
  const within = (low: number, high: number) =>
    (numbers ?? []).length > 0 && (numbers ?? []).every((value) => value >= low && value <= high);
  const isBroken = numbers?.some((value) => !Number.isInteger(value)) ?? false;
  return isBroken && (within(900, 1000) || within(90, 100) || within(0.9, 1));
}

/** A mass that is above another one in every row. */
function isAbove(left: Column, right: Column): boolean {
  const [a, b] = [left.numbers ?? [], right.numbers ?? []];
  return a.length > 0 && a.length === b.length && a.every((value, at) => value > (b[at] ?? 0));
}

function spread({ numbers = [] }: Column): number {
  const mean = numbers.reduce((sum, value) => sum + value, 0) / numbers.length;
  return (Math.max(...numbers) - Math.min(...numbers)) / mean;
}

/** Gross, tare and net among columns of masses: gross is above all, and of the rest a tare varies least. */
function massFields(masses: readonly Column[]): readonly (readonly [ListField, Column])[] {
  const gross = masses.find((one) => masses.every((other) => other === one || isAbove(one, other)));
  if (!gross || masses.length < 2) return [];
  const [tare, net] = masses
    .filter((one) => one !== gross)
    .toSorted((a, b) => spread(a) - spread(b));
  return [
    ['gross', gross],
    ...(tare ? [['tare', tare] as const] : []),
    ...(net ? [['net', net] as const] : []),
  ];
}

/**
 * What columns without a known name seem to say, by their values: a fineness lies near that of pure
 * metal, a gross mass above its tare, a seal and a drum are each there once, a melt comes again.
 */
export function fieldsByShape(
  rows: readonly SheetRow[],
  places: readonly number[],
  from: { readonly form: NumberForm; readonly known: ReadonlySet<ListField> },
): ReadonlyMap<ListField, number> {
  const found = new Map<ListField, number>();
  let left = columnsOf(rows, places, from.form).filter(
    (column) => column.texts.length > 0 && !isCounting(column),
  );
  const take = (field: ListField, column: Column | undefined) => {
    if (!column || from.known.has(field) || found.has(field)) return;
    found.set(field, column.place);
    left = left.filter((other) => other !== column);
  };
  take('fineness', left.find(isFineness));
  const isMass = (column: Column) => column.numbers !== undefined && !isWhole(column);
  for (const [field, column] of massFields(left.filter(isMass))) take(field, column);
  take(
    'pieces',
    left.find((column) => isWhole(column) && !isEachOnce(column)),
  );
  take('drum', left.find(isEachOnce));
  take('seal', left.find(isEachOnce));
  take(
    'melt',
    left.find((column) => !isEachOnce(column) && column.numbers === undefined),
  );
  return found;
}
