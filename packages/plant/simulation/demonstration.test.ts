import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkSignature } from '../src/adapters/plant-keys.ts';
import { openSqliteSnapshot } from '../src/adapters/sqlite-store.ts';
import { bookReader } from '../src/journal/books.ts';
import { balanceOfPlace } from '../src/journal/core-books.ts';
import { registerStations } from '../src/journal/plant.ts';
import { verifyJournal } from '../src/journal/verify.ts';
import { plantFiles } from '../src/main/plant.ts';
import { stations } from '../src/main/stations.ts';
import type { ReadableStore } from '../src/ports/store.ts';
import { auditAccount } from '../src/stations/account/auditor.ts';
import { plantId } from './demonstration/cast.ts';
import { makeDemonstration } from './make-demonstration.ts';

/** A cost that only a test may choose: the passwords of this plant protect nothing. */
const hashCost = { memoryKibibytes: 64, passes: 1 };
const folder = mkdtempSync(join(tmpdir(), 'cupel-demonstration-'));
const lastDay = '2026-03-15';

const make = (name: string, seed: number) =>
  makeDemonstration({ folder: join(folder, name), seed, lastDay, hashCost });

const instant = '2026-03-16T08:00:00.000Z';
let first: Awaited<ReturnType<typeof make>>;
let store: ReadableStore;

beforeAll(async () => {
  first = await make('first', 1);
  store = openSqliteSnapshot({ plant: plantId, path: join(folder, 'first', plantFiles.store) });
}, 120_000);

afterAll(async () => {
  await store.close();
  rmSync(folder, { recursive: true });
});

const papers = async (): Promise<string[]> => {
  const found = [];
  for (const { docket } of stations) {
    for (const paper of (await docket?.(bookReader(store.reader), instant)) ?? [])
      found.push(paper.what);
  }
  return found;
};

describe('the demonstration plant', () => {
  it('has the same last hash for the same seed and day, and another for another seed', async () => {
    const again = await make('again', 1);
    expect(again.headHash).toBe(first.headHash);
    const other = await make('other', 2);
    expect(other.headHash).not.toBe(first.headHash);
  }, 120_000);

  it('verifies from the first entry to the last', async () => {
    const registry = registerStations(stations);
    const found = await verifyJournal(store, { registry, checkSignature });
    expect(found).toMatchObject({ holds: true, entries: first.entries });
    const audit = await auditAccount(store.reader, bookReader(store.reader));
    expect(audit.faults).toEqual([]);
  });

  it('has finished certificates, and boxes that have left', async () => {
    const books = bookReader(store.reader);
    const gone = await balanceOfPlace(books, 'with-purchaser');
    expect(gone.reduce((sum, row) => sum + row.pieces, 0)).toBeGreaterThan(1000);
    const kinds = new Set<string>();
    for (const line of await store.reader.lines(1, first.entries + 1)) {
      kinds.add((JSON.parse(line.text) as { kind: string }).kind);
    }
    expect([...kinds]).toEqual(
      expect.arrayContaining([
        'CertificateIssued',
        'BoxesDispatched',
        'MeltReturned',
        'ShiftClosed',
      ]),
    );
  });

  it('shows its planted faults on the docket', async () => {
    const found = (await papers()).join('\n');
    // One melt just under its fineness, one that stays undecided.
    expect(found).toMatch(/verdict fails/);
    expect(found).toMatch(/verdict undecided/);
    // A die that cracked between two checks.
    expect(found).toMatch(/held after strike 200 .* crack/);
    // A tube with nineteen.
    expect(found).toMatch(/TS09019/);
    // A move signed by one side only.
    expect(found).toMatch(/signed by one side only/);
    // The open shift in which a piece is missing.
    expect(found).toMatch(/put-up/);
  });

  it('has brought a supplier to tightened inspection, with the reason', async () => {
    const lines = await store.reader.lines(1, first.entries + 1);
    const orders = lines
      .map((line) => JSON.parse(line.text) as { kind: string; body: Record<string, string> })
      .filter(({ kind }) => kind === 'SamplesOrdered')
      .map(({ body }) => ({ severity: body['severity'], reason: body['severityReason'] }));
    expect(orders.map(({ severity }) => severity)).toContain('tightened');
    expect(orders.find(({ severity }) => severity === 'tightened')?.reason).toMatch(/FS-/);
  });

  it('leaves its last shift open', async () => {
    const lines = await store.reader.lines(1, first.entries + 1);
    const closed = lines
      .map((line) => JSON.parse(line.text) as { kind: string; body: { shift?: string } })
      .filter(({ kind }) => kind === 'ShiftClosed')
      .map(({ body }) => body.shift);
    // Thirteen whole days of three shifts, and the early shift of the last day.
    expect(closed).toHaveLength(40);
    expect(closed).not.toContain(`${lastDay}-late`);
  });
});
