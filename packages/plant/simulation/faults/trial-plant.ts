import { createPublicKey, verify as verifySignature } from 'node:crypto';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { MemoryStore } from '../../src/adapters/memory-store.ts';
import { openSqliteSnapshot } from '../../src/adapters/sqlite-store.ts';
import type { Entry } from '../../src/journal/entry.ts';
import { compareBooks, rebuildInto } from '../../src/journal/rebuild.ts';
import { type Verification, verifyJournal } from '../../src/journal/verify.ts';
import type { ReadableStore } from '../../src/ports/store.ts';
import { entriesOfCommand, registry, signer } from './trial-stream.ts';

/** A folder of its own for one test, under the system's folder for temporary files. */
export const newFolder = (name: string): string => mkdtempSync(join(tmpdir(), `cupel-${name}-`));

/** Verifies the journal against the key of the trial plant. */
export function verifyTrial(store: ReadableStore): Promise<Verification> {
  return verifyJournal(store, {
    registry,
    publicKey: signer.publicKey,
    checkSignature: ({ publicKey, signature, bytes }) => {
      const jwk = { kty: 'OKP', crv: 'Ed25519', x: publicKey };
      const key = createPublicKey({ key: jwk, format: 'jwk' });
      return verifySignature(null, bytes, key, Buffer.from(signature, 'base64url'));
    },
  });
}

/** The keys of the commands in a journal, each with how many entries bear it. */
async function commandsIn(store: ReadableStore): Promise<Map<string, number>> {
  const counts = new Map<string, number>();
  for (const line of await store.reader.lines(1, 1_000_000)) {
    const { idempotencyKey } = JSON.parse(line.text) as Entry;
    counts.set(idempotencyKey, (counts.get(idempotencyKey) ?? 0) + 1);
  }
  return counts;
}

/**
 * What must hold after any fault: every acknowledged command is there and none is there by half,
 * the journal verifies, and books made from it anew equal the books there are.
 */
export async function expectWhole(
  store: ReadableStore,
  acknowledged: Iterable<string>,
): Promise<number> {
  const counts = await commandsIn(store);
  for (const key of acknowledged) {
    if (!counts.has(key)) expect.unreachable(`${key} was acknowledged and is not in the journal`);
  }
  for (const [key, entries] of counts) {
    if (entries !== entriesOfCommand(key))
      expect.unreachable(`${key} is there with ${entries} entries`);
  }
  const found = await verifyTrial(store);
  expect(found).toMatchObject({ holds: true });
  const rebuilt = new MemoryStore(store.plant);
  const entries = await rebuildInto(store, rebuilt, registry);
  const comparisons = await compareBooks(store, rebuilt, registry);
  expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
  return entries;
}

/** The same, of a file that another process may hold open. */
export async function expectWholeFile(
  path: string,
  acknowledged: Iterable<string>,
): Promise<number> {
  const store = openSqliteSnapshot({ plant: 'trial', path });
  try {
    return await expectWhole(store, acknowledged);
  } finally {
    await store.close();
  }
}
