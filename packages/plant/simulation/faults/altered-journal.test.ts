import { copyFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openSqliteSnapshot } from '../../src/adapters/sqlite-store.ts';
import { newFolder, verifyTrial } from './trial-plant.ts';
import { openTrialPlant, stream } from './trial-stream.ts';

const folder = newFolder('altered');
afterAll(() => rmSync(folder, { recursive: true }));

const whole = join(folder, 'whole.sqlite');
const altered = join(folder, 'altered.sqlite');

/** Eleven commands: the tenth signs a head. */
beforeAll(async () => {
  const { store, recorder } = await openTrialPlant(whole);
  await stream(recorder, { name: 'run', commands: 11, atOnce: 1 }, () => {});
  await store.close();
});

/** Changes a copy of the plant's file by hand, and says what verification finds in it. */
async function findingsAfter(change: (database: Database.Database) => void): Promise<string> {
  for (const end of ['', '-wal', '-shm']) rmSync(`${altered}${end}`, { force: true });
  copyFileSync(whole, altered);
  const database = new Database(altered);
  change(database);
  database.close();
  return verified(altered);
}

async function verified(path: string): Promise<string> {
  const store = openSqliteSnapshot({ plant: 'trial', path });
  const found = await verifyTrial(store);
  await store.close();
  return found.holds ? 'holds' : `${found.entry}: ${found.why}`;
}

describe('a journal altered by hand in its file', () => {
  it('verifies as long as nothing is altered', async () => {
    expect(await findingsAfter(() => {})).toBe('holds');
  });

  it('is found for any altered byte of any line, and the entry is named', async () => {
    copyFileSync(whole, altered);
    const database = new Database(altered);
    const read = database.prepare(
      'SELECT number, CAST(text AS BLOB) AS bytes FROM journal_line WHERE number <= 4',
    );
    const write = database.prepare(
      'UPDATE journal_line SET text = CAST(? AS TEXT) WHERE number = ?',
    );
    // Only the lines up to the altered one are kept: what stands behind it plays no part.
    database.exec('DELETE FROM journal_head; DELETE FROM journal_line WHERE number > 4');
    const lines = read.all() as { number: number; bytes: Buffer }[];
    let bytesAltered = 0;
    for (const { number, bytes } of lines) {
      for (let at = 0; at < bytes.length; at += 1) {
        const changed = Buffer.from(bytes);
        changed[at] = (bytes[at] as number) ^ (1 << (at % 8));
        write.run(changed, number);
        const found = await verified(altered);
        if (!found.startsWith(`${number}: `)) expect({ number, at, found }).toBe('named');
        bytesAltered += 1;
      }
      write.run(bytes, number);
    }
    database.close();
    expect(bytesAltered).toBeGreaterThan(3000);
  });

  const cases: readonly [string, string, RegExp][] = [
    ['an entry is removed', 'DELETE FROM journal_line WHERE number = 3', /^3: entry 3 is missing/],
    [
      'the first entry is removed',
      'DELETE FROM journal_line WHERE number = 1',
      /^1: entry 1 is missing/,
    ],
    [
      'an entry is removed and the rest moved up',
      'DELETE FROM journal_line WHERE number = 3; UPDATE journal_line SET number = -number; UPDATE journal_line SET number = CASE WHEN number < -3 THEN -number - 1 ELSE -number END',
      /^3: it says that it is entry 4/,
    ],
    [
      'two entries change places',
      'UPDATE journal_line SET number = -number; UPDATE journal_line SET number = CASE number WHEN -2 THEN 3 WHEN -3 THEN 2 ELSE -number END',
      /^2: it says that it is entry 3/,
    ],
    [
      'an entry is put in between',
      'UPDATE journal_line SET number = -number; UPDATE journal_line SET number = CASE WHEN number < -4 THEN 1 - number ELSE -number END; INSERT INTO journal_line SELECT plant, 5, hash, text FROM journal_line WHERE number = 4',
      /^5: it says that it is entry 4/,
    ],
    [
      'the journal is cut before its signed head',
      'DELETE FROM journal_line WHERE number > 6',
      /^7: a head of \d+ entries is signed/,
    ],
    [
      'the last entry is cut off',
      'DELETE FROM journal_line WHERE number = (SELECT max(number) FROM journal_line)',
      /the books know it, but the journal ends before it/,
    ],
    [
      'a hash is altered',
      "UPDATE journal_line SET hash = '00' || substr(hash, 3) WHERE number = 2",
      /^2: its text does not give its hash/,
    ],
    [
      'a signed head is altered',
      'UPDATE journal_head SET text = replace(text, \'"treeSize":\', \'"treeSize":1\')',
      /: the signed head of the tree/,
    ],
    [
      'a signed head is moved to another size',
      'UPDATE journal_head SET tree_size = 2',
      /^2: the signed head of the tree is that of another tree/,
    ],
    [
      'an entry is given to another plant',
      "UPDATE journal_line SET plant = 'other' WHERE number = 5",
      /^5: entry 5 is missing/,
    ],
  ];

  it.each(cases)('is found when %s', async (_what, statement, expected) => {
    expect(await findingsAfter((database) => database.exec(statement))).toMatch(expected);
  });
});
