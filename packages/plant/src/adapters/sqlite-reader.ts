import type Database from 'better-sqlite3';
import type { JsonObject } from '../ports/json.ts';
import type {
  IndexValue,
  Selection,
  StoredHead,
  StoredLine,
  StoreReader,
  Table,
} from '../ports/store.ts';
import { remember } from './sqlite-tables.ts';

/** SQL text of a selection, with the values it binds after the plant. */
function selectionText(table: Table, selection: Selection): { text: string; values: IndexValue[] } {
  const fields = selection.by === undefined ? table.key : table.indexes[selection.by];
  if (!fields) throw new RangeError(`${table.name} has no order named ${selection.by}`);
  const prefix = selection.prefix ?? [];
  const conditions = ['plant = ?', ...prefix.map((_, index) => `"${fields[index]}" = ?`)];
  const values: IndexValue[] = [...prefix];
  const next = fields[prefix.length];
  for (const [bound, sign] of [
    [selection.from, '>='],
    [selection.below, '<'],
  ] as const) {
    if (bound === undefined) continue;
    conditions.push(`"${next}" ${sign} ?`);
    values.push(bound);
  }
  const direction = selection.descending ? ' DESC' : '';
  const order = [...new Set([...fields, ...table.key])]
    .map((field) => `"${field}"${direction}`)
    .join(', ');
  const limit = selection.limit === undefined ? '' : ' LIMIT ?';
  if (selection.limit !== undefined) values.push(selection.limit);
  const where = conditions.join(' AND ');
  return {
    text: `SELECT record FROM "${table.name}" WHERE ${where} ORDER BY ${order}${limit}`,
    values,
  };
}

const parse = (text: unknown): JsonObject => JSON.parse(text as string) as JsonObject;

/** Reads one plant on one connection. */
export function sqliteReader(database: Database.Database, plant: string): StoreReader {
  const statements = statementsOf(database);
  const prepare = (text: string): Database.Statement =>
    remember(statements, text, () => database.prepare(text));
  const line = 'SELECT number, hash, text FROM journal_line WHERE plant = ?';
  const head = 'SELECT tree_size AS treeSize, text FROM journal_head WHERE plant = ?';
  return {
    lastLine: async () =>
      prepare(`${line} ORDER BY number DESC LIMIT 1`).get(plant) as StoredLine | undefined,
    line: async (number) =>
      prepare(`${line} AND number = ?`).get(plant, number) as StoredLine | undefined,
    lines: async (first, below) =>
      prepare(`${line} AND number >= ? AND number < ? ORDER BY number`).all(
        plant,
        first,
        below,
      ) as StoredLine[],
    record: async (table, key) => {
      const where = table.key.map((field) => ` AND "${field}" = ?`).join('');
      const text = `SELECT record FROM "${table.name}" WHERE plant = ?${where}`;
      const found = prepare(text)
        .pluck()
        .get(plant, ...key);
      return found === undefined ? undefined : parse(found);
    },
    records: async (table, selection = {}) => {
      const { text, values } = selectionText(table, selection);
      return prepare(text)
        .pluck()
        .all(plant, ...values)
        .map(parse);
    },
    headCovering: async (treeSize) =>
      prepare(`${head} AND tree_size >= ? ORDER BY tree_size LIMIT 1`).get(plant, treeSize) as
        | StoredHead
        | undefined,
    heads: async () => prepare(`${head} ORDER BY tree_size`).all(plant) as StoredHead[],
  };
}

const statementsByDatabase = new WeakMap<Database.Database, Map<string, Database.Statement>>();

function statementsOf(database: Database.Database): Map<string, Database.Statement> {
  const known = statementsByDatabase.get(database) ?? new Map<string, Database.Statement>();
  statementsByDatabase.set(database, known);
  return known;
}
