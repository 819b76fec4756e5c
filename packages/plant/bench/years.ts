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
import { SqliteStore } from '../src/adapters/sqlite-store.ts';
import { movements } from '../src/journal/core-books.ts';
import { coreQuestions } from '../src/journal/core-questions.ts';
import { personForRecorder } from '../src/main/founder.ts';
import { type Measurement, median, timed } from './measurement.ts';

const years = 5;
const daysBetweenConsignments = 3;
const daysBetweenCalibrations = 30;
const daysBetweenRenewals = 240;

/** Takes in and examines a consignment every third day for five years. */
async function workYears(ground: Ground): Promise<void> {
  const work = (name: string, of: () => Promise<void>) => ground.crew.work([{ name, work: of }]);
  const halts = [...(await work('founding', () => foundGround(ground, firstDay)))];
  for (let day = 0; day < years * 365; day += daysBetweenConsignments) {
    const date = dayAfter(firstDay, day);
    ground.plant.clock.reach(localInstant(date, 6 * 60 + 5));
    ground.ledger.shift = `${date}-early`;
    ground.balances.beginShift();
    if (day % daysBetweenCalibrations === 0) {
      halts.push(...(await work('calibration', () => calibrate(ground, date))));
    }
    if (day % daysBetweenRenewals === 0) {
      halts.push(...(await work('renewal', () => renew(ground, date))));
    }
    const standard = day % 2 === 0 ? heron : lantern;
    halts.push(...(await work('receiving', () => receive(ground, standard))));
    halts.push(...(await work('laboratory', () => examineAll(ground))));
  }
  const [halt] = halts;
  if (halt) throw new Error(`${halt.job}: ${halt.error.message}`);
}

/** Inputs of the questions that speak of one thing: of the newest and of one from the middle. */
function detailsOf(ground: Ground): ReadonlyMap<string, readonly object[]> {
  const { melts } = ground.world;
  const some = [melts.at(-1), melts.at(melts.length >> 1)].flatMap((melt) => melt ?? []);
  const chart = (subject: string) => ({ chart: `${subject}.${lantern.pieceStandard}` });
  return new Map<string, readonly object[]>([
    ['melt-trial', some.map((melt) => ({ melt: melt.truth.melt }))],
    ['lineage', some.map((melt) => ({ thing: 'melt', id: melt.truth.melt }))],
    ['find-code', some.map((melt) => ({ code: melt.truth.melt }))],
    ['consignment', some.map(({ consignment }) => ({ consignment }))],
    ['control-chart', [chart('proof-correction'), chart('duplicate-range')]],
    ['inspection-series', [{ supplier: 'fennel', pieceStandard: heron.pieceStandard }]],
    ['entries', [{ limit: 50 }]],
  ]);
}

interface Wait {
  readonly question: string;
  readonly milliseconds: number;
}

/** How long each question takes: those without input, and those about a thing that is given here. */
async function askAll(
  ground: Ground,
  store: SqliteStore,
): Promise<{ waits: readonly Wait[]; silent: string[] }> {
  const details = detailsOf(ground);
  const waits: Wait[] = [];
  const silent: string[] = [];
  const { registry, books, clock } = ground.plant;
  const person = await personForRecorder(books, 'orla');
  if (!person) throw new Error('nobody asks');
  const inquirer = { person, instant: new Date(clock.now()).toISOString() };
  const questions = [
    ...coreQuestions({ stations: registry.stations, reader: store.reader, kind: registry.kind }),
    ...registry.stations.flatMap((one) => one.questions),
  ];
  for (const { question, input, answer } of questions) {
    const inputs = details.get(question) ?? (input.safeParse({}).success ? [{}] : []);
    if (inputs.length === 0) silent.push(question);
    for (const one of inputs) {
      const seconds: number[] = [];
      for (let round = 0; round < 5; round += 1) {
        seconds.push((await timed(() => answer(books, input.parse(one), inquirer))).seconds);
      }
      waits.push({ question, milliseconds: median(seconds) * 1000 });
    }
  }
  return { waits, silent };
}

/** What the screens ask of a plant with five years of results. */
export async function measureYears(folder: string): Promise<readonly Measurement[]> {
  const path = join(folder, 'years.sqlite');
  const store = new SqliteStore({ plant: plantId, path });
  const ground = await groundOf({ seed: 1, size: sizeFor(600), mix: () => 0, store });
  await workYears(ground);
  const last = await store.reader.lastLine();
  const { waits, silent } = await askAll(ground, store);
  process.stderr.write(`not asked: ${silent.join(', ')}\n`);
  const bare = await timed(async () => ground.plant.books.select(movements, { limit: 1000 }));
  await store.close();
  const slowest = [...waits].sort((a, b) => b.milliseconds - a.milliseconds).slice(0, 6);
  const size = `${ground.world.melts.length.toLocaleString('en')} melts in ${(last?.number ?? 0).toLocaleString('en')} entries`;
  return slowest.map(({ question, milliseconds }) => ({
    what: `question ${question}, five years: ${size}`,
    ours: `${milliseconds.toFixed(0)} ms`,
    bare: `${(bare.seconds * 1000).toFixed(0)} ms for 1,000 rows`,
    ratio: '',
  }));
}
