import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { people } from '../simulation/demonstration/cast.ts';
import { found } from '../simulation/demonstration/founding.ts';
import { Hand, type VirtualClock } from '../simulation/demonstration/hand.ts';
import { demonstrationPassword } from '../simulation/make-demonstration.ts';
import { makePlantFolder, openPlant } from '../src/main/plant.ts';

/** A cost that only a test may choose: the passwords of this plant protect nothing. */
export const hashCost = { memoryKibibytes: 64, passes: 1 };

/** The clock of the machine in the place of a clock that is moved on: the work takes its real time. */
const machineClock = {
  now: () => Date.now(),
  pass: () => {},
  reach: () => {},
} as unknown as VirtualClock;

/** Founds a plant in a new folder, fills its registers through the real commands, and leaves it closed. */
export async function foundedFolder(standards: readonly object[] = []): Promise<string> {
  const folder = join(mkdtempSync(join(tmpdir(), 'cupel-browser-')), 'plant');
  makePlantFolder(folder, { plant: 'browser-plant', timeZone: 'Europe/Vienna' });
  const plant = await openPlant(folder, { hashCost });
  const hand = new Hand(plant.recorder, machineClock);
  await found(hand, new Date().toISOString().slice(0, 10));
  for (const input of standards) {
    await hand.do({ by: 'orla', command: 'register-piece-standard', input });
  }
  for (const { person } of people) {
    await plant.accounts.setPassword(person, demonstrationPassword(person));
  }
  await plant.close();
  return folder;
}
