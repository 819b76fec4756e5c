import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { afterAll, describe, expect, it } from 'vitest';
import { recordedKeys, startTrialChild } from './trial-child.ts';
import { expectWholeFile, newFolder } from './trial-plant.ts';
import { openTrialPlant } from './trial-stream.ts';

const folder = newFolder('kill');
afterAll(() => rmSync(folder, { recursive: true }));

const plants = 6;
const killsPerPlant = 10;

describe('a process killed while it records', () => {
  it(`loses nothing acknowledged and leaves nothing half done, ${plants * killsPerPlant} times`, async () => {
    // A process that ends by itself leaves what the engine compiled to those that are killed.
    const warm = join(folder, 'warm.sqlite');
    await startTrialChild({ path: warm, stream: 'warm', commands: 10, atOnce: 1 }).ended;
    const random = xoroshiro128plus(20261125);
    const killed = { beforeOpening: 0, beforeFirst: 0, later: 0, acknowledged: 0 };
    for (let plant = 0; plant < plants; plant += 1) {
      const path = join(folder, `plant-${plant}.sqlite`);
      const acknowledged: string[] = [];
      let entriesBefore = 0;
      for (let kill = 0; kill < killsPerPlant; kill += 1) {
        const atOnce = [1, 8, 64][kill % 3] as number;
        const stream = `run-${kill}`;
        const child = startTrialChild({ path, stream, commands: 1_000_000, atOnce });
        // Every fifth time the blow may fall while the plant is opened; else while it records.
        if (kill % 5 === 4) await wait(uniformInt(random, 50, 350));
        else await child.said('recorded').then(() => wait(uniformInt(random, 0, 60)));
        child.process.kill('SIGKILL');
        await child.ended;
        expect(child.process.signalCode).toBe('SIGKILL');
        const keys = recordedKeys(child);
        acknowledged.push(...keys);
        killed.acknowledged += keys.length;
        if (!child.lines.includes('opened')) killed.beforeOpening += 1;
        else if (keys.length === 0) killed.beforeFirst += 1;
        else killed.later += 1;
        // Opening as the plant's own process does recovers the file; then all of it is held to.
        const { store } = await openTrialPlant(path);
        await store.close();
        const entries = await expectWholeFile(path, acknowledged);
        expect(entries).toBeGreaterThanOrEqual(entriesBefore);
        entriesBefore = entries;
      }
    }
    // The blows must have fallen where they prove something.
    expect(killed.later).toBeGreaterThanOrEqual(40);
    expect(killed.acknowledged).toBeGreaterThan(100);
  });
});
