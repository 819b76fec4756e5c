import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, inject } from 'vitest';
import { type OpenPlant, openPlant } from '../src/main/plant.ts';
import { serverOf } from '../src/main/serve.ts';
import { openBrowser } from './bench-hand.ts';
import { hashCost } from './founded-folder.ts';

interface ServedDemonstration {
  readonly address: string;
  readonly plant: OpenPlant;
  close(): Promise<void>;
}

/** A copy of the demonstration plant, served: one piece is missing in its last shift, yesterday's. */
async function serveDemonstration(): Promise<ServedDemonstration> {
  const folder = join(mkdtempSync(join(tmpdir(), 'cupel-browser-')), 'plant');
  cpSync(inject('demonstrationFolder'), folder, { recursive: true });
  const plant = await openPlant(folder, { hashCost });
  const server = await serverOf(plant);
  await server.listen({ host: '127.0.0.1', port: 0 });
  const { port } = server.server.address() as AddressInfo;
  return {
    plant,
    address: `http://127.0.0.1:${port}`,
    close: async () => {
      await server.close();
      await plant.close();
      rmSync(folder, { recursive: true });
    },
  };
}

/** The demonstration plant and a browser, for the tests of one file. */
export function demonstrationInBrowser(): {
  readonly address: string;
  readonly plant: OpenPlant;
  readonly browser: Browser;
} {
  const held = {} as { address: string; plant: OpenPlant; browser: Browser };
  let close: () => Promise<void>;
  beforeAll(async () => {
    const served = await serveDemonstration();
    const browser = await openBrowser();
    Object.assign(held, { address: served.address, plant: served.plant, browser });
    close = async () => {
      await browser.close();
      await served.close();
    };
  });
  afterAll(() => close());
  return held;
}
