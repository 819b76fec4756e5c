import type { JsonObject } from '../ports/json.ts';
import {
  BooksOutdated,
  type IndexValue,
  type Store,
  type StoredHead,
  type StoredLine,
  type StoreReader,
  type StoreWriter,
  type Table,
} from '../ports/store.ts';
import { type Content, keyText, readerOf } from './memory-content.ts';
import { orderedValues } from './table-order.ts';

/** What has been committed. */
class Committed implements Content {
  readonly lines: StoredLine[] = [];
  readonly heads = new Map<number, StoredHead>();
  readonly tables = new Map<string, Map<string, JsonObject>>();

  table(name: string): Map<string, JsonObject> {
    const found = this.tables.get(name);
    if (!found) throw new RangeError(`table ${name} was not prepared`);
    return found;
  }

  prepare(name: string): void {
    if (!this.tables.has(name)) this.tables.set(name, new Map());
  }

  record(table: string, key: string): JsonObject | undefined {
    return this.table(table).get(key);
  }

  records(table: string): Iterable<JsonObject> {
    return this.table(table).values();
  }
}

/** A write under way: what it changes, laid over what has been committed. */
class Draft implements Content {
  readonly #committed: Committed;
  readonly #undo: (() => void)[] = [];
  /** Changed records by table and key; a removed record is `null`. */
  readonly #changes = new Map<string, Map<string, JsonObject | null>>();
  lines: StoredLine[];
  heads: Map<number, StoredHead>;

  constructor(committed: Committed) {
    this.#committed = committed;
    this.lines = [...committed.lines];
    this.heads = new Map(committed.heads);
  }

  record(table: string, key: string): JsonObject | undefined {
    const changed = this.#changes.get(table)?.get(key);
    return changed === undefined ? this.#committed.record(table, key) : (changed ?? undefined);
  }

  *records(table: string): Iterable<JsonObject> {
    const changes = this.#changes.get(table);
    for (const [key, record] of this.#committed.table(table)) if (!changes?.has(key)) yield record;
    for (const record of changes?.values() ?? []) if (record !== null) yield record;
  }

  append(line: StoredLine): void {
    this.lines.push(line);
    this.#undo.push(() => this.lines.pop());
  }

  putHead(head: StoredHead): void {
    const before = this.heads.get(head.treeSize);
    this.heads.set(head.treeSize, head);
    this.#undo.push(() => {
      if (before) this.heads.set(head.treeSize, before);
      else this.heads.delete(head.treeSize);
    });
  }

  change(table: string, key: string, record: JsonObject | null): void {
    this.#committed.table(table);
    const changes = this.#changes.get(table) ?? new Map<string, JsonObject | null>();
    this.#changes.set(table, changes);
    const before = changes.get(key);
    changes.set(key, record);
    this.#undo.push(() => {
      if (before === undefined) changes.delete(key);
      else changes.set(key, before);
    });
  }

  clear(table: string): void {
    this.#committed.prepare(table);
    for (const key of this.#committed.table(table).keys()) this.change(table, key, null);
    for (const key of this.#changes.get(table)?.keys() ?? []) this.change(table, key, null);
  }

  /** Where the write stands now, to be gone back to. */
  mark(): number {
    return this.#undo.length;
  }

  backTo(mark: number): void {
    while (this.#undo.length > mark) this.#undo.pop()?.();
  }

  commit(): void {
    for (const line of this.lines.slice(this.#committed.lines.length)) {
      this.#committed.lines.push(line);
    }
    for (const [treeSize, head] of this.heads) this.#committed.heads.set(treeSize, head);
    for (const [name, changes] of this.#changes) {
      const rows = this.#committed.table(name);
      for (const [key, record] of changes) {
        if (record === null) rows.delete(key);
        else rows.set(key, record);
      }
    }
  }
}

/** A store that lives as long as the process: for tests and for trials of what a command would do. */
export class MemoryStore implements Store {
  readonly plant: string;
  readonly reader: StoreReader;
  readonly #committed = new Committed();
  #turn: Promise<unknown> = Promise.resolve();

  constructor(plant: string) {
    this.plant = plant;
    this.reader = readerOf(() => this.#committed);
  }

  async prepare(tables: readonly Table[]): Promise<void> {
    for (const { name } of tables) {
      const isMissing = !this.#committed.tables.has(name);
      if (isMissing && this.#committed.lines.length > 0) throw new BooksOutdated(name);
      this.#committed.prepare(name);
    }
  }

  write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    const run = this.#turn.then(async () => {
      const draft = new Draft(this.#committed);
      const result = await work(writerOf(draft));
      draft.commit();
      return result;
    });
    this.#turn = run.catch(() => undefined);
    return run;
  }

  async close(): Promise<void> {
    await this.#turn;
  }
}

/** The record as it comes out of a file, frozen, since every reader is given the same one. */
function throughText(record: JsonObject): JsonObject {
  return JSON.parse(JSON.stringify(record), (_field, value) => Object.freeze(value)) as JsonObject;
}

function writerOf(draft: Draft): StoreWriter {
  return {
    ...readerOf(() => draft),
    append: async (line) => {
      const last = draft.lines.length;
      if (line.number !== last + 1) {
        throw new RangeError(`line ${line.number} does not follow line ${last}`);
      }
      draft.append(line);
    },
    put: async (table, record) => {
      orderedValues(table, record);
      const key = table.key.map((field) => record[field] as IndexValue);
      draft.change(table.name, keyText(key), throughText(record));
    },
    remove: async (table, key) => draft.change(table.name, keyText(key), null),
    putHead: async (head) => draft.putHead(head),
    clear: async (tables) => {
      for (const { name } of tables) draft.clear(name);
    },
    part: async (work) => {
      const mark = draft.mark();
      try {
        return await work();
      } catch (error) {
        draft.backTo(mark);
        throw error;
      }
    },
  };
}
