import type { JsonObject } from '../ports/json.ts';
import type { IndexValue, Table } from '../ports/store.ts';
import { frozenFrom } from './frozen.ts';

/** So many records of one table are kept; then it is begun anew. */
const mostOfTable = 1000;

/** Stands for a record that is not in the file. */
const nothing: JsonObject = Object.freeze({});

/** The key as one text. */
const nameOf = (key: readonly IndexValue[]): string => JSON.stringify(key);

/**
 * Records that the one writer of a store has read or written lately, of tables that are read by
 * their key. A text that was put is parsed only when somebody reads it.
 */
export class RecordCache {
  readonly #tables = new Map<string, Map<string, JsonObject | string>>();

  /** The record, if it is known; `read` gets its text from the file when it is not. */
  record(
    table: Table,
    key: readonly IndexValue[],
    read: () => string | undefined,
  ): JsonObject | undefined {
    const records = this.#of(table);
    const name = nameOf(key);
    const known = records.get(name) ?? read() ?? nothing;
    const record = typeof known === 'string' ? frozenFrom<JsonObject>(known) : known;
    if (record !== known || record === nothing) keep(records, name, record);
    return record === nothing ? undefined : record;
  }

  put(table: Table, key: readonly IndexValue[], text: string): void {
    const records = this.#tables.get(table.name);
    if (records) keep(records, nameOf(key), text);
  }

  remove(table: Table, key: readonly IndexValue[]): void {
    const records = this.#tables.get(table.name);
    if (records) keep(records, nameOf(key), nothing);
  }

  /** Forgets everything, as after a write that was undone. */
  clear(): void {
    this.#tables.clear();
  }

  #of({ name }: Table): Map<string, JsonObject | string> {
    const known = this.#tables.get(name);
    if (known) return known;
    const records = new Map<string, JsonObject | string>();
    this.#tables.set(name, records);
    return records;
  }
}

function keep(
  records: Map<string, JsonObject | string>,
  name: string,
  record: JsonObject | string,
): void {
  if (records.size >= mostOfTable) records.clear();
  records.set(name, record);
}
