import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { coreQuestions } from '../journal/core-questions.ts';
import { makeServer } from '../server/server.ts';
import { measurementOf, personOf, plantOf } from '../stations/registers/index.ts';
import { openInstrumentLines } from './instrument-lines.ts';
import { booksOf, type OpenPlant } from './plant.ts';

/** Folder into which the workbench is built. */
const workbenchFolder = join(import.meta.dirname, '../../dist/workbench');

/** The server of an open plant; it does not listen yet. */
export async function serverOf(
  plant: OpenPlant,
  options: { readonly workbenchFolder?: string } = {},
): Promise<FastifyInstance> {
  const books = booksOf(plant);
  const { registry, store, recorder, accounts, attachments, sheets, signer, clock } = plant;
  const { lines, close } = await openInstrumentLines(plant);
  const server = await makeServer({
    plant: plant.settings.plant,
    plantTitle: async () => (await plantOf(books))?.title ?? plant.settings.plant,
    reader: store.reader,
    books,
    registry,
    recorder,
    accounts,
    attachments,
    sheets,
    signer,
    clock,
    instrumentLines: lines,
    measures: (instrument) => measurementOf(books, instrument),
    person: personOf,
    coreQuestions: coreQuestions({
      stations: registry.stations,
      reader: store.reader,
      kind: registry.kind,
    }),
    workbenchFolder: options.workbenchFolder ?? workbenchFolder,
  });
  server.addHook('onClose', async () => close());
  return server;
}

/** What a demonstration says of itself in its folder. */
export interface DemonstrationNote {
  readonly seed: number;
  readonly lastDay: string;
  readonly signIns: readonly {
    readonly person: string;
    readonly name: string;
    readonly role: string;
    readonly password: string;
  }[];
}

/** Name of the file by which a demonstration is known. */
export const demonstrationFile = 'demonstration.json';

/** The note of a demonstration; nothing for a real plant. */
export function demonstrationNote(folder: string): DemonstrationNote | undefined {
  const path = join(folder, demonstrationFile);
  if (!existsSync(path)) return undefined;
  return JSON.parse(readFileSync(path, 'utf8')) as DemonstrationNote;
}
