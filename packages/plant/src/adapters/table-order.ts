import type { JsonObject } from '../ports/json.ts';
import type { IndexValue, Selection, Table } from '../ports/store.ts';

const columnsOf = new WeakMap<Table, readonly string[]>();

/** Every field that a key or an index of the table names, each once, the key first. */
export function orderColumns(table: Table): readonly string[] {
  const known = columnsOf.get(table);
  if (known) return known;
  const columns = [...new Set([...table.key, ...Object.values(table.indexes).flat()])];
  columnsOf.set(table, columns);
  return columns;
}

/** The fields of the order that a selection asks for, without the key that settles ties. */
export function orderFields(table: Table, selection: Selection): readonly string[] {
  const fields = selection.by === undefined ? table.key : table.indexes[selection.by];
  if (!fields) throw new RangeError(`${table.name} has no order named ${selection.by}`);
  const bounded = selection.from !== undefined || selection.below !== undefined;
  const prefixLength = selection.prefix?.length ?? 0;
  if (prefixLength + (bounded ? 1 : 0) > fields.length) {
    throw new RangeError(`${table.name} is ordered by ${fields.join(', ')} only`);
  }
  return fields;
}

/** The fields of an order with the key behind them, so that no two records stand at one place. */
export function wholeOrder(table: Table, fields: readonly string[]): readonly string[] {
  return [...new Set([...fields, ...table.key])];
}

/** The values of the columns that order a table, in the order of its columns. */
export function orderedValues(table: Table, record: JsonObject): IndexValue[] {
  return orderColumns(table).map((field) => {
    const value = record[field];
    if (typeof value === 'string' || Number.isSafeInteger(value)) return value as IndexValue;
    throw new RangeError(
      `${table.name}.${field} is ${String(value)}; accepted: text or whole number`,
    );
  });
}

/** From here on UTF-16 and UTF-8 put texts in different orders: halves of pairs, and what comes after. */
const ordersOtherwise = 0xd800;

function compareTexts(a: string, b: string): number {
  const shorter = Math.min(a.length, b.length);
  for (let at = 0; at < shorter; at += 1) {
    const [left, right] = [a.charCodeAt(at), b.charCodeAt(at)];
    if (left === right) continue;
    if (left < ordersOtherwise && right < ordersOtherwise) return left - right;
    return Buffer.compare(Buffer.from(a), Buffer.from(b));
  }
  return a.length - b.length;
}

/** Order of values: numbers before text, text by the bytes of its UTF-8 form. */
export function compareValues(a: IndexValue, b: IndexValue): number {
  if (typeof a === 'number') return typeof b === 'number' ? a - b : -1;
  return typeof b === 'number' ? 1 : compareTexts(a, b);
}
