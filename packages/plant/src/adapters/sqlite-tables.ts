import type Database from 'better-sqlite3';
import type { Table } from '../ports/store.ts';

/** The tables that every plant has: the journal's lines and the signed heads. */
export const coreSchema = `
CREATE TABLE IF NOT EXISTS journal_line (
  plant TEXT NOT NULL,
  number INTEGER NOT NULL,
  hash TEXT NOT NULL,
  text TEXT NOT NULL,
  PRIMARY KEY (plant, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS journal_head (
  plant TEXT NOT NULL,
  tree_size INTEGER NOT NULL,
  text TEXT NOT NULL,
  PRIMARY KEY (plant, tree_size)
) STRICT, WITHOUT ROWID;
`;

const quoted = (fields: readonly string[]): string => fields.map((field) => `"${field}"`).join(', ');

/** Every field that a key or an index of the table names, each once, the key first. */
export function orderColumns(table: Table): readonly string[] {
  return [...new Set([...table.key, ...Object.values(table.indexes).flat()])];
}

/** The statements that make a table and its indexes when they are missing. */
export function tableStatements(table: Table): readonly string[] {
  const columns = orderColumns(table)
    .map((field) => `"${field}" ANY NOT NULL`)
    .join(', ');
  const create = `CREATE TABLE IF NOT EXISTS "${table.name}" (
    plant TEXT NOT NULL, ${columns}, record TEXT NOT NULL,
    PRIMARY KEY (plant, ${quoted(table.key)})
  ) STRICT, WITHOUT ROWID`;
  const indexes = Object.entries(table.indexes).map(
    ([name, fields]) =>
      `CREATE INDEX IF NOT EXISTS "${table.name}_${name}" ON "${table.name}" (plant, ${quoted(fields)})`,
  );
  return [create, ...indexes];
}

/** The statements of a write, prepared once per connection. */
export interface WriteStatements {
  readonly lastNumber: Database.Statement;
  readonly append: Database.Statement;
  readonly putHead: Database.Statement;
  put(table: Table): Database.Statement;
  remove(table: Table): Database.Statement;
}

const prepared = new WeakMap<Database.Database, WriteStatements>();

/** The statements of a write on this connection. */
export function writeStatements(database: Database.Database): WriteStatements {
  const known = prepared.get(database);
  if (known) return known;
  const puts = new Map<string, Database.Statement>();
  const removes = new Map<string, Database.Statement>();
  const statements: WriteStatements = {
    lastNumber: database.prepare('SELECT max(number) FROM journal_line WHERE plant = ?'),
    append: database.prepare(
      'INSERT INTO journal_line (plant, number, hash, text) VALUES (?, ?, ?, ?)',
    ),
    putHead: database.prepare(
      'INSERT OR REPLACE INTO journal_head (plant, tree_size, text) VALUES (?, ?, ?)',
    ),
    put: (table) => remember(puts, table.name, () => database.prepare(putText(table))),
    remove: (table) => remember(removes, table.name, () => database.prepare(removeText(table))),
  };
  prepared.set(database, statements);
  return statements;
}

/** The value under a name, made at the first call. */
export function remember<Value>(known: Map<string, Value>, name: string, make: () => Value): Value {
  const found = known.get(name);
  if (found !== undefined) return found;
  const made = make();
  known.set(name, made);
  return made;
}

function putText(table: Table): string {
  const fields = orderColumns(table);
  const marks = ['?', ...fields.map(() => '?'), '?'].join(', ');
  return `INSERT OR REPLACE INTO "${table.name}" (plant, ${quoted(fields)}, record) VALUES (${marks})`;
}

function removeText(table: Table): string {
  const conditions = table.key.map((field) => `"${field}" = ?`).join(' AND ');
  return `DELETE FROM "${table.name}" WHERE plant = ? AND ${conditions}`;
}
