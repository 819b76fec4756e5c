import type { z } from 'zod';
import { massReadingSchema } from '../../../journal/reading.ts';
import { digitsOf, movedPoint, splitUnit } from '../../../tables/number-form.ts';
import type { Cell, SheetRow, TableProblem } from '../../../tables/sheet.ts';
import { idSchema } from '../../registers/index.ts';
import { drumPiecesSchema, meltIdSchema, supplierFinenessSchema } from '../announce-input.ts';
import { gramsText, type ListMassUnit, picograms, unitNamed } from './amount.ts';
import type { ListField } from './header-words.ts';
import type { ListMapping, ListReading } from './list-bodies.ts';

/** A drum as its row states it, with the masses as they stand in the cells. */
export interface ListDrum {
  readonly line: number;
  readonly drum: string;
  readonly melt: string;
  readonly pieces: number;
  readonly gross: ListReading;
  readonly tare: ListReading;
  readonly seal: string;
  readonly finenessPerMille: number | null;
  readonly asSent: { readonly gross: string; readonly tare: string };
}

export type MassField = 'gross' | 'tare' | 'net';

/** A mass in a cell: exact, and as a reading where the list's unit is one of an instrument. */
interface CellMass {
  readonly mass: bigint;
  readonly reading: ListReading;
  readonly asSent: string;
}

const nothing: Cell = { kind: 'text', text: '' };

/** The cells of one row under a mapping; what is wrong with them is noted with line and column. */
export class RowCells {
  readonly problems: TableProblem[] = [];
  readonly row: SheetRow;
  readonly #places: ReadonlyMap<ListField, number>;
  readonly #mapping: ListMapping;

  constructor(row: SheetRow, places: ReadonlyMap<ListField, number>, mapping: ListMapping) {
    this.row = row;
    this.#places = places;
    this.#mapping = mapping;
  }

