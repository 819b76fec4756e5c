import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { makeDemonstration } from '../simulation/make-demonstration.ts';
import { registerStations } from '../src/journal/plant.ts';
import { plantFiles, plantSettings } from '../src/main/plant.ts';
import { stations } from '../src/main/stations.ts';
import { measureAppends } from './appends.ts';
import { openBenchPlant, record, registry } from './bench-plant.ts';
import { measureFirstLoad } from './first-load.ts';
import { measureFullShift } from './full-shift.ts';
import { measureJournal } from './journal-rates.ts';
import { type Measurement, tableText } from './measurement.ts';
import { measureServerStart } from './server-start.ts';
import { measureYears } from './years.ts';

/*
 * Measures the plant beside the same work done bare in the same run. Rates depend on the machine
 * and on what else runs there; the ratios are what to compare.
 */

const folder = mkdtempSync(join(tmpdir(), 'cupel-bench-'));
const found: Measurement[] = [];

const say = (what: string): void => {
  process.stderr.write(`${what} …\n`);
};

/** A long journal of short entries. */
async function measureLongJournal(): Promise<readonly Measurement[]> {
  const { store, path, recorder } = await openBenchPlant(folder, 'long');
  await record(recorder, { first: 1, commands: 20_000, clients: 64 });
  await store.close();
  return measureJournal({ name: 'moves', plant: 'bench', path, registry, folder });
}

/** The demonstration plant, whose entries hold readings and calculated figures. */
async function measureDemonstration(): Promise<readonly Measurement[]> {
  const data = join(folder, 'demonstration');
  await makeDemonstration({ folder: data, seed: 1, lastDay: '2026-11-24' });
  const { plant } = plantSettings(data);
  const rates = await measureJournal({
    name: 'demonstration',
    plant,
    path: join(data, plantFiles.store),
    registry: registerStations(stations),
    folder,
  });
  say('server start');
  return [...rates, await measureServerStart(data)];
}

try {
  const firstLoad = measureFirstLoad();
  for (const [clients, commands] of [
    [1, 1000],
    [8, 4000],
    [64, 10_000],
  ] as const) {
    say(`durable appends, ${clients} at once`);
    found.push(...(await measureAppends(clients, { commands, rounds: 3 })));
  }
  say('verify and rebuild, long journal');
  found.push(...(await measureLongJournal()));
  say('verify and rebuild, demonstration plant');
  found.push(...(await measureDemonstration()));
  say('a full shift: close and search');
  found.push(...(await measureFullShift(folder)));
  say('what the screens ask of five years of results');
  found.push(...(await measureYears(folder)));
  found.push(firstLoad);
  console.log(`\n${tableText(found)}`);
} finally {
  rmSync(folder, { recursive: true });
}
