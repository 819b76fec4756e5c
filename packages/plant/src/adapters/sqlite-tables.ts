import type Database from 'better-sqlite3';
import type { Table } from '../ports/store.ts';
import { orderColumns } from './table-order.ts';

/**
 * The tables that every plant has: the journal's lines and the signed heads. The lines have row
 * numbers, since they are long and come in order: a tree of rows fills its pages from the left,
 * where a tree of keys would split them.
 */
export const coreSchema = `
CREATE TABLE IF NOT EXISTS journal_line (
  plant TEXT NOT NULL,
  number INTEGER NOT NULL,
  hash TEXT NOT NULL,
  text TEXT NOT NULL,
  PRIMARY KEY (plant, number)
) STRICT;
CREATE TABLE IF NOT EXISTS journal_head (
  plant TEXT NOT NULL,
  tree_size INTEGER NOT NULL,
  text TEXT NOT NULL,
  PRIMARY KEY (plant, tree_size)
) STRICT, WITHOUT ROWID;
`;

const quoted = (fields: readonly string[]): string =>
  fields.map((field) => `"${field}"`).join(', ');

/** The statements that make a table and its indexes when they are missing. */
export function tableStatements(table: Table): readonly string[] {
  const columns = orderColumns(table)
    .map((field) => `"${field}" ANY NOT NULL`)
    .join(', ');
  // The database keeps the comment with the table, so that a file tells which edition it holds.
  const edition = table.edition === undefined ? '' : ` /* edition ${table.edition} */`;
  const create = `CREATE TABLE IF NOT EXISTS "${table.name}" (${edition}
    store_plant TEXT NOT NULL, ${columns}, record TEXT NOT NULL,
    PRIMARY KEY (store_plant, ${quoted(table.key)})
  ) STRICT, WITHOUT ROWID`;
  const indexes = Object.entries(table.indexes).map(
    ([name, fields]) =>
      `CREATE INDEX IF NOT EXISTS "${table.name}_${name}" ON "${table.name}" (store_plant, ${quoted(fields)})`,
  );
  return [create, ...indexes];
}

/** Whether the table stands in the file as it is declared now; its indexes can be added at any time. */
export function isAsDeclared(database: Database.Database, table: Table): boolean {
  const [create = ''] = tableStatements(table);
  const found = database
    .prepare("SELECT sql FROM sqlite_schema WHERE type = 'table' AND name = ?")
    .pluck()
    .get(table.name);
  return found === create.replace('IF NOT EXISTS ', '');
}

/** Makes a table anew and empty, with its indexes. */
export function makeAnew(database: Database.Database, table: Table): void {
  database.exec(`DROP TABLE IF EXISTS "${table.name}"`);
  for (const text of tableStatements(table)) database.exec(text);
}

/** Text of the statement that puts a record: plant, the values that order it, its text. */
export function putText(table: Table): string {
  const fields = orderColumns(table);
  const marks = ['?', ...fields.map(() => '?'), '?'].join(', ');
  // Only what the key does not fix is set, so that indexes over key fields are left alone.
  const free = [...fields.filter((field) => !table.key.includes(field)), 'record'];
  const changes = free.map((field) => `"${field}" = excluded."${field}"`).join(', ');
  return `INSERT INTO "${table.name}" (store_plant, ${quoted(fields)}, record) VALUES (${marks})
    ON CONFLICT (store_plant, ${quoted(table.key)}) DO UPDATE SET ${changes}`;
}

/** Text of the statement that removes the record of a plant and key. */
export function removeText(table: Table): string {
  return `DELETE FROM "${table.name}" WHERE ${keyCondition(table)}`;
}

/** Text of the statement that reads the record of a plant and key. */
export function recordText(table: Table): string {
  return `SELECT record FROM "${table.name}" WHERE ${keyCondition(table)}`;
}

function keyCondition(table: Table): string {
  return ['store_plant = ?', ...table.key.map((field) => `"${field}" = ?`)].join(' AND ');
}
