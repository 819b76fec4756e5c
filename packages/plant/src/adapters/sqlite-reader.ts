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
import type { RecordCache } from './record-cache.ts';
import { recordText } from './sqlite-tables.ts';
import { orderFields, wholeOrder } from './table-order.ts';

/** SQL text of a selection, with the values it binds after the plant. */
export function selectionText(
  table: Table,
  selection: Selection,
): { text: string; values: IndexValue[] } {
  const { prefix = [], from, below, after, limit } = selection;
  const fields = orderFields(table, selection);
  const order = wholeOrder(table, fields);
  const conditions = ['store_plant = ?', ...prefix.map((_, index) => `"${fields[index]}" = ?`)];
  const values: IndexValue[] = [...prefix];
  for (const [bound, sign] of [
    [from, '>='],
    [below, '<'],
  ] as const) {
    if (bound === undefined) continue;
    conditions.push(`"${fields[prefix.length]}" ${sign} ?`);
    values.push(bound);
  }
  if (after !== undefined) {
    const columns = order.map((field) => `"${field}"`).join(', ');
    const sign = selection.descending ? '<' : '>';
    conditions.push(`(${columns}) ${sign} (${order.map(() => '?').join(', ')})`);
    values.push(...after);
  }
  const direction = selection.descending ? ' DESC' : '';
  const ordered = order.map((field) => `"${field}"${direction}`).join(', ');
  if (limit !== undefined) values.push(limit);
  // Without it the planner walks the whole table: it takes the plant, which is one, for a good key.
  const index = selection.by === undefined ? '' : ` INDEXED BY "${table.name}_${selection.by}"`;
  const text = `SELECT record FROM "${table.name}"${index} WHERE ${conditions.join(' AND ')} ORDER BY ${ordered}`;
  return { text: limit === undefined ? text : `${text} LIMIT ?`, values };
}

/** The value under a key, made at the first call. */
export function remember<Key, Value>(
  known: { get(key: Key): Value | undefined; set(key: Key, value: Value): unknown },
  key: Key,
  make: () => Value,
): Value {
  const found = known.get(key);
  if (found !== undefined) return found;
  const made = make();
  known.set(key, made);
  return made;
}

function asLine(row: unknown): StoredLine | undefined {
  if (row === undefined) return undefined;
  const [number, hash, text] = row as [number, string, string];
  return { number, hash, text };
}

const parse = (text: unknown): JsonObject => JSON.parse(text as string) as JsonObject;

/** Reads one plant on one connection; each statement is prepared once. The cache is the writer's. */
export function sqliteReader(
  database: Database.Database,
  plant: string,
  cache?: RecordCache,
): StoreReader {
  const line = 'SELECT number, hash, text FROM journal_line WHERE plant = ?';
  const head = 'SELECT tree_size AS treeSize, text FROM journal_head WHERE plant = ?';
  // One row is read as a list: as an object, each call would make a function for its names first.
  const lastLine = database.prepare(`${line} ORDER BY number DESC LIMIT 1`).raw();
  const oneLine = database.prepare(`${line} AND number = ?`).raw();
  const someLines = database.prepare(`${line} AND number >= ? AND number < ? ORDER BY number`);
  const coveringHead = database.prepare(`${head} AND tree_size >= ? ORDER BY tree_size LIMIT 1`);
  const allHeads = database.prepare(`${head} ORDER BY tree_size`);
  const recordStatements = new Map<Table, Database.Statement>();
  const recordOf = (table: Table, key: readonly IndexValue[]): string | undefined => {
    const statement = remember(recordStatements, table, () =>
      database.prepare(recordText(table)).pluck(),
    );
    return statement.get(plant, ...key) as string | undefined;
  };
  const selections = new Map<string, Database.Statement>();
  return {
    lastLine: async () => asLine(lastLine.get(plant)),
    line: async (number) => asLine(oneLine.get(plant, number)),
    lines: async (first, below) => someLines.all(plant, first, below) as StoredLine[],
    record: async (table, key) => {
      if (cache) return cache.record(table, key, () => recordOf(table, key));
      const found = recordOf(table, key);
      return found === undefined ? undefined : parse(found);
    },
    records: async (table, selection = {}) => {
      const { text, values } = selectionText(table, selection);
      const statement = remember(selections, text, () => database.prepare(text).pluck());
      return statement.all(plant, ...values).map(parse);
    },
    headCovering: async (treeSize) => coveringHead.get(plant, treeSize) as StoredHead | undefined,
    heads: async () => allHeads.all(plant) as StoredHead[],
  };
}
