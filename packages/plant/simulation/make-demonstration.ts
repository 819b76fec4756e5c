import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { HashCost } from '../src/adapters/password-hash.ts';
import { sha256Hex } from '../src/journal/entry.ts';
import { booksOf, makePlantFolder, openPlant } from '../src/main/plant.ts';
import { type DemonstrationNote, demonstrationFile } from '../src/main/serve.ts';
import { people, plantId, plantTimeZone } from './demonstration/cast.ts';
import {
  demonstrate,
  demonstrationDays,
  demonstrationStart,
} from './demonstration/demonstration.ts';
import { dayAfter } from './demonstration/founding.ts';
import { VirtualClock } from './demonstration/hand.ts';

/** How a demonstration plant is made. */
export interface MakeDemonstrationOptions {
  readonly folder: string;
  readonly seed: number;
  /** The last day that it tells, as `2026-11-24`; its last shift stays open on that day. */
  readonly lastDay: string;
  /** Cost of the password hashes; the strong one when left out. */
  readonly hashCost?: HashCost;
  readonly onShift?: (shift: string) => void;
}

/** The password of a person of the demonstration. It exists only there. */
export function demonstrationPassword(person: string): string {
  return `${person}-at-the-weir`;
}

/**
 * Makes a plant in an empty folder and works two weeks in it through its real commands. The same
 * seed and last day give the same journal, to the hash of its last entry.
 */
export async function makeDemonstration(
  options: MakeDemonstrationOptions,
): Promise<{ entries: number; headHash: string; note: DemonstrationNote }> {
  const { folder, seed, lastDay, hashCost } = options;
  const firstDay = dayAfter(lastDay, 1 - demonstrationDays);
  const keySeed = sha256Hex(`demonstration key ${seed}`);
  makePlantFolder(folder, { plant: plantId, timeZone: plantTimeZone }, { keySeed });
  const clock = new VirtualClock(demonstrationStart(firstDay));
  const plant = await openPlant(folder, hashCost ? { clock, hashCost } : { clock });
  try {
    await demonstrate({
      recorder: plant.recorder,
      books: booksOf(plant),
      attachments: plant.attachments,
      clock,
      seed,
      firstDay,
      ...(options.onShift ? { onShift: options.onShift } : {}),
    });
    const signIns = people.map(({ person, name, roles }) => ({
      person,
      name,
      role: roles.join(', '),
      password: demonstrationPassword(person),
    }));
    for (const { person, password } of signIns) await plant.accounts.setPassword(person, password);
    const note = { seed, lastDay, signIns };
    writeFileSync(join(folder, demonstrationFile), `${JSON.stringify(note, null, 2)}\n`);
    const last = await plant.store.reader.lastLine();
    return { entries: last?.number ?? 0, headHash: last?.hash ?? '', note };
  } finally {
    await plant.close();
  }
}
