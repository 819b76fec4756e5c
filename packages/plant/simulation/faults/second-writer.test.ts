import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { StoreHeld } from '../../src/ports/store.ts';
import { recordedKeys, startTrialChild } from './trial-child.ts';
import { expectWholeFile, newFolder } from './trial-plant.ts';
import { openTrialPlant } from './trial-stream.ts';

const folder = newFolder('writer');
afterAll(() => rmSync(folder, { recursive: true }));

describe('a second writer', () => {
  it('is refused while another process records, disturbs nothing, and may when that one is gone', async () => {
    const path = join(folder, 'plant.sqlite');
    const child = startTrialChild({ path, stream: 'first', commands: 1_000_000, atOnce: 4 });
    await child.said('recorded');
    for (let attempt = 0; attempt < 20; attempt += 1) {
      await expect(openTrialPlant(path)).rejects.toThrow(StoreHeld);
    }
    const before = recordedKeys(child).length;
    // Whoever reads and verifies beside the writer is no second writer.
    await expectWholeFile(path, recordedKeys(child));
    const beside = startTrialChild({ path, stream: 'second', commands: 1, atOnce: 1 });
    await beside.ended;
    expect(beside.lines).toEqual(['unopened StoreHeld']);
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(recordedKeys(child).length).toBeGreaterThan(before);
    child.process.kill('SIGKILL');
    await child.ended;
    const { store } = await openTrialPlant(path);
    await store.close();
    await expectWholeFile(path, recordedKeys(child));
  });
});
