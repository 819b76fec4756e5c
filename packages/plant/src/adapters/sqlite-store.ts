import Database from 'better-sqlite3';
import {
  BooksOutdated,
  type ReadableStore,
  type Store,
  StoreHeld,
  type StoreReader,
  type StoreWriter,
  type Table,
} from '../ports/store.ts';
import { RecordCache } from './record-cache.ts';
import { sqliteReader } from './sqlite-reader.ts';
import { coreSchema, isAsDeclared, makeAnew, tableStatements } from './sqlite-tables.ts';
import {
  sqliteWriter,
  storeError,
  type Transactions,
  transactionsOf,
  type WriteState,
} from './sqlite-writer.ts';

/** How a store is opened. */
export interface SqliteStoreOptions {
  readonly plant: string;
  /** Path of the database file; made when it is missing. */
  readonly path: string;
  /**
   * What a commit survives. A plant's own store survives a power failure, as is so when this is left
   * out. A copy that is made to be compared, or a plant that is only simulated, need not wait for the
   * disk: its commits survive the end of its process and nothing worse.
   */
  readonly survives?: 'power failure' | 'end of process';
}

/** Settings that make a commit durable before it is answered, on every system. */
const durable = [
  'journal_mode = WAL',
  'synchronous = FULL',
  'fullfsync = ON',
  'checkpoint_fullfsync = ON',
  'temp_store = MEMORY',
  // In KiB, which SQLite writes below zero: what a batch changes stays in memory until it commits.
  'cache_size = -65536',
  'wal_autocheckpoint = 4000',
] as const;

/**
 * Takes the right to write for as long as the process lives: an open transaction on a file of its
 * own, which the system gives back when the process ends in whatever way.
 */
function holdWriter(path: string): Database.Database {
  const lock = new Database(`${path}.writer`, { timeout: 0 });
  try {
    lock.exec('BEGIN EXCLUSIVE');
    return lock;
  } catch (error) {
    lock.close();
    const { code } = error as { code?: string };
    throw code === 'SQLITE_BUSY' ? new StoreHeld(path) : storeError(error);
  }
}

/** The embedded store: one SQLite file in WAL mode with synchronous FULL. */
export class SqliteStore implements Store {
  readonly plant: string;
  readonly path: string;
  readonly reader: StoreReader;
  readonly #lock: Database.Database;
  readonly #writing: Database.Database;
  readonly #reading: Database.Database;
  readonly #transactions: Transactions;
  readonly #writer: StoreWriter;
  readonly #state: WriteState = { open: false, last: undefined };
  readonly #cache = new RecordCache();
  #turn: Promise<unknown> = Promise.resolve();

  constructor({ plant, path, survives = 'power failure' }: SqliteStoreOptions) {
    this.plant = plant;
    this.path = path;
    this.#lock = holdWriter(path);
    const opened: Database.Database[] = [this.#lock];
    try {
      this.#writing = new Database(path);
      opened.push(this.#writing);
      for (const setting of durable) this.#writing.pragma(setting);
      if (survives === 'end of process') this.#writing.pragma('synchronous = OFF');
      this.#writing.exec(coreSchema);
      this.#transactions = transactionsOf(this.#writing);
      this.#writer = sqliteWriter(this.#writing, plant, this.#state, this.#cache);
      this.#reading = new Database(path, { readonly: true });
      opened.push(this.#reading);
      this.reader = sqliteReader(this.#reading, plant);
    } catch (error) {
      for (const database of opened.reverse()) database.close();
      throw storeError(error);
    }
  }

  async prepare(tables: readonly Table[]): Promise<void> {
    try {
      this.#writing.transaction(() => this.#prepare(tables))();
    } catch (error) {
      throw storeError(error);
    }
  }

  #prepare(tables: readonly Table[]): void {
    const database = this.#writing;
    const outdated = tables.filter((table) => !isAsDeclared(database, table));
    const [first] = outdated;
    const hasEntries = database.prepare('SELECT 1 FROM journal_line LIMIT 1').get() !== undefined;
    if (first && hasEntries) throw new BooksOutdated(first.name);
    for (const table of outdated) makeAnew(database, table);
    for (const text of tables.flatMap(tableStatements)) database.exec(text);
  }

  write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    const run = this.#turn.then(() => this.#write(work));
    this.#turn = run.catch(() => undefined);
    return run;
  }

  async #write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    const { begin, commit, rollback } = this.#transactions;
    try {
      begin.run();
      this.#state.open = true;
      const result = await work(this.#writer);
      this.#state.open = false;
      commit.run();
      return result;
    } catch (error) {
      Object.assign(this.#state, { open: false, last: undefined });
      this.#cache.clear();
      if (this.#writing.inTransaction) rollback.run();
      throw storeError(error);
    }
  }

  async close(): Promise<void> {
    await this.#turn;
    this.#reading.close();
    this.#writing.close();
    this.#lock.close();
  }
}

/**
 * Opens a store to be read only, as it is at this moment: what another process commits later is
 * not seen. Works beside a process that writes.
 */
export function openSqliteSnapshot({ plant, path }: SqliteStoreOptions): ReadableStore {
  const database = new Database(path, { readonly: true, fileMustExist: true });
  // The first read fixes the moment for as long as the transaction lasts.
  database.exec('BEGIN');
  database.prepare('SELECT max(number) FROM journal_line').get();
  return {
    plant,
    reader: sqliteReader(database, plant),
    close: async () => {
      database.close();
    },
  };
}
