import { join } from 'node:path';
import Database from 'better-sqlite3';
import { plantId } from '../simulation/demonstration/cast.ts';
import { sizeFor } from '../simulation/proving-ground/plant-size.ts';
import { type Proof, prove } from '../simulation/proving-ground/prove.ts';
import type { Timing } from '../simulation/proving-ground/timings.ts';
import { SqliteStore } from '../src/adapters/sqlite-store.ts';
import { type Measurement, median, timed } from './measurement.ts';

/** Presses wait for the laboratory's blanks, so that about a third less is struck: 100 000 a shift. */
const piecesPerDay = 430_000;

const milliseconds = (value: number): string => `${value.toFixed(0)} ms`;

/** What the engine needs to read and add up the movements of a shift, and to read its tubes too. */
interface Bare {
  readonly tubesPerShift: number;
  readonly movesMilliseconds: number;
  readonly allMilliseconds: number;
}

async function middleOf(work: () => void): Promise<number> {
  const seconds: number[] = [];
  for (let round = 0; round < 5; round += 1)
    seconds.push((await timed(async () => work())).seconds);
  return median(seconds) * 1000;
}

/** Reads the rows of the busiest shift, and does nothing else. */
async function readBare(path: string, shifts: number): Promise<Bare> {
  const database = new Database(path, { readonly: true });
  const busiest = database
    .prepare('SELECT shift FROM core_movement GROUP BY shift ORDER BY count(*) DESC')
    .pluck()
    .get();
  const moves = database
    .prepare('SELECT record FROM core_movement WHERE store_plant = ? AND shift = ?')
    .pluck();
  const tubes = database
    .prepare('SELECT record FROM put_up_tube WHERE store_plant = ? LIMIT ?')
    .pluck();
  const all = database.prepare('SELECT count(*) FROM put_up_tube').pluck().get() as number;
  const tubesPerShift = Math.round(all / shifts);
  const sum = (rows: unknown[]): number =>
    (rows as string[]).reduce((total, text) => total + (JSON.parse(text).pieces as number), 0);
  const readMoves = () => {
    if (sum(moves.all(plantId, busiest)) === 0) throw new Error('no piece has moved');
  };
  const bare = {
    tubesPerShift,
    movesMilliseconds: await middleOf(readMoves),
    allMilliseconds: await middleOf(() => {
      readMoves();
      sum(tubes.all(plantId, tubesPerShift));
    }),
  };
  database.close();
  return bare;
}

function row(what: string, timing: Timing | undefined, bare: number): Measurement {
  if (!timing) throw new Error(`${what}: it never happened`);
  const { count, totalMilliseconds, longestMilliseconds } = timing;
  return {
    what: `${what}, mean and longest of ${count}`,
    ours: `${milliseconds(totalMilliseconds / count)}, ${milliseconds(longestMilliseconds)}`,
    bare: milliseconds(bare),
    ratio: `${(totalMilliseconds / count / bare).toFixed(2)} × the time`,
  };
}

const words = (proof: Proof, tubesPerShift: number): string =>
  `${tubesPerShift.toLocaleString('en')} tubes and ${Math.round(proof.pieces / proof.shifts).toLocaleString('en')} pieces a shift`;

/**
 * A large plant through three shifts, with pieces that are stolen: closing a shift and searching in
 * it, beside reading and adding up the same rows in the engine.
 */
export async function measureFullShift(folder: string): Promise<readonly Measurement[]> {
  const path = join(folder, 'full-shift.sqlite');
  const store = new SqliteStore({ plant: plantId, path });
  const proof = await prove({
    seed: 1,
    days: 1,
    size: sizeFor(piecesPerDay),
    mix: (kind) => (kind === 'piece stolen from a tray' ? 0.2 : 0),
    store,
    isChecked: false,
  });
  await store.close();
  if (proof.breaches.length > 0) throw new Error(proof.breaches[0]?.what);
  const bare = await readBare(path, proof.shifts);
  const size = words(proof, bare.tubesPerShift);
  const { commands, questions } = proof.timings;
  return [
    row(`close of a shift: ${size}`, commands.get('close-shift'), bare.movesMilliseconds),
    row('balance desk of that shift', questions.get('balance-desk'), bare.movesMilliseconds),
    row('ranking of a search over it', questions.get('search'), bare.allMilliseconds),
    row('a look recorded in it', commands.get('record-look'), bare.movesMilliseconds),
    {
      what: 'commands of that day, with one commit each or shared',
      ours: `${(proof.commands / proof.workSeconds).toFixed(0)} per s`,
      bare: '',
      ratio: '',
    },
  ];
}
