import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { heron, lantern, plantId } from '../simulation/demonstration/cast.ts';
import { localInstant } from '../simulation/demonstration/demonstration.ts';
import { dayAfter } from '../simulation/demonstration/founding.ts';
import { calibrate, foundGround, renew } from '../simulation/proving-ground/founding.ts';
import type { Ground } from '../simulation/proving-ground/ground.ts';
import { examineAll } from '../simulation/proving-ground/laboratory-work.ts';
import { sizeFor } from '../simulation/proving-ground/plant-size.ts';
import { firstDay, groundOf } from '../simulation/proving-ground/prove.ts';
import { receive } from '../simulation/proving-ground/receiving-work.ts';
import { endShift } from '../simulation/proving-ground/shift-end.ts';
import { SqliteStore } from '../src/adapters/sqlite-store.ts';
import { movements } from '../src/journal/core-books.ts';
import { type Measurement, tableText, timed } from './measurement.ts';
import { askAll, shownWaits } from './years-questions.ts';

const years = 5;
const daysBetweenConsignments = 3;
const daysBetweenCalibrations = 30;
const daysBetweenRenewals = 240;
const daysBetweenChecks = 60;
/** Of the checks of the balance, one in so many fails and holds what was weighed since the last. */
const checksToOneFailure = 6;
/** The last hold of five years waits for its answer, so that the docket bears one. */
const openHolds = 1;

/** Weighs a check weight of 20 g on the balance for blanks. */
async function checkBalance(ground: Ground, reads: string): Promise<void> {
  const reading = (text: string) => ({ text, unit: 'g', typed: true });
  const points = [{ checkStandard: 'W-20', nominal: reading('20.000'), reading: reading(reads) }];
  const check = { kind: 'weights', points, limit: reading('0.005') };
  const input = { instrument: 'BAL-L2', check };
  await ground.hand.do({ by: 'tamsin', command: 'record-instrument-check', input });
}

interface HoldShown {
  readonly hold: string;
  readonly held: readonly { readonly entry: number }[];
}

/** Says of everything that the newest failed check holds that it stands. */
async function answerNewest(ground: Ground): Promise<void> {
  const ask = (question: string, input: object) => ground.plant.question(question, input, 'orla');
  const [newest] = (await ask('holds', {})) as readonly HoldShown[];
  if (!newest) return;
  const { hold, held } = (await ask('results-hold', { hold: newest.hold })) as HoldShown;
  if (held.length === 0) return;
  const entries = held.map(({ entry }) => entry);
  const input = { hold, entries, finding: 'stands', reason: 'Weighed again on another balance.' };
  await ground.hand.do({ by: 'orla', command: 'answer-hold', input });
}

/** The check of the balance that is due, with its failure now and then and what follows from it. */
async function checkDue(ground: Ground, check: number): Promise<void> {
  const isFailure = check % checksToOneFailure === checksToOneFailure - 1;
  if (!isFailure) return checkBalance(ground, '20.001');
  await checkBalance(ground, '20.021');
  const checks = Math.floor((years * 365) / daysBetweenChecks);
  if (check + openHolds * checksToOneFailure < checks) await answerNewest(ground);
  await checkBalance(ground, '20.000');
}

/** Begins the early shift of a day, and answers its number among the days of work. */
async function beginDay(ground: Ground, day: number): Promise<void> {
  const date = dayAfter(firstDay, day);
  ground.plant.clock.reach(localInstant(date, 6 * 60 + 5));
  ground.ledger.shift = `${date}-early`;
  ground.balances.beginShift();
  ground.shiftBegan.entry = ((await ground.plant.store.reader.lastLine())?.number ?? 0) + 1;
}

/** Takes in and examines a consignment every third day for five years, and perhaps closes the shifts. */
async function workYears(ground: Ground, closes: boolean): Promise<void> {
  const halts: string[] = [];
  const work = async (name: string, of: () => Promise<void>): Promise<void> => {
    for (const { job, error } of await ground.crew.work([{ name, work: of }])) {
      halts.push(`${job}: ${error.message}`);
    }
  };
  await work('founding', () => foundGround(ground, firstDay));
  for (let day = 0; day < years * 365; day += daysBetweenConsignments) {
    await beginDay(ground, day);
    const date = dayAfter(firstDay, day);
    if (day % daysBetweenCalibrations === 0) {
      await work('calibration', () => calibrate(ground, date));
    }
    if (day % daysBetweenRenewals === 0) await work('renewal', () => renew(ground, date));
    const standard = day % 2 === 0 ? heron : lantern;
    await work('receiving', () => receive(ground, standard));
    await work('laboratory', () => examineAll(ground));
    if (day % daysBetweenChecks === 0) {
      await work('check of the balance', () => checkDue(ground, day / daysBetweenChecks));
    }
    if (closes) await work('end of the shift', () => endShift(ground));
    if (halts.length > 0) throw new Error(halts[0]);
  }
}

/** What the screens ask of a plant with five years of results, its shifts closed or never closed. */
async function measurePlant(folder: string, closes: boolean): Promise<readonly Measurement[]> {
  const path = join(folder, closes ? 'years-closed.sqlite' : 'years.sqlite');
  const store = new SqliteStore({ plant: plantId, path });
  const ground = await groundOf({ seed: 1, size: sizeFor(600), mix: () => 0, store });
  await workYears(ground, closes);
  const last = await store.reader.lastLine();
  const { waits, silent } = await askAll(ground, store);
  process.stderr.write(`not asked: ${silent.join(', ')}\n`);
  const bare = await timed(async () => ground.plant.books.select(movements, { limit: 1000 }));
  await store.close();
  const size = `${ground.world.melts.length.toLocaleString('en')} melts, ${(last?.number ?? 0).toLocaleString('en')} entries, shifts ${closes ? 'closed' : 'never closed'}`;
  const about: Measurement = {
    what: `five years: ${size}`,
    ours: '',
    bare: `${(bare.seconds * 1000).toFixed(0)} ms for 1,000 rows`,
    ratio: '',
  };
  const rows = shownWaits(waits).map(({ screen, milliseconds, processorMilliseconds }) => ({
    what: `  ${screen}`,
    ours: `${milliseconds.toFixed(1)} ms, ${processorMilliseconds.toFixed(1)} of the processor`,
    bare: '',
    ratio: '',
  }));
  return [about, ...rows];
}

/** What every screen waits for in a plant with five years of results, whose shifts are closed or not. */
export async function measureYears(folder: string): Promise<readonly Measurement[]> {
  return [...(await measurePlant(folder, true)), ...(await measurePlant(folder, false))];
}

// Run by itself, it prints its own part of the table.
if (import.meta.main) {
  const folder = mkdtempSync(join(tmpdir(), 'cupel-years-'));
  try {
    console.log(`\n${tableText(await measureYears(folder))}`);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
