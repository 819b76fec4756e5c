import type { JsonObject } from '../ports/json.ts';
import type {
  IndexValue,
  Selection,
  StoredHead,
  StoredLine,
  StoreReader,
  Table,
} from '../ports/store.ts';
import { compareValues, orderFields, wholeOrder } from './table-order.ts';

/** What a store of memory holds, or would hold if the write under way were done. */
export interface Content {
  readonly lines: readonly StoredLine[];
  readonly heads: ReadonlyMap<number, StoredHead>;
  /** A record under its key, as `keyText` writes it. */
  record(table: string, key: string): JsonObject | undefined;
  records(table: string): Iterable<JsonObject>;
}

/** A key as one text. */
export const keyText = (key: readonly IndexValue[]): string => JSON.stringify(key);

const valuesAt = (record: JsonObject, fields: readonly string[]): IndexValue[] =>
  fields.map((field) => record[field] as IndexValue);

function compareAll(a: readonly IndexValue[], b: readonly IndexValue[]): number {
  for (const [index, value] of a.entries()) {
    const order = compareValues(value, b[index] as IndexValue);
    if (order !== 0) return order;
  }
  return 0;
}

function select(
  table: Table,
  records: Iterable<JsonObject>,
  selection: Selection,
): readonly JsonObject[] {
  const fields = orderFields(table, selection);
  const order = wholeOrder(table, fields);
  const sign = selection.descending ? -1 : 1;
  const { prefix = [], from, below, after } = selection;
  const next = fields[prefix.length] ?? '';
  const found: { place: IndexValue[]; record: JsonObject }[] = [];
  for (const record of records) {
    if (prefix.some((value, index) => record[fields[index] as string] !== value)) continue;
    if (from !== undefined && compareValues(record[next] as IndexValue, from) < 0) continue;
    if (below !== undefined && compareValues(record[next] as IndexValue, below) >= 0) continue;
    const place = valuesAt(record, order);
    if (after !== undefined && sign * compareAll(place, after) <= 0) continue;
    found.push({ place, record });
  }
  found.sort((left, right) => sign * compareAll(left.place, right.place));
  return found.slice(0, selection.limit ?? found.length).map(({ record }) => record);
}

/** Reads the content that `current` answers at the moment of the call. */
export function readerOf(current: () => Content): StoreReader {
  const headsInOrder = (): StoredHead[] =>
    [...current().heads.values()].sort((a, b) => a.treeSize - b.treeSize);
  return {
    lastLine: async () => current().lines.at(-1),
    line: async (number) => current().lines[number - 1],
    lines: async (first, below) =>
      current().lines.slice(Math.max(0, first - 1), Math.max(0, below - 1)),
    record: async (table, key) => current().record(table.name, keyText(key)),
    records: async (table, selection = {}) =>
      select(table, current().records(table.name), selection),
    headCovering: async (treeSize) => headsInOrder().find((head) => head.treeSize >= treeSize),
    heads: async () => headsInOrder(),
  };
}
