import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../src/adapters/memory-store.ts';
import type { Store, StoredLine } from '../src/ports/store.ts';
import { plantId } from './demonstration/cast.ts';
import failingSeeds from './proving-ground/failing-seeds.json' with { type: 'json' };
import { type FaultKind, faultKindNames } from './proving-ground/fault-kinds.ts';
import { sizeFor } from './proving-ground/plant-size.ts';
import { movesPieces, type Proof, type ProofOptions, prove } from './proving-ground/prove.ts';
import { fateOf, report } from './proving-ground/report.ts';

/** Faults behind a seal that people count by its label; no control of the plant opens it. */
const behindSeals: ReadonlySet<FaultKind> = new Set([
  'piece stolen from a sealed box',
  'piece stolen from a tube',
  'piece put into the wrong tube',
  // Only where the display of its balance was stuck at the drum before it.
  'drum short',
]);

/** A store that answers one entry altered, and keeps one piece too many in the book of receiving. */
function alteredStore(): Store {
  const beneath = new MemoryStore(plantId);
  const altered = (line: StoredLine): StoredLine =>
    line.number === 150 ? { ...line, text: line.text.replace('"author":', '"author" :') } : line;
  return {
    plant: plantId,
    reader: {
      ...beneath.reader,
      lines: async (first, below) => (await beneath.reader.lines(first, below)).map(altered),
    },
    prepare: (tables) => beneath.prepare(tables),
    close: () => beneath.close(),
    write: (work) =>
      beneath.write((writer) =>
        work({
          ...writer,
          put: (table, record) => {
            const isReceiving = table.name === 'core_balance' && record['place'] === 'receiving';
            const pieces = Number(record['pieces']) + 1;
            return writer.put(table, isReceiving ? { ...record, pieces } : record);
          },
        }),
      ),
  };
}

const run = (options: Partial<ProofOptions> & { seed: number }): Promise<Proof> =>
  prove({ days: 1, size: sizeFor(1500), ...options });

/** Every piece fault is found, signed for a stated reason, taken up by another, or behind a seal. */
function expectProved(proof: Proof): void {
  expect(proof.breaches, report(proof)).toEqual([]);
  for (const fault of proof.planted.filter(movesPieces)) {
    const fate = fateOf(fault);
    if (fate === 'signed') expect(fault.reason).toMatch(/60 minutes/);
    if (fate === 'hidden') {
      expect({ words: fault.words, behindSeal: behindSeals.has(fault.kind) }).toEqual({
        words: fault.words,
        behindSeal: true,
      });
    }
  }
}

describe('the proving ground', () => {
  it('has no difference, no search and no alarm where nothing is planted', async () => {
    const proof = await run({ seed: 1, mix: () => 0 });
    expectProved(proof);
    expect(proof.searches).toEqual([]);
    expect(proof.falseAlarms).toEqual([]);
    expect([...proof.refusals]).toEqual([]);
    expect(proof.pieces).toBeGreaterThan(500);
  });

  it.each([20, 22])('holds with everything planted, seed %d', async (seed) => {
    const proof = await run({ seed, mix: () => 4 });
    expectProved(proof);
    expect(new Set(proof.planted.map(({ kind }) => kind)).size).toBeGreaterThan(15);
    expect(proof.restarts).toBeGreaterThan(0);
  });

  it('gives the same journal for the same seed, and another for another', async () => {
    const [first, again, other] = [
      await run({ seed: 5, size: sizeFor(300) }),
      await run({ seed: 5, size: sizeFor(300) }),
      await run({ seed: 6, size: sizeFor(300) }),
    ];
    expect(again.lastHash).toBe(first.lastHash);
    expect(other.lastHash).not.toBe(first.lastHash);
  });

  it('names an entry that was altered, and a book that says something else', async () => {
    const altered = await run({ seed: 3, size: sizeFor(300), mix: () => 0, store: alteredStore() });
    const words = altered.breaches.map(({ what }) => what).join('\n');
    expect(words).toMatch(/entry 150 does not follow the entry before it/);
    expect(words).toMatch(/verification, entry 150: its text does not give its hash/);
    expect(words).toMatch(/the account, entry none: receiving \/ silver/);
    expect(words).toMatch(/core_balance rebuilt is/);
  });

  it.each(
    failingSeeds as {
      seed: number;
      days: number;
      faults: number;
      pieces: number;
      only?: string[];
    }[],
  )('holds with a seed that once failed: $seed', async ({ seed, days, faults, pieces, only }) => {
    const mix = (kind: FaultKind) => (only && !only.includes(kind) ? 0 : faults);
    for (const kind of only ?? []) expect(faultKindNames).toContain(kind);
    expectProved(await run({ seed, days, mix, size: sizeFor(pieces) }));
  });
});
