import type { JsonObject } from '../ports/json.ts';
import type { IndexValue, Selection, Table } from '../ports/store.ts';
import { type IsBefore, SortedList } from './sorted-list.ts';
import { compareValues, orderFields, wholeOrder } from './table-order.ts';

type Fields = readonly string[];

/** Where a record stands against values of the first fields of an order. */
function compareTo(record: JsonObject, fields: Fields, values: readonly IndexValue[]): number {
  for (let at = 0; at < values.length; at += 1) {
    const value = record[fields[at] as string] as IndexValue;
    const order = compareValues(value, values[at] as IndexValue);
    if (order !== 0) return order;
  }
  return 0;
}

const valuesAt = (record: JsonObject, fields: Fields): IndexValue[] =>
  fields.map((field) => record[field] as IndexValue);

/** One order of a table: no two records stand at one place in it. */
interface Order {
  readonly fields: Fields;
  readonly list: SortedList<JsonObject>;
}

const before =
  (fields: Fields, values: readonly IndexValue[]): IsBefore<JsonObject> =>
  (record) =>
    compareTo(record, fields, values) < 0;

const upTo =
  (fields: Fields, values: readonly IndexValue[]): IsBefore<JsonObject> =>
  (record) =>
    compareTo(record, fields, values) <= 0;

/** The records of one table, in the order of its key and in each further order that was asked for. */
export class MemoryTable {
  readonly #key: Fields;
  readonly #records: SortedList<JsonObject>;
  /** Further orders, made when they are first read, by the fields that make them. */
  readonly #orders: Map<string, Order>;

  constructor(
    key: Fields,
    records = new SortedList<JsonObject>(),
    orders = new Map<string, Order>(),
  ) {
    this.#key = key;
    this.#records = records;
    this.#orders = orders;
  }

  /** A table of its own to change; this one stays as it is. */
  copy(): MemoryTable {
    const orders = new Map<string, Order>();
    for (const [name, { fields, list }] of this.#orders) {
      orders.set(name, { fields, list: list.copy() });
    }
    return new MemoryTable(this.#key, this.#records.copy(), orders);
  }

  record(key: readonly IndexValue[]): JsonObject | undefined {
    const found = this.#records.firstFrom(before(this.#key, key));
    return found !== undefined && compareTo(found, this.#key, key) === 0 ? found : undefined;
  }

  put(record: JsonObject): void {
    const key = valuesAt(record, this.#key);
    const old = this.record(key);
    for (const { fields, list } of this.#orders.values()) {
      const isMoved = old !== undefined && compareTo(old, fields, valuesAt(record, fields)) !== 0;
      if (isMoved) list.remove(before(fields, valuesAt(old, fields)));
      place(list, fields, record);
    }
    place(this.#records, this.#key, record);
  }

  remove(key: readonly IndexValue[]): void {
    const old = this.record(key);
    if (old === undefined) return;
    for (const { fields, list } of this.#orders.values()) {
      list.remove(before(fields, valuesAt(old, fields)));
    }
    this.#records.remove(before(this.#key, key));
  }

  select(table: Table, selection: Selection): readonly JsonObject[] {
    const fields = orderFields(table, selection);
    const order = wholeOrder(table, fields);
    const list = this.#listBy(order);
    const { prefix = [], from, below, after, limit, descending = false } = selection;
    const starts = [before(order, from === undefined ? prefix : [...prefix, from])];
    const ends = [below === undefined ? upTo(order, prefix) : before(order, [...prefix, below])];
    if (after !== undefined && !descending) starts.push(upTo(order, after));
    if (after !== undefined && descending) ends.push(before(order, after));
    const range = {
      from: (record: JsonObject) => starts.some((isBefore) => isBefore(record)),
      to: (record: JsonObject) => ends.every((isBefore) => isBefore(record)),
    };
    return list.between(range, {
      limit: limit ?? Number.POSITIVE_INFINITY,
      isBackwards: descending,
    });
  }

  #listBy(fields: Fields): SortedList<JsonObject> {
    const name = JSON.stringify(fields);
    if (name === JSON.stringify(this.#key)) return this.#records;
    const known = this.#orders.get(name);
    if (known) return known.list;
    const placed = [...this.#records].map((record) => ({
      record,
      values: valuesAt(record, fields),
    }));
    placed.sort((left, right) => compareTo(left.record, fields, right.values));
    const list = SortedList.of(placed.map(({ record }) => record));
    this.#orders.set(name, { fields, list });
    return list;
  }
}

function place(list: SortedList<JsonObject>, fields: Fields, record: JsonObject): void {
  const values = valuesAt(record, fields);
  list.put(record, {
    isBefore: before(fields, values),
    isSame: (found) => compareTo(found, fields, values) === 0,
  });
}
