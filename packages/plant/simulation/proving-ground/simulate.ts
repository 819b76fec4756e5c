import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { SqliteStore } from '../../src/adapters/sqlite-store.ts';
import { plantId } from '../demonstration/cast.ts';
import { type FaultKind, faultKindNames } from './fault-kinds.ts';
import type { PlantSize } from './ground.ts';
import { sizeFor } from './plant-size.ts';
import { type Proof, prove } from './prove.ts';
import { containerLines, report } from './report.ts';
import { unprovable } from './standards.ts';
import { together } from './together.ts';

const usage = `simulate [--seed N] [--runs R] [--days D] [--minutes M] [--pieces N] [--tube N] [--box N] [--faults X] [--only KIND] [--store memory|sqlite] [--unsynced]

  --seed    a whole number; the same seed gives the same journal (1)
  --runs    so many seeds from that one on, told together (1)
  --days    days of three shifts, 1 to 400 (7)
  --minutes a run ends with the day in which so many minutes of clock time are over, 1 to 10000
  --pieces  pieces a day, about (2400)
  --tube    pieces in a tube, of silver and of gold, 2 to 1000 (20)
  --box     tubes in a box, 1 to 1000 (10 of silver, 5 of gold)
  --faults  the rates of all faults times this; 0 plants none (1)
  --only    plants this kind of fault and no other; may be given several times
  --store   where the record is kept (memory)
  --unsynced  commits of sqlite do not wait for the disk: they survive the end of the process only
  --list    every shift as it ends, and every false alarm`;

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    runs: { type: 'string', default: '1' },
    days: { type: 'string', default: '7' },
    minutes: { type: 'string' },
    pieces: { type: 'string', default: '2400' },
    tube: { type: 'string' },
    box: { type: 'string' },
    faults: { type: 'string', default: '1' },
    only: { type: 'string', multiple: true, default: [] },
    store: { type: 'string', default: 'memory' },
    unsynced: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});

/** A number of the command line, or the end of the program with what would be accepted. */
function numberOf(
  name: 'seed' | 'runs' | 'days' | 'minutes' | 'pieces' | 'tube' | 'box' | 'faults',
  least: number,
  most: number,
): number {
  const value = Number(values[name]);
  const isWhole = name === 'faults' || Number.isInteger(value);
  if (isWhole && value >= least && value <= most) return value;
  console.error(`--${name} is ${values[name]}; accepted: ${least} to ${most}\n\n${usage}`);
  process.exit(2);
}

async function main(): Promise<number> {
  if (values.help) {
    console.log(usage);
    return 0;
  }
  const unknown = values.only.filter((kind) => !faultKindNames.includes(kind as FaultKind));
  if (unknown.length > 0) {
    console.error(
      `no fault is called ${unknown.join(', ')}; there are: ${faultKindNames.join(', ')}`,
    );
    return 2;
  }
  if (values.store !== 'memory' && values.store !== 'sqlite') {
    console.error(`--store is ${values.store}; accepted: memory, sqlite`);
    return 2;
  }
  const size = sizeFor(numberOf('pieces', 100, 500_000), {
    ...(values.tube === undefined ? {} : { piecesPerTube: numberOf('tube', 2, 1000) }),
    ...(values.box === undefined ? {} : { tubesPerBox: numberOf('box', 1, 1000) }),
  });
  const problems = unprovable(size);
  if (problems.length > 0) {
    console.error(`Such a plant could not prove what it fills: ${problems.join('; ')}.`);
    return 2;
  }
  const first = numberOf('seed', 0, 2 ** 31 - 1_000_004);
  const proofs: Proof[] = [];
  for (let run = 0; run < numberOf('runs', 1, 10_000); run += 1) {
    proofs.push(await proofOf(first + run, size));
  }
  const proof = together(proofs as [Proof, ...Proof[]]);
  console.log(containerLines(size).join('\n'));
  console.log(report(proof));
  if (values.list) for (const alarm of proof.falseAlarms) console.log(alarm);
  if (proof.breaches.length === 0) return 0;
  const failing = proofs.filter(({ breaches }) => breaches.length > 0);
  const { pieces, tube, box, faults, store } = values;
  const given = Object.entries({ pieces, tube, box, faults, store })
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` --${name} ${value}`);
  const only = (values.only ?? []).map((kind) => ` --only '${kind}'`);
  for (const { seed, days } of failing) {
    console.log(
      `\nRun it again with: --seed ${seed} --days ${days}${[...given, ...only].join('')}`,
    );
  }
  return 1;
}

/** Tells whether so many minutes are over since it was made. */
function timer(minutes: number): () => boolean {
  const end = performance.now() + minutes * 60_000;
  return () => performance.now() >= end;
}

/** A copy that is made to be compared: its file goes when it is closed. */
class ComparedCopy extends SqliteStore {
  override async close(): Promise<void> {
    await super.close();
    for (const end of ['', '-wal', '-shm', '.writer'])
      rmSync(`${this.path}${end}`, { force: true });
  }
}

/** One run, in a folder of its own where the record is kept in files. */
async function proofOf(seed: number, size: PlantSize): Promise<Proof> {
  const times = numberOf('faults', 0, 1000);
  const folder = mkdtempSync(join(tmpdir(), 'cupel-proving-'));
  const inFile = (name: string) => ({ plant: plantId, path: join(folder, `${name}.sqlite`) });
  let copies = 0;
  const emptyStore = () => {
    copies += 1;
    return new ComparedCopy({ ...inFile(`copy-${copies}`), survives: 'end of process' });
  };
  const survives = values.unsynced ? 'end of process' : 'power failure';
  const store =
    values.store === 'sqlite' ? new SqliteStore({ ...inFile('plant'), survives }) : undefined;
  const proof = await prove({
    seed,
    days: numberOf('days', 1, 400),
    size,
    mix: (kind) => (values.only.length === 0 || values.only.includes(kind) ? times : 0),
    ...(store ? { store, emptyStore } : {}),
    ...(values.minutes === undefined ? {} : { isTimeUp: timer(numberOf('minutes', 1, 10_000)) }),
    ...(values.list ? { onShift: (shift: string) => console.log(`${shift} has ended`) } : {}),
  });
  await store?.close();
  rmSync(folder, { recursive: true });
  return proof;
}

process.exitCode = await main();
