import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, describe, expect, it } from 'vitest';
import { describeStoreContract } from '../ports/store.contract.ts';
import type { Table } from '../ports/store.ts';
import { copySqliteFile } from './sqlite-copy.ts';
import { selectionText } from './sqlite-reader.ts';
import { openSqliteSnapshot, SqliteStore } from './sqlite-store.ts';

const folder = mkdtempSync(join(tmpdir(), 'cupel-sqlite-'));
afterAll(() => rmSync(folder, { recursive: true }));

let files = 0;
const newPath = (): string => {
  files += 1;
  return join(folder, `plant-${files}.sqlite`);
};
const openAt = (path: string): SqliteStore => new SqliteStore({ plant: 'trial', path });
const pathOf = (store: unknown): string => (store as SqliteStore).path;

describeStoreContract({
  name: 'SQLite',
  make: async () => openAt(newPath()),
  reopen: async (closed) => openAt(pathOf(closed)),
  openBeside: async (open) => openAt(pathOf(open)),
});

const tubes: Table = {
  name: 'trial_tube',
  key: ['melt', 'tube'],
  indexes: { byMass: ['mass', 'tube'] },
};
const tube = (name: string, mass: number) => ({ melt: 'M-1', tube: name, mass });
const line = (number: number) => ({ number, text: `{"line":${number}}`, hash: `hash-${number}` });

