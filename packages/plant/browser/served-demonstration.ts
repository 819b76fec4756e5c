import { mkdtempSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { makeDemonstration } from '../simulation/make-demonstration.ts';
import { type OpenPlant, openPlant } from '../src/main/plant.ts';
import { serverOf } from '../src/main/serve.ts';

/** A cost that only a test may choose: the passwords of this plant protect nothing. */
const hashCost = { memoryKibibytes: 64, passes: 1 };

/** The demonstration plant, served: its last shift was yesterday's and one piece is missing in it. */
export async function serveDemonstration(): Promise<{
  readonly address: string;
  readonly plant: OpenPlant;
  close(): Promise<void>;
}> {
  const folder = join(mkdtempSync(join(tmpdir(), 'cupel-browser-')), 'plant');
  const lastDay = new Date(Date.now() - 24 * 3_600_000).toISOString().slice(0, 10);
  await makeDemonstration({ folder, seed: 1, lastDay, hashCost });
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
