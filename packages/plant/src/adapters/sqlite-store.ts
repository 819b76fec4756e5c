import { existsSync } from 'node:fs';
import Database from 'better-sqlite3';
import type { JsonObject } from '../ports/json.ts';
import {
  type IndexValue,
  type Store,
  StoreFull,
  StoreHeld,
  type StoreReader,
  type StoreWriter,
  type Table,
} from '../ports/store.ts';
import { sqliteReader } from './sqlite-reader.ts';
import { coreSchema, orderColumns, tableStatements, writeStatements } from './sqlite-tables.ts';

/** How a store is opened. */
export interface SqliteStoreOptions {
  readonly plant: string;
  /** Path of the database file; made when it is missing. */
  readonly path: string;
}

/** Settings that make a commit durable before it is answered. */
const durable = ['journal_mode = WAL', 'synchronous = FULL', 'foreign_keys = ON'] as const;

function isFull(error: unknown): boolean {
  const code = (error as { code?: string }).code ?? '';
  return code === 'SQLITE_FULL' || code.startsWith('SQLITE_IOERR_WRITE') || code === 'ENOSPC';
}

/**
 * Takes the right to write for as long as the process lives: an open transaction on a file of its
 * own, which the system gives back when the process ends in whatever way.
 */
function holdWriter(path: string): Database.Database {
  const lock = new Database(`${path}.writer`);
  try {
    lock.pragma('busy_timeout = 0');
    lock.exec('BEGIN EXCLUSIVE');
    return lock;
  } catch {
    lock.close();
    throw new StoreHeld(path);
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
  #turn: Promise<unknown> = Promise.resolve();

  constructor(options: SqliteStoreOptions) {
    this.plant = options.plant;
    this.path = options.path;
    this.#lock = holdWriter(options.path);
    this.#writing = new Database(options.path);
    for (const setting of durable) this.#writing.pragma(setting);
    this.#writing.exec(coreSchema);
    this.#reading = new Database(options.path, { readonly: true });
    this.reader = sqliteReader(this.#reading, options.plant);
  }

  async prepare(tables: readonly Table[]): Promise<void> {
    this.#writing.transaction(() => {
      for (const table of tables) for (const text of tableStatements(table)) this.#writing.exec(text);
    })();
  }

  write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    const run = this.#turn.then(() => this.#write(work));
    this.#turn = run.catch(() => undefined);
    return run;
  }

  async #write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    try {
      this.#writing.exec('BEGIN IMMEDIATE');
      const result = await work(this.#writer());
      this.#writing.exec('COMMIT');
      return result;
    } catch (error) {
      if (this.#writing.inTransaction) this.#writing.exec('ROLLBACK');
      throw isFull(error) ? new StoreFull(error) : error;
    }
  }

  #writer(): StoreWriter {
    const database = this.#writing;
    const { plant } = this;
    const statements = writeStatements(database);
    return {
      ...sqliteReader(database, plant),
      append: async (line) => {
        const last = statements.lastNumber.pluck().get(plant) as number | null;
        if (line.number !== (last ?? 0) + 1) {
          throw new RangeError(`line ${line.number} does not follow line ${last ?? 0}`);
        }
        statements.append.run(plant, line.number, line.hash, line.text);
      },
      put: async (table, record) => {
        statements.put(table).run(plant, ...ordered(table, record), JSON.stringify(record));
      },
      remove: async (table, key) => {
        statements.remove(table).run(plant, ...key);
      },
      putHead: async (head) => {
        statements.putHead.run(plant, head.treeSize, head.text);
      },
      part: async (work) => {
        database.exec('SAVEPOINT part');
        try {
          const result = await work();
          database.exec('RELEASE part');
          return result;
        } catch (error) {
          // A full disk may already have rolled the whole write back; then there is no savepoint left.
          if (database.inTransaction) database.exec('ROLLBACK TO part; RELEASE part');
          throw isFull(error) ? new StoreFull(error) : error;
        }
      },
    };
  }

  async clear(tables: readonly Table[]): Promise<void> {
    this.#writing.transaction(() => {
      for (const table of tables) {
        this.#writing.prepare(`DELETE FROM "${table.name}" WHERE plant = ?`).run(this.plant);
      }
    })();
  }

  /** Copies the store to another file while it is in use; the copy is whole as of one moment. */
  async backup(path: string): Promise<void> {
    if (existsSync(path)) throw new RangeError(`${path} exists already`);
    await this.#reading.backup(path);
  }

  async close(): Promise<void> {
    await this.#turn;
    this.#reading.close();
    this.#writing.close();
    this.#lock.close();
  }
}

/** The values of the columns that order a table, in the order of its columns. */
function ordered(table: Table, record: JsonObject): IndexValue[] {
  return orderColumns(table).map((field) => {
    const value = record[field];
    if (typeof value === 'string' || Number.isSafeInteger(value)) return value as IndexValue;
    throw new RangeError(`${table.name}.${field} is ${String(value)}; accepted: text or whole number`);
  });
}