describe('SQLite store', () => {
  it('keeps a write-ahead log', async () => {
    const store = openAt(newPath());
    const database = new Database(store.path, { readonly: true });
    expect(database.pragma('journal_mode', { simple: true })).toBe('wal');
    database.close();
    await store.close();
  });

  it('keeps the records of two plants in one file apart', async () => {
    const path = newPath();
    for (const plant of ['north', 'south']) {
      const store = new SqliteStore({ plant, path });
      await store.prepare([tubes]);
      await store.write(async (writer) => {
        await writer.append({ ...line(1), text: plant });
        await writer.put(tubes, tube(plant, 1));
      });
      await store.close();
    }
    const north = new SqliteStore({ plant: 'north', path });
    expect((await north.reader.lastLine())?.text).toBe('north');
    expect(await north.reader.records(tubes)).toEqual([tube('north', 1)]);
    await north.write((writer) => writer.clear([tubes]));
    await north.close();
    const south = new SqliteStore({ plant: 'south', path });
    expect(await south.reader.records(tubes)).toHaveLength(1);
    await south.close();
  });

  it('refuses a table whose records had another shape, though its key is the same', async () => {
    const path = newPath();
    const before = openAt(path);
    await before.prepare([tubes]);
    await before.write((writer) => writer.append(line(1)));
    await before.close();
    const store = openAt(path);
    const next: Table = { ...tubes, edition: 2 };
    await expect(store.prepare([next])).rejects.toThrow('trial_tube');
    await store.write((writer) => writer.clear([next]));
    await store.prepare([next]);
    await expect(store.prepare([tubes])).rejects.toThrow('trial_tube');
    await store.close();
  });

  it('refuses a table of another shape beside a journal, and makes it anew with the books', async () => {
    const store = openAt(newPath());
    await store.prepare([tubes]);
    await store.write(async (writer) => {
      await writer.append(line(1));
      await writer.put(tubes, tube('T-1', 1));
    });
    const reshaped: Table = { ...tubes, indexes: { bySeal: ['seal'] } };
    await expect(store.prepare([reshaped])).rejects.toThrow('trial_tube');
    const failing = store.write(async (writer) => {
      await writer.clear([reshaped]);
      throw new Error('the fold is broken');
    });
    await expect(failing).rejects.toThrow('the fold is broken');
    expect(await store.reader.records(tubes)).toEqual([tube('T-1', 1)]);
    const record = { ...tube('T-1', 1), seal: 'S-1' };
    await store.write(async (writer) => {
      await writer.clear([reshaped]);
      await writer.put(reshaped, record);
    });
    await store.prepare([reshaped]);
    expect(await store.reader.records(reshaped, { by: 'bySeal' })).toEqual([record]);
    await store.close();
  });

  it('adds an index to a table of the same shape without making it anew', async () => {
    const store = openAt(newPath());
    await store.prepare([tubes]);
    await store.write(async (writer) => {
      await writer.append(line(1));
      await writer.put(tubes, tube('T-1', 1));
    });
    const indexed: Table = { ...tubes, indexes: { ...tubes.indexes, byTube: ['tube'] } };
    await store.prepare([indexed]);
    expect(await store.reader.records(indexed, { by: 'byTube' })).toHaveLength(1);
    await store.close();
  });

  it('lets nothing change once its write has ended', async () => {
    const store = openAt(newPath());
    await store.prepare([tubes]);
    const late = await store.write(async (writer) => () => writer.put(tubes, tube('late', 1)));
    await expect(late()).rejects.toThrow('ended');
    expect(await store.reader.records(tubes)).toEqual([]);
    await store.close();
  });

  it('gives the right to write back when it cannot open the file', () => {
    const path = newPath();
    writeFileSync(
      path,
      'this is not a database, but it is long enough to be taken for one'.repeat(99),
    );
    expect(() => openAt(path)).toThrow('not a database');
    rmSync(path);
    void openAt(path).close();
  });

  it('reads every order from its index, without sorting', async () => {
    const store = openAt(newPath());
    await store.prepare([tubes]);
    const database = new Database(store.path, { readonly: true });
    const selections = [
      {},
      { descending: true },
      { prefix: ['M-1'], from: 'a', limit: 3 },
      { by: 'byMass' },
      { by: 'byMass', descending: true, limit: 5 },
      { by: 'byMass', prefix: [3], below: 'T' },
      { after: ['M-1', 'T-1'], limit: 5 },
    ];
    for (const selection of selections) {
      const { text, values } = selectionText(tubes, selection);
      const plan = database.prepare(`EXPLAIN QUERY PLAN ${text}`).all('trial', ...values);
      const details = plan.map((step) => (step as { detail: string }).detail).join('; ');
      expect(details).toMatch(/^SEARCH/);
      expect(details).not.toContain('TEMP B-TREE');
    }
    database.close();
    await store.close();
  });

  it('finds the few records of one melt by their index, not among all that the plant has', async () => {
    const drums: Table = {
      name: 'trial_drum',
      key: ['drum'],
      indexes: { byMelt: ['melt', 'drum'] },
    };
    const store = openAt(newPath());
    await store.prepare([drums]);
    const database = new Database(store.path, { readonly: true });
    const { text, values } = selectionText(drums, { by: 'byMelt', prefix: ['M-1'] });
    const [step] = database.prepare(`EXPLAIN QUERY PLAN ${text}`).all('trial', ...values);
    expect((step as { detail: string }).detail).toContain(
      'trial_drum_byMelt (store_plant=? AND melt=?)',
    );
    database.close();
    await store.close();
  });
});

describe('snapshot of a SQLite store', () => {
  it('stays as it was when it was opened, while the store goes on', async () => {
    const store = openAt(newPath());
    await store.prepare([tubes]);
    await store.write((writer) => writer.append(line(1)));
    const snapshot = openSqliteSnapshot({ plant: 'trial', path: store.path });
    await store.write((writer) => writer.append(line(2)));
    expect(await snapshot.reader.lastLine()).toEqual(line(1));
    expect(await store.reader.lastLine()).toEqual(line(2));
    await snapshot.close();
    await store.close();
  });

  it('does not make a file that is missing', () => {
    expect(() => openSqliteSnapshot({ plant: 'trial', path: newPath() })).toThrow();
  });
});

describe('copy of a SQLite file', () => {
  it('holds what was committed, while the store is open, and replaces no file', async () => {
    const store = openAt(newPath());
    await store.prepare([tubes]);
    await store.write((writer) => writer.append(line(1)));
    const target = newPath();
    copySqliteFile(store.path, target);
    expect(() => copySqliteFile(store.path, target)).toThrow('exists already');
    await store.write((writer) => writer.append(line(2)));
    const copy = openAt(target);
    expect(await copy.reader.lines(1, 9)).toEqual([line(1)]);
    await copy.close();
    await store.close();
  });
});
