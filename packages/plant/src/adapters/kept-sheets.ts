import { chmodSync } from 'node:fs';
import Database from 'better-sqlite3';
import type { Clock } from '../ports/clock.ts';
import type { JsonObject } from '../ports/json.ts';
import type {
  KeptSheet,
  KeptSheets,
  SheetKept,
  SheetLine,
  SheetName,
} from '../ports/kept-sheets.ts';

const kibibyte = 1024;
/** A sheet with the curves of a whole titration run is far smaller. */
const greatestBytes = 512 * kibibyte;
/** So many sheets a person keeps; the one untouched longest makes room for another. */
const greatestSheets = 100;

const schema = `
  CREATE TABLE IF NOT EXISTS sheet (
    person TEXT NOT NULL, command TEXT NOT NULL, thing TEXT NOT NULL,
    value TEXT NOT NULL, revision INTEGER NOT NULL, kept INTEGER NOT NULL,
    PRIMARY KEY (person, command, thing)
  ) STRICT;
`;

interface SheetRow {
  readonly value: string;
  readonly revision: number;
  readonly kept: number;
}

const keptOf = ({ value, revision, kept }: SheetRow): KeptSheet => ({
  value: JSON.parse(value) as JsonObject,
  revision,
  keptAt: new Date(kept).toISOString(),
});

/** Half-filled sheets in an SQLite file of their own, outside of the journal and its books. */
export class SqliteKeptSheets implements KeptSheets {
  readonly #database: Database.Database;
  readonly #clock: Clock;

  constructor(options: { readonly path: string; readonly clock: Clock }) {
    this.#clock = options.clock;
    this.#database = new Database(options.path);
    this.#database.pragma('journal_mode = WAL');
    this.#database.pragma('synchronous = FULL');
    this.#database.exec(schema);
    if (options.path !== ':memory:') chmodSync(options.path, 0o600);
  }

  find(name: SheetName): KeptSheet | undefined {
    const row = this.#rowOf(name);
    return row && keptOf(row);
  }

  keep(
    name: SheetName,
    sheet: { readonly value: JsonObject; readonly revision: number },
  ): SheetKept {
    const text = JSON.stringify(sheet.value);
    const bytes = Buffer.byteLength(text);
    if (bytes > greatestBytes) return { outcome: 'too large', bytes, greatestBytes };
    return this.#database.transaction((): SheetKept => {
      const before = this.#rowOf(name);
      if ((before?.revision ?? 0) !== sheet.revision) {
        return { outcome: 'changed elsewhere', sheet: before && keptOf(before) };
      }
      const revision = sheet.revision + 1;
      const kept = this.#clock.now();
      this.#database
        .prepare(
          `INSERT INTO sheet VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT DO UPDATE
           SET value = excluded.value, revision = excluded.revision, kept = excluded.kept`,
        )
        .run(name.person, name.command, name.thing, text, revision, kept);
      if (!before) this.#makeRoom(name.person);
      return { outcome: 'kept', revision, keptAt: new Date(kept).toISOString() };
    })();
  }

  forget({ person, command, thing }: SheetName): void {
    this.#database
      .prepare('DELETE FROM sheet WHERE person = ? AND command = ? AND thing = ?')
      .run(person, command, thing);
  }

  lines(): readonly SheetLine[] {
    const rows = this.#database
      .prepare('SELECT person, command, thing, kept FROM sheet ORDER BY kept, rowid')
      .all() as readonly (SheetName & { readonly kept: number })[];
    return rows.map(({ kept, ...name }) => ({ ...name, keptAt: new Date(kept).toISOString() }));
  }

  close(): void {
    this.#database.close();
  }

  #rowOf({ person, command, thing }: SheetName): SheetRow | undefined {
    return this.#database
      .prepare(
        'SELECT value, revision, kept FROM sheet WHERE person = ? AND command = ? AND thing = ?',
      )
      .get(person, command, thing) as SheetRow | undefined;
  }

  #makeRoom(person: string): void {
    this.#database
      .prepare(
        `DELETE FROM sheet WHERE rowid IN (
           SELECT rowid FROM sheet WHERE person = ? ORDER BY kept DESC, rowid DESC LIMIT -1 OFFSET ?
         )`,
      )
      .run(person, greatestSheets);
  }
}
