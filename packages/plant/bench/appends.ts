import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { StoredLine } from '../src/ports/store.ts';
import { openBenchPlant, record } from './bench-plant.ts';
import { type Measurement, median, rateBesideBare, timed } from './measurement.ts';

/** Inserts lines and nothing else, in the commits given, as durably as the plant does. */
function insertBare(
  path: string,
  lines: readonly StoredLine[],
  commits: readonly number[],
): Promise<{ seconds: number }> {
  const database = new Database(path);
  database.pragma('journal_mode = WAL');
  database.pragma('synchronous = FULL');
  database.exec(
    'CREATE TABLE line (plant TEXT, number INTEGER, hash TEXT, text TEXT, PRIMARY KEY (plant, number)) STRICT',
  );
  const insert = database.prepare('INSERT INTO line VALUES (?, ?, ?, ?)');
  const commit = database.transaction((part: readonly StoredLine[]) => {
    for (const { number, hash, text } of part) insert.run('bench', number, hash, text);
  });
  const run = timed(async () => {
    let at = 0;
    for (const size of commits) {
      commit(lines.slice(at, at + size));
      at += size;
    }
  });
  return run.finally(() => database.close());
}

/** One round: the whole stack, then the same lines bare in the same commits, each in a new file. */
async function round(folder: string, clients: number, commands: number) {
  const { store, recorder } = await openBenchPlant(folder, 'whole');
  const commits: number[] = [];
  recorder.onRecorded((entries) => commits.push(entries.length));
  const whole = await timed(() => record(recorder, { first: 1, commands, clients }));
  const lines = await store.reader.lines(1, commands + 1);
  await store.close();
  if (lines.length !== commands) throw new Error(`${lines.length} of ${commands} are recorded`);
  const bare = await insertBare(join(folder, 'bare.sqlite'), lines, commits);
  const bytes = lines.reduce((sum, line) => sum + Buffer.byteLength(line.text), 0);
  return { whole: whole.seconds, bare: bare.seconds, commits: commits.length, bytes };
}

/** Durable appends through rule, hash, journal and books, beside bare inserts of the same bytes. */
export async function measureAppends(
  clients: number,
  options: { commands: number; rounds: number },
): Promise<Measurement> {
  const { commands, rounds } = options;
  const found: Awaited<ReturnType<typeof round>>[] = [];
  for (let turn = 0; turn < rounds; turn += 1) {
    const folder = mkdtempSync(join(tmpdir(), 'cupel-bench-'));
    found.push(await round(folder, clients, commands));
    rmSync(folder, { recursive: true });
  }
  const perEntry = Math.round(median(found.map(({ bytes }) => bytes)) / commands);
  const perCommit = (commands / median(found.map(({ commits }) => commits))).toFixed(1);
  const people = clients === 1 ? '1 client' : `${clients} clients`;
  return rateBesideBare({
    what: `durable appends, ${people} (${perEntry} bytes, ${perCommit} a commit)`,
    unit: 'per s',
    count: commands,
    ourSeconds: median(found.map(({ whole }) => whole)),
    bareSeconds: median(found.map(({ bare }) => bare)),
  });
}
