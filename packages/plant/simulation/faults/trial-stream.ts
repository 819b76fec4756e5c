import { SqliteStore } from '../../src/adapters/sqlite-store.ts';
import { registerStations } from '../../src/journal/plant.ts';
import { type Outcome, Recorder, type Request } from '../../src/journal/recorder.ts';
import { threeShifts } from '../../src/journal/shift.ts';
import { signerFromSeed } from '../../src/journal/trial.ts';
import { trialMove, trialStation } from '../../src/journal/trial-station.ts';
import type { Store } from '../../src/ports/store.ts';

/** The trial plant's stations and key, the same in every process that opens it. */
export const registry = registerStations([trialStation]);
export const signer = signerFromSeed('33'.repeat(32));

/** A plant on a SQLite file, with its recorder. */
export interface TrialPlant {
  readonly store: Store;
  readonly recorder: Recorder;
}

/** Opens the trial plant on a file; made when it is missing. */
export async function openTrialPlant(path: string): Promise<TrialPlant> {
  const store = new SqliteStore({ plant: 'trial', path });
  await store.prepare(registry.books);
  const recorder = new Recorder({
    store,
    registry,
    signer,
    clock: { now: () => Date.now() },
    calendar: { timeZone: 'Europe/Vienna', shifts: threeShifts },
    person: async (_books, id) => ({ person: id, name: id, roles: ['custodian'], active: true }),
  });
  return { store, recorder };
}

/** How many entries the command of that key records: one to four, by its last number. */
export function entriesOfCommand(key: string): number {
  const index = Number(key.split('-').at(-1));
  return index % 10 === 0 ? 1 : 1 + (index % 4);
}

/**
 * The command of that place in a stream. It is never refused by a rule; every tenth closes a count
 * and signs a head; the words reach over several pages of the file.
 */
export function commandOf(stream: string, index: number): Request {
  const idempotencyKey = `${stream}-${index}`;
  const people = { author: 'ada', witness: 'bo', signed: true };
  if (index % 10 === 0) {
    const input = { words: `count ${index}` };
    return { command: 'trial-close-count', input, idempotencyKey, ...people };
  }
  const moves = Array.from({ length: entriesOfCommand(idempotencyKey) }, (_, line) =>
    trialMove({
      drum: `D-${(index * 7 + line) % 50}`,
      melt: `M-${index % 5}`,
      words: 'x'.repeat((index * 977) % 3000),
    }),
  );
  return { command: 'trial-move-pieces', input: { moves }, idempotencyKey, ...people };
}

/** Sends a stream of commands, so many at once, until one is refused or the last is done. */
export async function stream(
  recorder: Recorder,
  options: { name: string; commands: number; atOnce: number },
  told: (key: string, outcome: Outcome) => void,
): Promise<void> {
  let next = 1;
  let refused = false;
  const client = async (): Promise<void> => {
    while (!refused && next <= options.commands) {
      const request = commandOf(options.name, next);
      next += 1;
      const outcome = await recorder.record(request);
      if (outcome.outcome === 'refused') refused = true;
      told(request.idempotencyKey, outcome);
    }
  };
  await Promise.all(Array.from({ length: options.atOnce }, client));
}
