import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type CommitLog, insertBare, noting } from './bare-inserts.ts';
import { openBenchPlant, record, registry } from './bench-plant.ts';
import { type Measurement, median, rateBesideBare, timed } from './measurement.ts';

/** Seconds of one round, and how many bytes and commits it took. */
interface Round {
  readonly whole: number;
  readonly bareLines: number;
  readonly bareLinesAndBooks: number;
  readonly commits: number;
  readonly bytes: number;
}

/** One round: the whole stack, then what it wrote bare in the same commits, each in a new file. */
async function round(folder: string, clients: number, commands: number): Promise<Round> {
  const { store, recorder } = await openBenchPlant(folder, 'whole');
  const whole = await timed(() => record(recorder, { first: 1, commands, clients }));
  const lines = await store.reader.lines(1, commands + 1);
  await store.close();
  if (lines.length !== commands) throw new Error(`${lines.length} of ${commands} are recorded`);
  const commits: CommitLog[] = [];
  const noted = await openBenchPlant(folder, 'noted', (plain) => noting(plain, commits));
  await record(noted.recorder, { first: 1, commands, clients });
  await noted.store.close();
  const bare = (name: string, books: boolean): number =>
    insertBare(join(folder, `${name}.sqlite`), commits, { books, tables: registry.books });
  return {
    whole: whole.seconds,
    bareLines: bare('lines', false),
    bareLinesAndBooks: bare('books', true),
    commits: commits.length,
    bytes: lines.reduce((sum, line) => sum + Buffer.byteLength(line.text), 0),
  };
}

/**
 * Durable appends through rule, hash, journal and books: beside bare inserts of the same lines, and
 * beside bare inserts of the same lines and records of books.
 */
export async function measureAppends(
  clients: number,
  options: { commands: number; rounds: number },
): Promise<readonly Measurement[]> {
  const { commands, rounds } = options;
  const found: Round[] = [];
  for (let turn = 0; turn < rounds; turn += 1) {
    const folder = mkdtempSync(join(tmpdir(), 'cupel-bench-'));
    found.push(await round(folder, clients, commands));
    rmSync(folder, { recursive: true });
  }
  const middle = (field: keyof Round): number => median(found.map((one) => one[field]));
  const perEntry = Math.round(middle('bytes') / commands);
  const perCommit = (commands / middle('commits')).toFixed(1);
  const people = clients === 1 ? '1 client' : `${clients} clients`;
  const beside = (what: string, field: keyof Round): Measurement =>
    rateBesideBare({
      what,
      unit: 'per s',
      count: commands,
      ourSeconds: middle('whole'),
      bareSeconds: middle(field),
    });
  return [
    beside(`durable appends, ${people} (${perEntry} bytes, ${perCommit} a commit)`, 'bareLines'),
    beside(`  beside bare inserts of the lines and the books`, 'bareLinesAndBooks'),
  ];
}
