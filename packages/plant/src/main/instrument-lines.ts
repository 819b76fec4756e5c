import { join } from 'node:path';
import { OpenInstrumentLines } from '../adapters/instrument-lines/instrument-lines.ts';
import { connectedInstruments } from '../stations/registers/index.ts';
import { booksOf, type OpenPlant, plantFiles } from './plant.ts';

/** Kinds of entries after which other instruments stand on lines, or the same ones otherwise. */
const changingKinds = ['InstrumentConnected', 'InstrumentDisconnected', 'InstrumentRegistered'];

/** Opens the lines of the instruments that the register connects, and follows the register. */
export async function openInstrumentLines(
  plant: OpenPlant,
): Promise<{ readonly lines: OpenInstrumentLines; close(): void }> {
  const lines = new OpenInstrumentLines({
    clock: plant.clock,
    folder: join(plant.folder, plantFiles.receivedLines),
  });
  const books = booksOf(plant);
  const follow = async () => lines.set(await connectedInstruments(books));
  await follow();
  const stop = plant.recorder.onRecorded((entries) => {
    if (entries.some(({ kind }) => changingKinds.includes(kind))) void follow();
  });
  return {
    lines,
    close: () => {
      stop();
      lines.close();
    },
  };
}
