import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkSignature, readPlantKey } from '../adapters/plant-keys.ts';
import { openSqliteSnapshot, SqliteStore } from '../adapters/sqlite-store.ts';
import { bookReader } from '../journal/books.ts';
import { registerStations } from '../journal/plant.ts';
import { compareBooks, rebuildBooks, rebuildInto } from '../journal/rebuild.ts';
import { type Verification, verifyJournal } from '../journal/verify.ts';
import { plantFiles, plantSettings } from '../main/plant.ts';
import { stations } from '../main/stations.ts';
import type { ReadableStore } from '../ports/store.ts';
import { auditAccount } from '../stations/account/auditor.ts';
import { Unfit } from './unfit.ts';

/** The journal of a plant as of this moment, also while the plant is served. */
function snapshotOf(folder: string): ReadableStore {
  const { plant } = plantSettings(folder);
  return openSqliteSnapshot({ plant, path: join(folder, plantFiles.store) });
}

/** Verifies the journal of the plant in a folder. */
export async function verificationOf(folder: string): Promise<Verification> {
  const store = snapshotOf(folder);
  try {
    return await verifyJournal(store, {
      registry: registerStations(stations),
      checkSignature,
      publicKey: readPlantKey(join(folder, plantFiles.key)).publicKey,
    });
  } finally {
    await store.close();
  }
}

/** Checks the journal and sums the account by the auditor's own arithmetic. */
export async function verify(folder: string): Promise<void> {
  const found = await verificationOf(folder);
  if (!found.holds) throw new Unfit(`Entry ${found.entry} is bad: ${found.why}.`);
  const store = snapshotOf(folder);
  const audit = await auditAccount(store.reader, bookReader(store.reader));
  await store.close();
  const [fault] = audit.faults;
  if (fault) throw new Unfit(`The account does not hold: ${JSON.stringify(fault)}`);
  console.log(`${found.entries} entries hold: chain, canonical form, postings and account.`);
  console.log(`${found.headsChecked} signed heads hold.`);
  console.log(`Last hash ${found.headHash}`);
  console.log(`Tree root ${found.rootHash}`);
}

/** Makes the books anew, or, with check, makes them aside and compares. */
export async function rebuild(folder: string, isCheck: boolean): Promise<void> {
  const registry = registerStations(stations);
  const { plant } = plantSettings(folder);
  if (!isCheck) {
    const store = new SqliteStore({ plant, path: join(folder, plantFiles.store) });
    const entries = await rebuildBooks(store, registry);
    await store.close();
    console.log(`The books were made anew from ${entries} entries.`);
    return;
  }
  const aside = mkdtempSync(join(tmpdir(), 'cupel-rebuild-'));
  const live = snapshotOf(folder);
  const rebuilt = new SqliteStore({ plant, path: join(aside, plantFiles.store) });
  try {
    const entries = await rebuildInto(live, rebuilt, registry);
    const comparisons = await compareBooks(live, rebuilt, registry);
    for (const { book, records, equal } of comparisons) {
      console.log(`${equal ? 'equal  ' : 'DIFFERS'} ${book} (${records} records)`);
    }
    const bad = comparisons.find(({ equal }) => !equal);
    if (bad) throw new Unfit(`${bad.book} differs: ${JSON.stringify(bad.difference)}`);
    console.log(`${comparisons.length} books made from ${entries} entries equal the live ones.`);
  } finally {
    await rebuilt.close();
    await live.close();
    rmSync(aside, { recursive: true });
  }
}