  cell(field: ListField): Cell {
    return this.row.cells[this.#places.get(field) ?? -1] ?? nothing;
  }

  has(field: ListField): boolean {
    return this.cell(field).text !== '';
  }

  /** An id as it stands, or the text that holds for it from above. */
  id(field: 'drum' | 'melt' | 'seal', from = this.cell(field)): string {
    if (from.kind === 'day') {
      this.note(field, from.text, 'an id; the sheet holds a day here: write the cell as text');
      return from.text;
    }
    this.check(field, field === 'melt' ? meltIdSchema : idSchema, from.text);
    return from.text;
  }

  pieces(): number {
    const text = this.digits('pieces', 'a whole number of pieces');
    if (text === undefined) return Number.NaN;
    this.check('pieces', drumPiecesSchema, Number(text));
    return Number(text);
  }

  mass(field: MassField): CellMass | undefined {
    const unit = this.unitOf(field);
    const text = this.digits(field, `a mass in ${unit}`);
    if (text === undefined) return undefined;
    const mass = picograms(text, unit);
    const reading: ListReading =
      unit === 'ozt'
        ? { text: gramsText(mass), unit: 'g', typed: true }
        : { text, unit, typed: true };
    this.check(field, massReadingSchema, reading);
    return { mass, reading, asSent: this.asSent(field, unit) };
  }

  fineness(cell: Cell): number | null {
    if (cell.text === '') return null;
    const { unit } = splitUnit(cell.text);
    const accepted = 'a fineness';
    const text = this.digits('fineness', accepted, cell);
    if (text === undefined) return Number.NaN;
    const isPercent = /%/.test(unit);
    const named = /‰/.test(unit) ? 'per mille' : isPercent ? 'percent' : this.#mapping.finenessUnit;
    const perMille = movedPoint(text, { 'per mille': 0, percent: 1, fraction: 3 }[named]);
    this.check('fineness', supplierFinenessSchema, perMille);
    return perMille;
  }

  /** The unit that the cell names, else the one of its column. */
  unitOf(field: MassField): ListMassUnit {
    return unitNamed(splitUnit(this.cell(field).text).unit) ?? this.#mapping.units[field];
  }

  private asSent(field: MassField, unit: ListMassUnit): string {
    const { text } = this.cell(field);
    return splitUnit(text).unit === '' ? `${text} ${unit}` : text;
  }

  /** The digits of a number with a decimal point, from a cell of text or of a sheet's own number. */
  digits(field: ListField, accepted: string, cell = this.cell(field)): string | undefined {
    const { number, unit } = splitUnit(cell.text);
    const isKnown = unit === '' || isUnitOf(field, unit);
    if (cell.kind === 'number' && /^\d+(\.\d+)?$/.test(cell.text)) return cell.text;
    const digits = cell.kind === 'text' && isKnown ? digitsOf(number, this.#mapping) : undefined;
    if (digits === undefined) {
      this.note(field, cell.text, `${accepted}, ${formWords(this.#mapping)}`);
    }
    return digits;
  }

  note(field: ListField, value: string, accepted: string): void {
    const column = this.#mapping.columns[field] ?? field;
    this.problems.push({ line: this.row.line, column, value, accepted });
  }

  check(field: ListField, schema: z.ZodType, value: unknown): void {
    const parsed = schema.safeParse(value);
    if (parsed.success) return;
    this.note(field, this.cell(field).text, parsed.error.issues[0]?.message ?? '');
  }
}

function isUnitOf(field: ListField, unit: string): boolean {
  if (field === 'fineness') return /^(‰|%|\/?1000|fine)$/i.test(unit);
  if (field === 'pieces')
    return /^(pcs?|pieces?|st(ü|u)ck|stk|pi(è|e)ces?|pezzi|pz|piezas?|pe(ç|c)as?)\.?$/i.test(unit);
  return unitNamed(unit) !== undefined;
}

const groupWords = {
  none: 'not grouped',
  point: 'thousands with a point',
  comma: 'thousands with a comma',
  blank: 'thousands with a blank',
  apostrophe: 'thousands with an apostrophe',
} as const;

function formWords({ decimalMark, groupMark }: ListMapping): string {
  return `digits with a decimal ${decimalMark}, ${groupWords[groupMark]}`;
}

const massNames = { gross: 'gross', tare: 'tare', net: 'net' } as const;

/** The reading that follows from two others, in grams, or in kilograms where both are. */
function derived(mass: bigint, like: CellMass): CellMass {
  const grams = gramsText(mass);
  const text = like.reading.unit === 'kg' ? String(movedPoint(grams, -3)) : grams;
  const unit = like.reading.unit;
  return { mass, reading: { text, unit, typed: true }, asSent: 'from the other two' };
}

/** Gross and tare of a row: as it states them, or the one from the other and the net mass. */
export function massesOf(
  cells: RowCells,
  mapping: ListMapping,
): { readonly gross: CellMass; readonly tare: CellMass } | undefined {
  const read = (field: MassField) =>
    mapping.columns[field] === null ? null : cells.mass(massNames[field]);
  const [gross, tare, net] = [read('gross'), read('tare'), read('net')];
  if (gross === undefined || tare === undefined || net === undefined) return undefined;
  if (gross && tare) {
    if (net && gross.mass - tare.mass !== net.mass) {
      const unit = cells.unitOf('net');
      const difference = gramsText(gross.mass - tare.mass);
      const accepted = `${difference} g, which is gross less tare (read in ${unit})`;
      cells.note('net', cells.cell('net').text, accepted);
    }
    return { gross, tare };
  }
  if (gross && net) {
    if (gross.mass > net.mass) return { gross, tare: derived(gross.mass - net.mass, gross) };
    cells.note('net', cells.cell('net').text, `less than the gross mass, ${gross.asSent}`);
  }
  return tare && net ? { gross: derived(tare.mass + net.mass, tare), tare } : undefined;
}
