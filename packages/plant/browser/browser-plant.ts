import { rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { type OpenPlant, openPlant } from '../src/main/plant.ts';
import { serverOf } from '../src/main/serve.ts';
import { foundedFolder, hashCost } from './founded-folder.ts';

/** A served plant with filled registers and no metal yet. */
export interface BrowserPlant {
  readonly address: string;
  readonly folder: string;
  readonly plant: OpenPlant;
  close(): Promise<void>;
}

/** Founds a plant, fills its registers through the real commands, and serves it. */
export async function servePlant(): Promise<BrowserPlant> {
  const folder = await foundedFolder();
  const plant = await openPlant(folder, { hashCost });
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
