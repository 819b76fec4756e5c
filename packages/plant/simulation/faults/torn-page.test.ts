import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectWhole, newFolder } from './trial-plant.ts';
import { openTrialPlant, stream } from './trial-stream.ts';

const folder = newFolder('torn');
afterAll(() => rmSync(folder, { recursive: true }));

const base = join(folder, 'base.sqlite');
/** The database and its write-ahead log as they lie on disk while the plant is open. */
let files: { database: Buffer; log: Buffer };
/** How many entries were durable at each size of the log. */
const durable: { logBytes: number; entries: number }[] = [];

beforeAll(async () => {
  const { store, recorder } = await openTrialPlant(base);
  for (let round = 1; round <= 5; round += 1) {
    await stream(recorder, { name: `round-${round}`, commands: 3, atOnce: 1 }, () => {});
    const entries = (await store.reader.lastLine())?.number ?? 0;
    durable.push({ logBytes: readFileSync(`${base}-wal`).length, entries });
  }
  files = { database: readFileSync(base), log: readFileSync(`${base}-wal`) };
  await store.close();
});

/** Opens a plant whose log was left as given, checks that it is whole, and counts its entries. */
async function entriesAfter(log: Buffer): Promise<number> {
  const path = join(folder, 'torn.sqlite');
  for (const end of ['', '-wal', '-shm', '.writer']) rmSync(`${path}${end}`, { force: true });
  writeFileSync(path, files.database);
  writeFileSync(`${path}-wal`, log);
  const { store, recorder } = await openTrialPlant(path);
  const entries = await expectWhole(store, []);
  // It must also go on from where it stands.
  await stream(recorder, { name: 'after', commands: 2, atOnce: 1 }, (_key, outcome) => {
    expect(outcome.outcome).toBe('recorded');
  });
  await store.close();
  return entries;
}

const all = (): number => durable.at(-1)?.entries ?? 0;

/** How many entries at least survive when the log is good up to that byte. */
const survivorsAt = (byte: number): number =>
  Math.max(0, ...durable.filter(({ logBytes }) => logBytes <= byte).map(({ entries }) => entries));

describe('a write-ahead log torn at its end', () => {
  it('keeps everything when nothing is torn', async () => {
    expect(all()).toBe(5 * 9);
    // No checkpoint has begun the log anew: what stands at its end was written last.
    const sizes = durable.map(({ logBytes }) => logBytes);
    expect(sizes).toEqual([...new Set(sizes)].sort((a, b) => a - b));
    expect(files.log.length).toBe(sizes.at(-1));
    expect(await entriesAfter(files.log)).toBe(all());
  });

  it('opens whole, short at most of the commits behind the cut, wherever it is cut', async () => {
    const random = xoroshiro128plus(4096);
    for (let time = 0; time < 40; time += 1) {
      const length = uniformInt(random, 0, files.log.length - 1);
      const entries = await entriesAfter(files.log.subarray(0, length));
      expect(entries).toBeGreaterThanOrEqual(survivorsAt(length));
      expect(entries).toBeLessThan(all());
    }
  });

  it('opens whole when its last page holds other bytes than were written', async () => {
    const random = xoroshiro128plus(8192);
    for (let time = 0; time < 20; time += 1) {
      const from = files.log.length - uniformInt(random, 1, 4096);
      const log = Buffer.from(files.log);
      for (let at = from; at < log.length; at += 1) log[at] = uniformInt(random, 0, 255);
      const entries = await entriesAfter(log);
      expect(entries).toBeGreaterThanOrEqual(survivorsAt(from));
      expect(entries).toBeLessThanOrEqual(all());
    }
  });

  it('opens whole when a bit in its last quarter is turned', async () => {
    const random = xoroshiro128plus(1);
    for (let time = 0; time < 20; time += 1) {
      const at = uniformInt(random, Math.floor(files.log.length * 0.75), files.log.length - 1);
      const log = Buffer.from(files.log);
      log[at] = (log[at] as number) ^ (1 << uniformInt(random, 0, 7));
      const entries = await entriesAfter(log);
      expect(entries).toBeGreaterThanOrEqual(survivorsAt(at));
    }
  });
});
