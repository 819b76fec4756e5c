import Database from 'better-sqlite3';
import { coreSchema, putText, tableStatements } from '../src/adapters/sqlite-tables.ts';
import { orderedValues } from '../src/adapters/table-order.ts';
import type { JsonObject } from '../src/ports/json.ts';
import type { IndexValue, Store, StoredLine, StoreWriter, Table } from '../src/ports/store.ts';

/** What one commit wrote: lines of the journal and records of the books. */
export interface CommitLog {
  readonly lines: StoredLine[];
  readonly records: { readonly table: Table; readonly record: JsonObject }[];
}

/** The same store, which also notes what each of its commits wrote. */
export function noting(store: Store, commits: CommitLog[]): Store {
  return {
    plant: store.plant,
    reader: store.reader,
    prepare: (tables) => store.prepare(tables),
    close: () => store.close(),
    write: async (work) => {
      const commit: CommitLog = { lines: [], records: [] };
      const result = await store.write((writer) => work(notingWriter(writer, commit)));
      commits.push(commit);
      return result;
    },
  };
}

function notingWriter(writer: StoreWriter, commit: CommitLog): StoreWriter {
  return {
    ...writer,
    append: (line) => {
      commit.lines.push(line);
      return writer.append(line);
    },
    put: (table, record) => {
      commit.records.push({ table, record });
      return writer.put(table, record);
    },
  };
}

/** Seconds that it takes to insert what the commits wrote and to do nothing else, as durably. */
export function insertBare(
  path: string,
  commits: readonly CommitLog[],
  options: { readonly books: boolean; readonly tables: readonly Table[] },
): number {
  const database = new Database(path);
  database.pragma('journal_mode = WAL');
  database.pragma('synchronous = FULL');
  database.exec(coreSchema);
  for (const text of options.tables.flatMap(tableStatements)) database.exec(text);
  const append = database.prepare(
    'INSERT INTO journal_line (plant, number, hash, text) VALUES (?, ?, ?, ?)',
  );
  const puts = new Map(
    options.tables.map((table) => [table.name, database.prepare(putText(table))]),
  );
  // What is bound is made ready before the clock runs, so that only the engine is measured.
  const ready = commits.map(({ lines, records }) => ({
    lines: lines.map(({ number, hash, text }) => ['bench', number, hash, text]),
    records: (options.books ? records : []).map(({ table, record }) => ({
      put: puts.get(table.name) as Database.Statement,
      values: ['bench', ...orderedValues(table, record), JSON.stringify(record)] as IndexValue[],
    })),
  }));
  const commit = database.transaction((one: (typeof ready)[number]) => {
    for (const values of one.lines) append.run(...values);
    for (const { put, values } of one.records) put.run(...values);
  });
  const start = performance.now();
  for (const one of ready) commit(one);
  const seconds = (performance.now() - start) / 1000;
  database.close();
  return seconds;
}
