import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import type {
  IndexValue,
  Selection,
  Store,
  StoreReader,
  StoreWriter,
  Table,
} from '../ports/store.ts';
import { MemoryStore } from './memory-store.ts';
import { SqliteStore } from './sqlite-store.ts';

const folder = mkdtempSync(join(tmpdir(), 'cupel-stores-'));
let files = 0;

afterAll(() => rmSync(folder, { recursive: true }));

const pieces: Table = {
  name: 'trial_piece',
  key: ['tube', 'piece'],
  indexes: { byMass: ['mass'], byState: ['state', 'mass'] },
};

const tubes = ['', 'A', 'b', 'ä', '～', '𝄞'] as const;

/** One thing that is done to a store inside a write. */
type Act =
  | { readonly put: { tube: string; piece: number; mass: number; state: string } }
  | { readonly remove: readonly [string, number] }
  | { readonly clear: true };

const tube = fc.constantFrom(...tubes);
const piece = fc.integer({ min: 0, max: 60 });
const act: fc.Arbitrary<Act> = fc.oneof(
  {
    weight: 12,
    arbitrary: fc.record({
      put: fc.record({
        tube,
        piece,
        mass: fc.integer({ min: -3, max: 3 }),
        state: fc.constantFrom('proved', 'stopped'),
      }),
    }),
  },
  { weight: 4, arbitrary: fc.record({ remove: fc.tuple(tube, piece) }) },
  { weight: 1, arbitrary: fc.constant({ clear: true as const }) },
);

/** Acts of one part of a write, and whether the part or the whole write is undone at its end. */
const part = fc.record({ acts: fc.array(act, { maxLength: 25 }), isUndone: fc.boolean() });
const writeOf = fc.record({ parts: fc.array(part, { maxLength: 4 }), isUndone: fc.boolean() });

const bound = fc.option(fc.integer({ min: -3, max: 3 }), { nil: undefined });
const selection: fc.Arbitrary<Selection> = fc
  .record({
    by: fc.constantFrom('byMass', 'byState', undefined),
    state: fc.constantFrom('proved', 'stopped'),
    tube,
    from: bound,
    below: bound,
    limit: fc.option(fc.integer({ min: 0, max: 20 }), { nil: undefined }),
    descending: fc.boolean(),
  })
  .map(({ by, state, tube: first, from, below, limit, descending }) => ({
    ...(by === undefined ? { prefix: [first] } : { by }),
    ...(by === 'byState' ? { prefix: [state] } : {}),
    ...(from === undefined ? {} : { from }),
    ...(below === undefined ? {} : { below }),
    ...(limit === undefined ? {} : { limit }),
    descending,
  }));

async function doOne(writer: StoreWriter, one: Act): Promise<void> {
  if ('put' in one) await writer.put(pieces, one.put);
  else if ('remove' in one) await writer.remove(pieces, one.remove);
  else await writer.clear([pieces]);
}

/** A write as it is played. */
interface Played {
  readonly parts: readonly { readonly acts: readonly Act[]; readonly isUndone: boolean }[];
  readonly isUndone: boolean;
}

async function play(
  store: Store,
  writes: readonly Played[],
  read: (from: StoreReader) => Promise<void>,
): Promise<void> {
  for (const { parts, isUndone } of writes) {
    const undone = new Error('undone');
    const work = store.write(async (writer) => {
      for (const each of parts) {
        const done = writer.part(async () => {
          for (const one of each.acts) await doOne(writer, one);
          await read(writer);
          if (each.isUndone) throw undone;
        });
        await done.catch((error) => expect(error).toBe(undone));
      }
      await read(writer);
      if (isUndone) throw undone;
    });
    await work.catch((error) => expect(error).toBe(undone));
    await read(store.reader);
  }
}

describe('the store of memory and that of SQLite', () => {
  it('answer the same to everything, also inside writes and after what was undone', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(writeOf, { maxLength: 6 }),
        fc.array(selection, { minLength: 3, maxLength: 6 }),
        async (writes, selections) => {
          files += 1;
          const path = join(folder, `${files}.sqlite`);
          const stores = [new MemoryStore('trial'), new SqliteStore({ plant: 'trial', path })];
          const answers = [];
          for (const store of stores) {
            await store.prepare([pieces]);
            const seen: unknown[] = [];
            await play(store, writes, async (reader) => {
              for (const one of selections) seen.push(await reader.records(pieces, one));
              const keys: IndexValue[][] = [
                ['A', 1],
                ['b', 2],
                ['ä', 3],
              ];
              for (const key of keys) seen.push(await reader.record(pieces, key));
            });
            await store.close();
            answers.push(seen);
          }
          expect(answers[0]).toEqual(answers[1]);
        },
      ),
      { numRuns: 40 },
    );
  }, 60_000);

  it('reads a page of a large table in the order of an index while the table changes', async () => {
    const store = new MemoryStore('trial');
    await store.prepare([pieces]);
    const count = 3000;
    for (let batch = 0; batch < 10; batch += 1) {
      await store.write(async (writer) => {
        for (let at = batch; at < count; at += 10) {
          const mass = (at * 7919) % count;
          await writer.put(pieces, { tube: 'A', piece: at, mass, state: 'proved' });
        }
        const page = await writer.records(pieces, { by: 'byMass', limit: 5 });
        expect(page.map(({ mass }) => Number(mass))).toEqual(
          page.map(({ mass }) => Number(mass)).sort((a, b) => a - b),
        );
      });
    }
    const all = await store.reader.records(pieces, { by: 'byMass' });
    expect(all.map(({ mass }) => mass)).toEqual(Array.from({ length: count }, (_, at) => at));
    const last = await store.reader.records(pieces, { by: 'byMass', descending: true, limit: 2 });
    expect(last.map(({ mass }) => mass)).toEqual([count - 1, count - 2]);
  });
});
