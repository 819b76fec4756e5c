import { mkdtempSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { people } from '../simulation/demonstration/cast.ts';
import { found } from '../simulation/demonstration/founding.ts';
import { Hand, type VirtualClock } from '../simulation/demonstration/hand.ts';
import { demonstrationPassword } from '../simulation/make-demonstration.ts';
import { makePlantFolder, type OpenPlant, openPlant } from '../src/main/plant.ts';
import { serverOf } from '../src/main/serve.ts';

/** A cost that only a test may choose: the passwords of this plant protect nothing. */
const hashCost = { memoryKibibytes: 64, passes: 1 };

/** A served plant with filled registers and no metal yet. */
export interface BrowserPlant {
  readonly address: string;
  readonly folder: string;
  readonly plant: OpenPlant;
  close(): Promise<void>;
}

/** The clock of the machine in the place of a clock that is moved on: the work takes its real time. */
const machineClock = {
  now: () => Date.now(),
  pass: () => {},
  reach: () => {},
} as unknown as VirtualClock;

/** Founds a plant, fills its registers through the real commands, and serves it. */
export async function servePlant(): Promise<BrowserPlant> {
  const folder = join(mkdtempSync(join(tmpdir(), 'cupel-browser-')), 'plant');
  makePlantFolder(folder, { plant: 'browser-plant', timeZone: 'Europe/Vienna' });
  const plant = await openPlant(folder, { hashCost });
  const today = new Date().toISOString().slice(0, 10);
  await found(new Hand(plant.recorder, machineClock), today);
  for (const { person } of people) {
    await plant.accounts.setPassword(person, demonstrationPassword(person));
  }
  const server = await serverOf(plant);
  await server.listen({ host: '127.0.0.1', port: 0 });
  const { port } = server.server.address() as AddressInfo;
  return {
    address: `http://127.0.0.1:${port}`,
    folder,
    plant,
    close: async () => {
      await server.close();
      await plant.close();
      rmSync(folder, { recursive: true });
    },
  };
}
