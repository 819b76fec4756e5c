import type { JsonObject } from '../ports/json.ts';
import type {
  IndexValue,
  Selection,
  Store,
  StoredHead,
  StoredLine,
  StoreReader,
  StoreWriter,
  Table,
} from '../ports/store.ts';

interface Content {
  lines: StoredLine[];
  readonly tables: Map<string, Map<string, JsonObject>>;
  readonly heads: Map<number, StoredHead>;
}

const keyText = (key: readonly IndexValue[]): string => JSON.stringify(key);

function compare(a: IndexValue, b: IndexValue): number {
  if (typeof a === typeof b) return a < b ? -1 : a > b ? 1 : 0;
  return typeof a === 'number' ? -1 : 1;
}

function orderOf(table: Table, record: JsonObject, fields: readonly string[]): IndexValue[] {
  return [...fields, ...table.key].map((field) => record[field] as IndexValue);
}

function select(
  table: Table,
  records: Iterable<JsonObject>,
  selection: Selection,
): readonly JsonObject[] {
  const fields = selection.by === undefined ? table.key : table.indexes[selection.by];
  if (!fields) throw new RangeError(`${table.name} has no order named ${selection.by}`);
  const prefix = selection.prefix ?? [];
  const next = fields[prefix.length];
  const found = [...records].filter((record) => {
    if (prefix.some((value, index) => record[fields[index] as string] !== value)) return false;
    const value = next === undefined ? undefined : (record[next] as IndexValue);
    if (selection.from !== undefined && (value === undefined || compare(value, selection.from) < 0))
      return false;
    return !(
      selection.below !== undefined &&
      (value === undefined || compare(value, selection.below) >= 0)
    );
  });
  const sign = selection.descending ? -1 : 1;
  found.sort((left, right) => {
    const a = orderOf(table, left, fields);
    const b = orderOf(table, right, fields);
    const index = a.findIndex((value, at) => compare(value, b[at] as IndexValue) !== 0);
    return index < 0 ? 0 : sign * compare(a[index] as IndexValue, b[index] as IndexValue);
  });
  return found.slice(0, selection.limit ?? found.length);
}

/** Reads the content that `current` answers at the moment of the call. */
function readerOf(current: () => Content): StoreReader {
  return {
    lastLine: async () => current().lines.at(-1),
    line: async (number) => current().lines[number - 1],
    lines: async (first, below) => current().lines.slice(Math.max(0, first - 1), below - 1),
    record: async (table, key) => current().tables.get(table.name)?.get(keyText(key)),
    records: async (table, selection = {}) =>
      select(table, current().tables.get(table.name)?.values() ?? [], selection),
    headCovering: async (treeSize) =>
      [...current().heads.values()]
        .filter((head) => head.treeSize >= treeSize)
        .sort((a, b) => a.treeSize - b.treeSize)[0],
    heads: async () => [...current().heads.values()].sort((a, b) => a.treeSize - b.treeSize),
  };
}

function copyOf(content: Content): Content {
  return {
    lines: [...content.lines],
    tables: new Map([...content.tables].map(([name, rows]) => [name, new Map(rows)])),
    heads: new Map(content.heads),
  };
}

/** A store that lives as long as the process: for tests and for trials of what a command would do. */
export class MemoryStore implements Store {
  readonly plant: string;
  readonly reader: StoreReader;
  #content: Content = { lines: [], tables: new Map(), heads: new Map() };
  #turn: Promise<unknown> = Promise.resolve();

  constructor(plant: string) {
    this.plant = plant;
    this.reader = readerOf(() => this.#content);
  }

  async prepare(tables: readonly Table[]): Promise<void> {
    for (const table of tables) {
      if (!this.#content.tables.has(table.name)) this.#content.tables.set(table.name, new Map());
    }
  }

  write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    const run = this.#turn.then(() => this.#write(work));
    this.#turn = run.catch(() => undefined);
    return run;
  }

  async #write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    const draft = { content: copyOf(this.#content) };
    const result = await work(this.#writerOf(draft));
    this.#content = draft.content;
    return result;
  }

  #writerOf(draft: { content: Content }): StoreWriter {
    const rows = (table: Table): Map<string, JsonObject> => {
      const found = draft.content.tables.get(table.name);
      if (!found) throw new RangeError(`table ${table.name} was not prepared`);
      return found;
    };
    return {
      ...readerOf(() => draft.content),
      append: async (line) => {
        const expected = draft.content.lines.length + 1;
        if (line.number !== expected) {
          throw new RangeError(`line ${line.number} does not follow line ${expected - 1}`);
        }
        draft.content.lines.push(line);
      },
      put: async (table, record) => {
        const key = table.key.map((field) => record[field] as IndexValue);
        rows(table).set(keyText(key), structuredClone(record));
      },
      remove: async (table, key) => {
        rows(table).delete(keyText(key));
      },
      putHead: async (head) => {
        draft.content.heads.set(head.treeSize, head);
      },
      part: async (work) => {
        const before = copyOf(draft.content);
        try {
          return await work();
        } catch (error) {
          draft.content = before;
          throw error;
        }
      },
    };
  }

  async clear(tables: readonly Table[]): Promise<void> {
    for (const table of tables) this.#content.tables.set(table.name, new Map());
  }

  async close(): Promise<void> {}
}
