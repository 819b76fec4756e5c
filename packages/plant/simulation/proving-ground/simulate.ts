import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { SqliteStore } from '../../src/adapters/sqlite-store.ts';
import { plantId } from '../demonstration/cast.ts';
import { type FaultKind, faultKindNames } from './fault-kinds.ts';
import { sizeFor } from './plant-size.ts';
import { type Proof, prove } from './prove.ts';
import { report } from './report.ts';
import { together } from './together.ts';

const usage = `simulate [--seed N] [--runs R] [--days D] [--pieces N] [--faults X] [--only KIND] [--store memory|sqlite]

  --seed    a whole number; the same seed gives the same journal (1)
  --runs    so many seeds from that one on, told together (1)
  --days    days of three shifts, 1 to 400 (7)
  --pieces  pieces a day, about (2400)
  --faults  the rates of all faults times this; 0 plants none (1)
  --only    plants this kind of fault and no other; may be given several times
  --store   where the record is kept (memory)
  --list    every shift as it ends, and every false alarm`;

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    runs: { type: 'string', default: '1' },
    days: { type: 'string', default: '7' },
    pieces: { type: 'string', default: '2400' },
    faults: { type: 'string', default: '1' },
    only: { type: 'string', multiple: true, default: [] },
    store: { type: 'string', default: 'memory' },
    list: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});

/** A number of the command line, or the end of the program with what would be accepted. */
function numberOf(
  name: 'seed' | 'runs' | 'days' | 'pieces' | 'faults',
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
  const first = numberOf('seed', 0, 2 ** 31 - 1_000_004);
  const proofs: Proof[] = [];
  for (let run = 0; run < numberOf('runs', 1, 10_000); run += 1) {
    proofs.push(await proofOf(first + run));
  }
  const proof = together(proofs as [Proof, ...Proof[]]);
  console.log(report(proof));
  if (values.list) for (const alarm of proof.falseAlarms) console.log(alarm);
  if (proof.breaches.length === 0) return 0;
  const failing = proofs.filter(({ breaches }) => breaches.length > 0);
  for (const { seed, days } of failing) {
    console.log(`\nRun it again with: --seed ${seed} --days ${days}`);
  }
  return 1;
}

/** One run, in a folder of its own where the record is kept in files. */
async function proofOf(seed: number): Promise<Proof> {
  const times = numberOf('faults', 0, 1000);
  const folder = mkdtempSync(join(tmpdir(), 'cupel-proving-'));
  let files = 0;
  const emptyStore = () => {
    files += 1;
    return new SqliteStore({ plant: plantId, path: join(folder, `plant-${files}.sqlite`) });
  };
  const store = values.store === 'sqlite' ? emptyStore() : undefined;
  const proof = await prove({
    seed,
    days: numberOf('days', 1, 400),
    size: sizeFor(numberOf('pieces', 100, 500_000)),
    mix: (kind) => (values.only.length === 0 || values.only.includes(kind) ? times : 0),
    ...(store ? { store, emptyStore } : {}),
    ...(values.list ? { onShift: (shift: string) => console.log(`${shift} has ended`) } : {}),
  });
  await store?.close();
  rmSync(folder, { recursive: true });
  return proof;
}

process.exitCode = await main();
