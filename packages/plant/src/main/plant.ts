import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { SqliteAccounts } from '../adapters/accounts.ts';
import { FolderAttachments } from '../adapters/attachments.ts';
import { SqliteKeptSheets } from '../adapters/kept-sheets.ts';
import type { HashCost } from '../adapters/password-hash.ts';
import { plantKey } from '../adapters/plant-keys.ts';
import { SqliteStore } from '../adapters/sqlite-store.ts';
import { systemClock } from '../adapters/system-clock.ts';
import { bookReader } from '../journal/books.ts';
import { type Registry, registerStations } from '../journal/plant.ts';
import { rebuildBooks } from '../journal/rebuild.ts';
import { Recorder } from '../journal/recorder.ts';
import { threeShifts } from '../journal/shift.ts';
import type { Clock } from '../ports/clock.ts';
import type { Signer } from '../ports/signer.ts';
import { BooksOutdated } from '../ports/store.ts';
import { CalculationThreads } from '../server/calculation-threads.ts';
import { personForRecorder } from './founder.ts';
import { stations } from './stations.ts';

/** What the folder of a plant holds, by the names of its files. */
export const plantFiles = {
  settings: 'plant.json',
  store: 'plant.sqlite',
  accounts: 'accounts.sqlite',
  key: 'plant-key.pem',
  attachments: 'attachments',
  /** Half-filled sheets of people. */
  sheets: 'sheets.sqlite',
  /** Lines of instruments that became readings: a folder with a file for each day. */
  receivedLines: 'received-lines',
} as const;

const settingsSchema = z.strictObject({
  /** Id of the plant: the first part of every key and a field of every entry. */
  plant: z.string().regex(/^[a-z][a-z0-9-]{1,39}$/),
  timeZone: z.string().min(1),
});

export type PlantSettings = Readonly<z.infer<typeof settingsSchema>>;

/** A plant that is open: its record, its people's accounts and its files. */
export interface OpenPlant {
  readonly folder: string;
  readonly settings: PlantSettings;
  readonly store: SqliteStore;
  readonly registry: Registry;
  readonly recorder: Recorder;
  readonly accounts: SqliteAccounts;
  readonly attachments: FolderAttachments;
  readonly sheets: SqliteKeptSheets;
  readonly signer: Signer;
  readonly clock: Clock;
  close(): Promise<void>;
}

/** How a plant is opened. */
export interface OpenOptions {
  readonly clock?: Clock;
  /** Cost of password hashes; the strong one when left out. */
  readonly hashCost?: HashCost;
}

/** Whether the folder holds a plant. */
function isPlant(folder: string): boolean {
  return existsSync(join(folder, plantFiles.settings));
}

/** Makes the folder of a plant: its settings and its key. A seed makes the key of a demonstration. */
export function makePlantFolder(
  folder: string,
  settings: PlantSettings,
  options: { readonly keySeed?: string } = {},
): void {
  if (isPlant(folder)) throw new RangeError(`${folder} holds a plant already`);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  plantKey(
    join(folder, plantFiles.key),
    options.keySeed === undefined ? {} : { seed: options.keySeed },
  );
  const text = `${JSON.stringify(settingsSchema.parse(settings), null, 2)}\n`;
  writeFileSync(join(folder, plantFiles.settings), text, { mode: 0o600 });
}

/** The settings of the plant in a folder. */
export function plantSettings(folder: string): PlantSettings {
  if (!isPlant(folder)) {
    throw new RangeError(`${folder} holds no plant; make one with: cupel init --data ${folder}`);
  }
  const text = readFileSync(join(folder, plantFiles.settings), 'utf8');
  return settingsSchema.parse(JSON.parse(text));
}

/** Makes the books that are missing; books of an older shape are made anew from the journal. */
async function prepareBooks(store: SqliteStore, registry: Registry): Promise<void> {
  try {
    await store.prepare(registry.books);
  } catch (error) {
    if (!(error instanceof BooksOutdated)) throw error;
    await rebuildBooks(store, registry);
  }
}

/** Opens the plant in a folder for work; only one process can. */
export async function openPlant(folder: string, options: OpenOptions = {}): Promise<OpenPlant> {
  const settings = plantSettings(folder);
  const clock = options.clock ?? systemClock;
  const registry = registerStations(stations);
  const store = new SqliteStore({
    plant: settings.plant,
    path: join(folder, plantFiles.store),
  });
  await prepareBooks(store, registry);
  const signer = plantKey(join(folder, plantFiles.key));
  const path = join(folder, plantFiles.accounts);
  const { hashCost } = options;
  const accounts = new SqliteAccounts(hashCost ? { path, clock, cost: hashCost } : { path, clock });
  const sheets = new SqliteKeptSheets({ path: join(folder, plantFiles.sheets), clock });
  const threads = new CalculationThreads();
  const never = new AbortController().signal;
  const recorder = new Recorder({
    store,
    registry,
    clock,
    signer,
    calendar: { timeZone: settings.timeZone, shifts: threeShifts },
    person: personForRecorder,
    calculate: (id, input) => threads.output(id, input, never),
  });
  return {
    folder,
    settings,
    store,
    registry,
    recorder,
    accounts,
    attachments: new FolderAttachments(join(folder, plantFiles.attachments)),
    sheets,
    signer,
    clock,
    close: async () => {
      await recorder.idle();
      await threads.close();
      accounts.close();
      sheets.close();
      await store.close();
    },
  };
}

/** Books of an open plant, as committed. */
export function booksOf(plant: OpenPlant) {
  return bookReader(plant.store.reader);
}
