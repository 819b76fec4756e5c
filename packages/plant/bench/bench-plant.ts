import { generateKeyPairSync, sign } from 'node:crypto';
import { join } from 'node:path';
import { SqliteStore } from '../src/adapters/sqlite-store.ts';
import { registerStations } from '../src/journal/plant.ts';
import { Recorder, type Request } from '../src/journal/recorder.ts';
import { threeShifts } from '../src/journal/shift.ts';
import { trialMove, trialStation } from '../src/journal/trial-station.ts';
import type { Signer } from '../src/ports/signer.ts';
import type { Store } from '../src/ports/store.ts';

/** The station whose commands are measured: each records one entry with one posting. */
export const registry = registerStations([trialStation]);

const { privateKey, publicKey } = generateKeyPairSync('ed25519');

const signer: Signer = {
  publicKey: String(publicKey.export({ format: 'jwk' }).x),
  sign: (bytes) => sign(null, bytes, privateKey).toString('base64url'),
};

/** A plant on a SQLite file in that folder, with its recorder. */
export async function openBenchPlant(
  folder: string,
  name: string,
  wrap: (store: Store) => Store = (store) => store,
): Promise<{ store: Store; path: string; recorder: Recorder }> {
  const path = join(folder, `${name}.sqlite`);
  const store = wrap(new SqliteStore({ plant: 'bench', path }));
  await store.prepare(registry.books);
  const recorder = new Recorder({
    store,
    registry,
    signer,
    clock: { now: () => Date.now() },
    calendar: { timeZone: 'Europe/Vienna', shifts: threeShifts },
    person: async (_books, id) => ({ person: id, name: id, roles: ['custodian'], active: true }),
  });
  return { store, path, recorder };
}

/** The command of that place in the stream: a drum of its own, words as long as a reading's record. */
export function benchRequest(index: number): Request {
  const move = trialMove({
    drum: `D-${index}`,
    melt: `M-${index % 40}`,
    words: 'gross 18.0412 kg, tare 1.2031 kg, balance B-7, calibrated 2026-11-02 '.repeat(2),
  });
  return {
    command: 'trial-move-pieces',
    input: { moves: [move] },
    author: 'ada',
    signed: false,
    idempotencyKey: `bench-${index}`,
  };
}

/** Records so many commands from so many clients, each sending its next when the last is durable. */
export async function record(
  recorder: Recorder,
  options: { first: number; commands: number; clients: number },
): Promise<void> {
  let next = options.first;
  const below = options.first + options.commands;
  const client = async (): Promise<void> => {
    while (next < below) {
      const index = next;
      next += 1;
      const outcome = await recorder.record(benchRequest(index));
      if (outcome.outcome !== 'recorded') throw new Error(`command ${index} was refused`);
    }
  };
  await Promise.all(Array.from({ length: options.clients }, client));
}
