import { execFileSync } from 'node:child_process';
import { mkdirSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { StoreFull } from '../../src/ports/store.ts';
import { recordedKeys, startTrialChild } from './trial-child.ts';
import { expectWhole, expectWholeFile, newFolder } from './trial-plant.ts';
import { commandOf, openTrialPlant, stream } from './trial-stream.ts';

const folder = newFolder('full');
const mounted: string[] = [];
afterAll(() => {
  for (const place of mounted) execFileSync('umount', [place]);
  rmSync(folder, { recursive: true });
});

/** A small disk of its own, when this process may mount one. */
function smallDisk(name: string, megabytes: number): string | undefined {
  const place = join(folder, name);
  mkdirSync(place);
  try {
    const options = ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', place];
    execFileSync('mount', options, { stdio: 'pipe' });
    mounted.push(place);
    return place;
  } catch {
    return undefined;
  }
}

/** Fills a disk to its last page. */
function fill(place: string): void {
  const { bavail, bsize } = statfsSync(place);
  writeFileSync(join(place, 'filling'), Buffer.alloc(bavail * bsize));
}

/** Records until the disk is full; answers what was acknowledged and what was refused. */
async function recordUntilFull(place: string, atOnce: number) {
  const plant = await openTrialPlant(join(place, 'plant.sqlite'));
  const recorded: string[] = [];
  const refused: { key: string; refusal: string | undefined }[] = [];
  await stream(plant.recorder, { name: 'fill', commands: 100_000, atOnce }, (key, outcome) => {
    if (outcome.outcome === 'recorded') recorded.push(key);
    else refused.push({ key, refusal: outcome.refusals[0]?.refusal });
  });
  return { ...plant, recorded, refused };
}

const disk = smallDisk('try', 1);

describe.runIf(disk)('a full disk', () => {
  it.each([1, 16])(
    'refuses with DiskFull, records nothing by half, and goes on when there is room: %d at once',
    async (atOnce) => {
      const place = smallDisk(`full-${atOnce}`, 6) as string;
      writeFileSync(join(place, 'room'), Buffer.alloc(2_000_000));
      const { store, recorder, recorded, refused } = await recordUntilFull(place, atOnce);
      expect(recorded.length).toBeGreaterThan(20);
      expect(refused.length).toBeGreaterThan(0);
      for (const { refusal } of refused) expect(refusal).toBe('DiskFull');
      await expectWhole(store, recorded);
      rmSync(join(place, 'room'));
      for (const { key } of refused) {
        const index = Number(key.split('-').at(-1));
        const again = await recorder.record(commandOf('fill', index));
        expect(again).toMatchObject({ outcome: 'recorded', repeated: false });
        recorded.push(key);
      }
      await expectWhole(store, recorded);
      await store.close();
    },
  );

  it('keeps what was recorded when the process ends while the disk is full', async () => {
    const place = smallDisk('ends', 4) as string;
    const path = join(place, 'plant.sqlite');
    const child = startTrialChild({ path, stream: 'fill', commands: 100_000, atOnce: 4 });
    await child.ended;
    const keys = recordedKeys(child);
    expect(keys.length).toBeGreaterThan(20);
    expect(child.lines.some((line) => line.endsWith('DiskFull'))).toBe(true);
    const roomy = join(folder, 'moved.sqlite');
    execFileSync('sh', [
      '-c',
      `for part in "" -wal; do test ! -e "$0$part" || cp "$0$part" "$1$part"; done`,
      path,
      roomy,
    ]);
    await expectWholeFile(roomy, keys);
  });

  it('cannot be opened anew without a byte of room, says so, and opens when there is room', async () => {
    const place = smallDisk('unopened', 4) as string;
    const path = join(place, 'plant.sqlite');
    const plant = await openTrialPlant(path);
    const first = await plant.recorder.record(commandOf('one', 1));
    expect(first.outcome).toBe('recorded');
    await plant.store.close();
    fill(place);
    await expect(openTrialPlant(path)).rejects.toThrow(StoreFull);
    rmSync(join(place, 'filling'));
    const again = await openTrialPlant(path);
    await expectWhole(again.store, ['one-1']);
    await again.store.close();
  });
});

describe('a limit on the size of a file, as a quota sets one', () => {
  it('refuses with DiskFull, records nothing by half, and goes on without the limit', async () => {
    const path = join(folder, 'limited.sqlite');
    const before = ['prlimit', '--fsize=1500000', '--'];
    const child = startTrialChild({ path, stream: 'fill', commands: 100_000, atOnce: 8, before });
    await child.ended;
    const keys = recordedKeys(child);
    expect(keys.length).toBeGreaterThan(20);
    const refused = child.lines.filter((line) => line.startsWith('refused'));
    expect(refused.length).toBeGreaterThan(0);
    for (const line of refused) expect(line).toMatch(/ DiskFull$/);
    await expectWholeFile(path, keys);
    const { store, recorder } = await openTrialPlant(path);
    for (const line of refused) {
      const key = line.split(' ')[1] ?? '';
      const index = Number(key.split('-').at(-1));
      const again = await recorder.record(commandOf('fill', index));
      expect(again).toMatchObject({ outcome: 'recorded', repeated: false });
      keys.push(key);
    }
    await expectWhole(store, keys);
    await store.close();
  });
});
