import type { SheetRow, TableProblem } from '../../../tables/sheet.ts';
import { gramsText } from './amount.ts';
import type { ListField } from './header-words.ts';
import type { ListMapping, TakenList } from './list-bodies.ts';
import { type MassField, RowCells } from './list-row.ts';

type SummedField = 'pieces' | MassField;
const summedFields: readonly SummedField[] = ['pieces', 'gross', 'tare', 'net'];

/** What the rows add up to; nothing for a column of which a cell could not be read. */
type Sums = Map<SummedField, bigint | undefined>;

const none = (): Sums => new Map();

/** The sum of one row's cell: pieces, or trillionths of a gram. */
function amountIn(row: RowCells, field: SummedField): bigint | undefined {
  const before = row.problems.length;
  const amount =
    field === 'pieces' ? wholePieces(row.digits('pieces', 'a sum')) : row.mass(field)?.mass;
  row.problems.length = before;
  return amount;
}

function wholePieces(digits: string | undefined): bigint | undefined {
  return digits !== undefined && /^\d+(\.0+)?$/.test(digits)
    ? BigInt(digits.split('.')[0] ?? '0')
    : undefined;
}

/** Adds up the rows of a list and holds each sum that it states against its own rows. */
export class ListTotals {
  readonly problems: TableProblem[] = [];
  readonly checked: TakenList['totals'][number][] = [];
  readonly #places: ReadonlyMap<ListField, number>;
  readonly #mapping: ListMapping;
  #whole: Sums = none();
  #sinceLast: Sums = none();

  constructor(places: ReadonlyMap<ListField, number>, mapping: ListMapping) {
    this.#places = places;
    this.#mapping = mapping;
  }

  /** Counts a row of a drum; also one that is set aside, since the supplier's sum holds it. */
  add(row: SheetRow): void {
    const cells = new RowCells(row, this.#places, this.#mapping);
    for (const field of summedFields) {
      if (!this.#places.has(field)) continue;
      const amount = amountIn(cells, field);
      for (const sums of [this.#whole, this.#sinceLast]) {
        const before = sums.has(field) ? sums.get(field) : 0n;
        sums.set(field, amount === undefined || before === undefined ? undefined : before + amount);
      }
    }
  }

  /** Holds the sums of a row against the rows since the last sum, or against all of them. */
  hold(row: SheetRow, isSetAside: boolean): void {
    const cells = new RowCells(row, this.#places, this.#mapping);
    for (const field of summedFields) {
      if (!cells.has(field)) continue;
      this.#holdOne(cells, field, isSetAside);
    }
    this.#sinceLast = none();
  }

  #holdOne(cells: RowCells, field: SummedField, isSetAside: boolean): void {
    const column = this.#mapping.columns[field] ?? field;
    const { line } = cells.row;
    const stated = cells.cell(field).text;
    const whole = this.#whole.get(field);
    const note = (check: 'agrees' | 'not checked') =>
      this.checked.push({
        line,
        column: column.slice(0, 200),
        stated: stated.slice(0, 200),
        check,
      });
    if (isSetAside || whole === undefined) return void note('not checked');
    const amount = amountIn(cells, field);
    if (amount === whole || (amount !== undefined && amount === this.#sinceLast.get(field))) {
      return void note('agrees');
    }
    const sum = field === 'pieces' ? `${whole} pieces` : `${gramsText(whole)} g`;
    this.problems.push({ line, column, value: stated, accepted: `the sum of the rows, ${sum}` });
  }
}
