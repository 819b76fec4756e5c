import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { checkSignature } from '../src/adapters/plant-keys.ts';
import { openSqliteSnapshot, SqliteStore } from '../src/adapters/sqlite-store.ts';
import type { Registry } from '../src/journal/plant.ts';
import { compareBooks, rebuildInto } from '../src/journal/rebuild.ts';
import { verifyJournal } from '../src/journal/verify.ts';
import type { ReadableStore, StoredLine } from '../src/ports/store.ts';
import { type Measurement, median, rateBesideBare, timed } from './measurement.ts';

/** A journal to be measured. */
export interface MeasuredJournal {
  readonly name: string;
  readonly plant: string;
  readonly path: string;
  readonly registry: Registry;
  /** A folder for what is made while measuring. */
  readonly folder: string;
}

/** Every line of a store, a page at a time. */
async function* pagesOf(store: ReadableStore): AsyncGenerator<readonly StoredLine[]> {
  for (let first = 1; ; first += 1000) {
    const lines = await store.reader.lines(first, first + 1000);
    if (lines.length === 0) return;
    yield lines;
  }
}

/** Reads every line and hashes its bytes, and does nothing else. */
async function readAndHash(store: ReadableStore): Promise<{ entries: number; bytes: number }> {
  let entries = 0;
  let bytes = 0;
  for await (const page of pagesOf(store)) {
    for (const line of page) {
      const hash = createHash('sha256').update(line.text).digest('hex');
      if (hash !== line.hash) throw new Error(`line ${line.number} does not give its hash`);
      entries += 1;
      bytes += Buffer.byteLength(line.text);
    }
  }
  return { entries, bytes };
}

/** Verification and rebuilding of a journal, beside reading and hashing the same bytes. */
export async function measureJournal(journal: MeasuredJournal): Promise<readonly Measurement[]> {
  const { name, plant, path, registry, folder } = journal;
  const rounds = 3;
  const bare: number[] = [];
  const verifying: number[] = [];
  const rebuilding: number[] = [];
  let entries = 0;
  let bytes = 0;
  for (let round = 0; round < rounds; round += 1) {
    const store = openSqliteSnapshot({ plant, path });
    const read = await timed(() => readAndHash(store));
    bare.push(read.seconds);
    ({ entries, bytes } = read.result);
    const verified = await timed(() => verifyJournal(store, { registry, checkSignature }));
    verifying.push(verified.seconds);
    const rebuilt = new SqliteStore({ plant, path: join(folder, `${name}-${round}.sqlite`) });
    const made = await timed(() => rebuildInto(store, rebuilt, registry));
    rebuilding.push(made.seconds);
    // What the measured work gave is checked outside the measured time.
    if (!verified.result.holds) throw new Error(`${name}: ${verified.result.why}`);
    if (made.result !== entries) throw new Error(`${name}: ${made.result} of ${entries} rebuilt`);
    const differing = (await compareBooks(store, rebuilt, registry)).find(({ equal }) => !equal);
    if (differing) throw new Error(`${name}: ${differing.book} differs`);
    await rebuilt.close();
    await store.close();
  }
  const about = `${name}, ${entries.toLocaleString('en')} entries of ${Math.round(bytes / entries)} bytes`;
  const rate = (what: string, seconds: readonly number[]): Measurement =>
    rateBesideBare({
      what: `${what}: ${about}`,
      unit: 'entries per s',
      count: entries,
      ourSeconds: median(seconds),
      bareSeconds: median(bare),
    });
  return [rate('verify', verifying), rate('rebuild', rebuilding)];
}
