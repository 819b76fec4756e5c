import type Database from 'better-sqlite3';
import type { JsonObject } from '../ports/json.ts';
import type { IndexValue, StoredLine, StoreWriter, Table } from '../ports/store.ts';
import { StoreFull } from '../ports/store.ts';
import type { RecordCache } from './record-cache.ts';
import { remember, sqliteReader } from './sqlite-reader.ts';
import { isAsDeclared, makeAnew, putText, removeText } from './sqlite-tables.ts';
import { orderedValues } from './table-order.ts';

/**
 * The ways in which SQLite says that a file cannot grow. A quota and a limit of file size arrive as
 * a failed write, since only ENOSPC has a code of its own.
 */
const fullCodes: ReadonlySet<string> = new Set([
  'SQLITE_FULL',
  'SQLITE_IOERR_WRITE',
  'SQLITE_IOERR_SHMSIZE',
]);

/** The error to throw for one of SQLite's: a full disk by its own name, any other as it is. */
export function storeError(error: unknown): unknown {
  const code = (error as { code?: unknown } | null)?.code;
  return typeof code === 'string' && fullCodes.has(code) ? new StoreFull(error) : error;
}

/** A statement that answers nothing and takes no values. */
type Bare = Database.Statement<[]>;

/** Begins and ends the writes of one connection. */
export interface Transactions {
  readonly begin: Bare;
  readonly commit: Bare;
  readonly rollback: Bare;
}

/** The statements that begin and end a write, prepared once. */
export function transactionsOf(database: Database.Database): Transactions {
  return {
    begin: database.prepare('BEGIN IMMEDIATE'),
    commit: database.prepare('COMMIT'),
    rollback: database.prepare('ROLLBACK'),
  };
}

/** What is known of the write under way. */
export interface WriteState {
  open: boolean;
  /** The last line; not known at the beginning and after something was undone. */
  last: StoredLine | undefined;
}

/** Changes one plant on one connection, inside a transaction that the store has begun. */
export function sqliteWriter(
  database: Database.Database,
  plant: string,
  state: WriteState,
  cache: RecordCache,
): StoreWriter {
  const append = database.prepare(
    'INSERT INTO journal_line (plant, number, hash, text) VALUES (?, ?, ?, ?)',
  );
  const putHead = database.prepare(
    'INSERT OR REPLACE INTO journal_head (plant, tree_size, text) VALUES (?, ?, ?)',
  );
  const puts = new Map<Table, Database.Statement>();
  const removes = new Map<Table, Database.Statement>();
  const run = (statement: Database.Statement, values: readonly IndexValue[]): void => {
    // Work that goes on after its write has ended would otherwise commit by itself.
    if (!state.open) throw new RangeError('the write has ended; nothing can change');
    statement.run(values);
  };
  const reader = sqliteReader(database, plant, cache);
  // There is no other writer, so that the last line has to be looked for once only.
  const lastLine = async (): Promise<StoredLine | undefined> => {
    state.last ??= await reader.lastLine();
    return state.last;
  };
  return {
    ...reader,
    lastLine,
    append: async ({ number, hash, text }) => {
      const last = (await lastLine())?.number ?? 0;
      if (number !== last + 1) throw new RangeError(`line ${number} does not follow line ${last}`);
      run(append, [plant, number, hash, text]);
      state.last = { number, hash, text };
    },
    put: async (table, record) => {
      const put = remember(puts, table, () => database.prepare(putText(table)));
      const text = JSON.stringify(record);
      run(put, [plant, ...orderedValues(table, record), text]);
      cache.put(table, keyOf(table, record), text);
    },
    remove: async (table, key) => {
      const remove = remember(removes, table, () => database.prepare(removeText(table)));
      run(remove, [plant, ...key]);
      cache.remove(table, key);
    },
    putHead: async ({ treeSize, text }) => run(putHead, [plant, treeSize, text]),
    clear: async (tables: readonly Table[]) => {
      if (!state.open) throw new RangeError('the write has ended; nothing can change');
      cache.clear();
      for (const table of tables) clearTable(database, plant, table);
    },
    part: partOf(database, state, cache),
  };
}

const keyOf = (table: Table, record: JsonObject): readonly IndexValue[] =>
  table.key.map((field) => record[field] as IndexValue);

function clearTable(database: Database.Database, plant: string, table: Table): void {
  if (isAsDeclared(database, table)) {
    database.prepare(`DELETE FROM "${table.name}" WHERE store_plant = ?`).run(plant);
    return;
  }
  const others = database.prepare('SELECT plant FROM journal_line WHERE plant <> ? LIMIT 1');
  const other = others.pluck().get(plant);
  if (other !== undefined) {
    throw new RangeError(`${table.name} is of another version for the plant ${other}, too`);
  }
  makeAnew(database, table);
}

function partOf(
  database: Database.Database,
  state: WriteState,
  cache: RecordCache,
): StoreWriter['part'] {
  const begin = database.prepare('SAVEPOINT part');
  const release = database.prepare('RELEASE part');
  const back = database.prepare('ROLLBACK TO part');
  return async (work) => {
    begin.run();
    try {
      const result = await work();
      release.run();
      return result;
    } catch (error) {
      state.last = undefined;
      cache.clear();
      // A full disk may already have rolled the whole write back; then there is no savepoint left.
      if (database.inTransaction) {
        back.run();
        release.run();
      }
      throw storeError(error);
    }
  };
}
