import type { JsonObject } from '../ports/json.ts';
import {
  BooksOutdated,
  type Store,
  type StoredHead,
  type StoredLine,
  type StoreReader,
  type StoreWriter,
  type Table,
} from '../ports/store.ts';
import { frozenFrom } from './frozen.ts';
import { type Content, readerOf } from './memory-content.ts';
import { MemoryTable } from './memory-table.ts';
import { SortedList } from './sorted-list.ts';
import { orderedValues } from './table-order.ts';

/** What has been committed. */
class Committed implements Content {
  readonly #lines: StoredLine[] = [];
  readonly #tables = new Map<string, MemoryTable>();
  heads = new SortedList<StoredHead>();

  get lineCount(): number {
    return this.#lines.length;
  }

  line(number: number): StoredLine | undefined {
    return this.#lines[number - 1];
  }

  has(name: string): boolean {
    return this.#tables.has(name);
  }

  table(name: string): MemoryTable {
    const found = this.#tables.get(name);
    if (!found) throw new RangeError(`table ${name} was not prepared`);
    return found;
  }

  /** Takes over what a write has changed. */
  take(layer: Layer): void {
    for (const line of layer.lines) this.#lines.push(line);
    for (const [name, table] of layer.tables) this.#tables.set(name, table);
    this.heads = layer.heads;
  }

  prepare(table: Table): void {
    this.#tables.set(table.name, new MemoryTable(table.key));
  }
}

/** What a write, or a part of one, changes, laid over what was there before. */
class Layer implements Content {
  readonly #beneath: Content;
  readonly lines: StoredLine[] = [];
  /** Tables of its own: those that it has changed. */
  readonly tables = new Map<string, MemoryTable>();
  heads: SortedList<StoredHead>;

  constructor(beneath: Content) {
    this.#beneath = beneath;
    this.heads = beneath.heads;
  }

  get lineCount(): number {
    return this.#beneath.lineCount + this.lines.length;
  }

  line(number: number): StoredLine | undefined {
    const above = number - 1 - this.#beneath.lineCount;
    return above < 0 ? this.#beneath.line(number) : this.lines[above];
  }

  table(name: string): MemoryTable {
    return this.tables.get(name) ?? this.#beneath.table(name);
  }

  /** The table, to be changed. */
  own(name: string): MemoryTable {
    const known = this.tables.get(name);
    if (known) return known;
    const own = this.#beneath.table(name).copy();
    this.tables.set(name, own);
    return own;
  }

  putHead(head: StoredHead): void {
    this.heads = this.heads.copy();
    this.heads.put(head, {
      isBefore: ({ treeSize }) => treeSize < head.treeSize,
      isSame: ({ treeSize }) => treeSize === head.treeSize,
    });
  }

  /** Takes over what a part of it has changed. */
  take(part: Layer): void {
    for (const line of part.lines) this.lines.push(line);
    for (const [name, table] of part.tables) this.tables.set(name, table);
    this.heads = part.heads;
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
    for (const table of tables) {
      if (this.#committed.has(table.name)) continue;
      if (this.#committed.lineCount > 0) throw new BooksOutdated(table.name);
      this.#committed.prepare(table);
    }
  }

  write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    const run = this.#turn.then(async () => {
      const layer = new Layer(this.#committed);
      const result = await work(writerOf(layer));
      this.#committed.take(layer);
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
  return frozenFrom(JSON.stringify(record));
}

function writerOf(whole: Layer): StoreWriter {
  let present = whole;
  return {
    ...readerOf(() => present),
    append: async (line) => {
      const last = present.lineCount;
      if (line.number !== last + 1) {
        throw new RangeError(`line ${line.number} does not follow line ${last}`);
      }
      present.lines.push(line);
    },
    put: async (table, record) => {
      orderedValues(table, record);
      present.own(table.name).put(throughText(record));
    },
    remove: async (table, key) => present.own(table.name).remove(key),
    putHead: async (head) => present.putHead(head),
    clear: async (tables) => {
      for (const table of tables) present.tables.set(table.name, new MemoryTable(table.key));
    },
    part: async (work) => {
      present = new Layer(whole);
      try {
        const result = await work();
        whole.take(present);
        return result;
      } finally {
        present = whole;
      }
    },
  };
}
