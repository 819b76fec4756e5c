import { afterEach, describe, expect, it } from 'vitest';
import { BooksOutdated, type Selection, type Store, StoreHeld, type Table } from './store.ts';

/** A kind of store under the contract. */
export interface StoreUnderContract {
  readonly name: string;
  /** A new, empty store of the plant `trial`. */
  make(): Promise<Store>;
  /** Opens again what the store holds after it was closed; left out by a store that keeps nothing. */
  reopen?(closed: Store): Promise<Store>;
  /** Opens what the store holds while it is open, as a second process would; it must be refused. */
  openBeside?(open: Store): Promise<Store>;
}

const tubes: Table = {
  name: 'trial_tube',
  key: ['melt', 'tube'],
  indexes: { byMass: ['mass', 'tube'], byState: ['state', 'mass'] },
};
const boxes: Table = { name: 'trial_box', key: ['box'], indexes: {} };

const tube = (melt: string, name: string | number, mass: number, state = 'proved') => ({
  melt,
  tube: name,
  mass,
  state,
});

const line = (number: number) => ({ number, text: `{"line":${number}}`, hash: `hash-${number}` });

/** The five records that most of the contract reads. */
const five = [
  tube('M-1', 'T-1', 300),
  tube('M-1', 'T-2', 100, 'stopped'),
  tube('M-1', 'T-10', 200),
  tube('M-2', 'T-1', 100),
  tube('M-10', 'T-3', 50, 'stopped'),
];

/** What every store must do. */
export function describeStoreContract(kind: StoreUnderContract): void {
  describe(`store contract: ${kind.name}`, () => {
    const open: Store[] = [];
    const make = async (): Promise<Store> => {
      const store = await kind.make();
      open.push(store);
      await store.prepare([tubes, boxes]);
      return store;
    };
    const filled = async (): Promise<Store> => {
      const store = await make();
      await store.write(async (writer) => {
        for (const record of five) await writer.put(tubes, record);
      });
      return store;
    };
    const names = async (store: Store, selection?: Selection): Promise<string[]> => {
      const records = await store.reader.records(tubes, selection);
      return records.map((record) => `${record.melt}/${record.tube}`);
    };
    afterEach(async () => {
      for (const store of open.splice(0)) await store.close();
    });

    describeLines(make);
    describeRecords({ make, filled, names });
    describeWrites({ make, filled, names });
    describeOpening(kind, { make, open });
  });
}

function describeLines(make: () => Promise<Store>): void {
  it('has no line, no record and no head when it is new', async () => {
    const { reader } = await make();
    expect(await reader.lastLine()).toBeUndefined();
    expect(await reader.line(1)).toBeUndefined();
    expect(await reader.lines(1, 100)).toEqual([]);
    expect(await reader.records(tubes)).toEqual([]);
    expect(await reader.heads()).toEqual([]);
    expect(await reader.headCovering(0)).toBeUndefined();
  });

  it('gives back lines byte for byte, in order of number', async () => {
    const store = await make();
    const text = '{"body":"Müller, 金, \\u0000, 𝄞, \\"quoted\\""}';
    await store.write(async (writer) => {
      await writer.append({ ...line(1), text });
      await writer.append(line(2));
      expect(await writer.lastLine()).toEqual(line(2));
    });
    await store.write((writer) => writer.append(line(3)));
    expect(await store.reader.line(1)).toEqual({ ...line(1), text });
    expect(await store.reader.lines(2, 4)).toEqual([line(2), line(3)]);
    expect(await store.reader.lines(3, 3)).toEqual([]);
    expect(await store.reader.lines(4, 9)).toEqual([]);
    expect(await store.reader.lastLine()).toEqual(line(3));
  });

  it('takes only the line that follows the last one', async () => {
    const store = await make();
    const append = (number: number) => store.write((writer) => writer.append(line(number)));
    await expect(append(2)).rejects.toThrow(RangeError);
    await append(1);
    await expect(append(1)).rejects.toThrow(RangeError);
    await expect(append(3)).rejects.toThrow(RangeError);
    await append(2);
    expect(await store.reader.lines(1, 9)).toEqual([line(1), line(2)]);
  });

  it('answers the smallest head that covers a number of entries', async () => {
    const store = await make();
    await store.write(async (writer) => {
      await writer.putHead({ treeSize: 20, text: 'twenty' });
      await writer.putHead({ treeSize: 5, text: 'five' });
      await writer.putHead({ treeSize: 9, text: 'nine' });
    });
    const covering = async (size: number) => (await store.reader.headCovering(size))?.text;
    expect(await covering(5)).toBe('five');
    expect(await covering(6)).toBe('nine');
    expect(await covering(20)).toBe('twenty');
    expect(await covering(21)).toBeUndefined();
    const sizes = (await store.reader.heads()).map((head) => head.treeSize);
    expect(sizes).toEqual([5, 9, 20]);
  });
}

interface Filled {
  make(): Promise<Store>;
  filled(): Promise<Store>;
  names(store: Store, selection?: Selection): Promise<string[]>;
}

function describeRecords({ make, filled, names }: Filled): void {
  it('finds a record by its whole key and nothing by another', async () => {
    const { reader } = await filled();
    expect(await reader.record(tubes, ['M-1', 'T-2'])).toEqual(five[1]);
    expect(await reader.record(tubes, ['M-1', 'T-3'])).toBeUndefined();
    expect(await reader.record(tubes, ['M-9', 'T-2'])).toBeUndefined();
  });

  it('reads in the order of the key, and of an index with the key settling ties', async () => {
    const store = await filled();
    expect(await names(store)).toEqual(['M-1/T-1', 'M-1/T-10', 'M-1/T-2', 'M-10/T-3', 'M-2/T-1']);
    expect(await names(store, { by: 'byMass' })).toEqual([
      'M-10/T-3',
      'M-2/T-1',
      'M-1/T-2',
      'M-1/T-10',
      'M-1/T-1',
    ]);
    expect(await names(store, { by: 'byState', prefix: ['stopped'] })).toEqual([
      'M-10/T-3',
      'M-1/T-2',
    ]);
  });

  it('reads backwards as the exact reverse', async () => {
    const store = await filled();
    for (const by of [undefined, 'byMass', 'byState']) {
      const order = by === undefined ? {} : { by };
      const forwards = await names(store, order);
      expect(await names(store, { ...order, descending: true })).toEqual(forwards.reverse());
    }
  });

  it('selects by prefix, from, below and limit', async () => {
    const store = await filled();
    expect(await names(store, { prefix: ['M-1'] })).toEqual(['M-1/T-1', 'M-1/T-10', 'M-1/T-2']);
    expect(await names(store, { prefix: ['M-1'], from: 'T-10' })).toEqual(['M-1/T-10', 'M-1/T-2']);
    expect(await names(store, { prefix: ['M-1'], below: 'T-10' })).toEqual(['M-1/T-1']);
    expect(await names(store, { by: 'byMass', from: 100, below: 300 })).toHaveLength(3);
    expect(await names(store, { by: 'byMass', from: 100, descending: true, limit: 2 })).toEqual([
      'M-1/T-1',
      'M-1/T-10',
    ]);
    expect(await names(store, { limit: 0 })).toEqual([]);
    expect(await names(store, { prefix: ['M'] })).toEqual([]);
  });

  it('reads page by page without a gap or a double, in every order and both directions', async () => {
    const store = await filled();
    for (const by of ['key', 'byMass', 'byState']) {
      for (const descending of [false, true]) {
        const fields = by === 'key' ? tubes.key : (tubes.indexes[by] ?? []);
        const order = [...new Set([...fields, ...tubes.key])];
        const base = { ...(by === 'key' ? {} : { by }), descending };
        const paged: string[] = [];
        let after: (string | number)[] | undefined;
        for (;;) {
          const page = await store.reader.records(tubes, {
            ...base,
            limit: 2,
            ...(after && { after }),
          });
          if (page.length === 0) break;
          paged.push(...page.map((record) => `${record.melt}/${record.tube}`));
          const last = page.at(-1);
          after = order.map((field) => last?.[field] as string | number);
        }
        expect(paged).toEqual(await names(store, base));
      }
    }
  });

  it('puts numbers before text, numbers by size and text by its UTF-8 bytes', async () => {
    const store = await make();
    // U+FF5E comes before U+1D11E by code point and by UTF-8, but behind it by UTF-16 code unit.
    const mixed = ['b', 10, 'B', 9, '', '10', '～', '𝄞', 'ä', -1, 2 ** 53 - 1, -(2 ** 53 - 1)];
    await store.write(async (writer) => {
      for (const name of mixed) await writer.put(tubes, tube('M', name, 1));
    });
    const order = (await store.reader.records(tubes)).map((record) => record.tube);
    const expected = [-(2 ** 53 - 1), -1, 9, 10, 2 ** 53 - 1, '', '10', 'B', 'b', 'ä', '～', '𝄞'];
    expect(order).toEqual(expected);
    expect(await names(store, { prefix: ['M'], from: '' })).toHaveLength(7);
    expect(await names(store, { prefix: ['M'], below: '' })).toHaveLength(5);
    expect(await store.reader.record(tubes, ['M', 10])).toEqual(tube('M', 10, 1));
    expect(await store.reader.record(tubes, ['M', '10'])).toEqual(tube('M', '10', 1));
  });

  it('refuses an order it does not have, and a bound behind the last field of an order', async () => {
    const { reader } = await filled();
    await expect(reader.records(tubes, { by: 'byColour' })).rejects.toThrow('byColour');
    const bounded = { prefix: ['M-1', 'T-1'], from: 'a' };
    await expect(reader.records(tubes, bounded)).rejects.toThrow(RangeError);
  });

  it('refuses a record whose ordered field is missing, broken or not whole', async () => {
    const store = await make();
    for (const mass of [undefined, null, 1.5, Number.NaN, 2 ** 53, true]) {
      const record = { ...tube('M-1', 'T-1', 1), mass } as never;
      await expect(store.write((writer) => writer.put(tubes, record))).rejects.toThrow('mass');
    }
    expect(await store.reader.records(tubes)).toEqual([]);
  });

  it('keeps a record as it was put, whatever becomes of the value afterwards', async () => {
    const store = await make();
    const record = { box: 'B-1', tubes: ['T-1'], gone: undefined };
    await store.write((writer) => writer.put(boxes, record as never));
    record.tubes.push('T-2');
    const kept = await store.reader.record(boxes, ['B-1']);
    expect(kept).toStrictEqual({ box: 'B-1', tubes: ['T-1'] });
  });
}

function describeWrites({ make, filled, names }: Filled): void {
  it('replaces, removes and clears records', async () => {
    const store = await filled();
    await store.write(async (writer) => {
      await writer.put(tubes, tube('M-1', 'T-1', 999, 'opened'));
      await writer.remove(tubes, ['M-1', 'T-2']);
      await writer.remove(tubes, ['M-1', 'never there']);
      await writer.put(boxes, { box: 'B-1' });
    });
    expect(await store.reader.record(tubes, ['M-1', 'T-1'])).toMatchObject({ mass: 999 });
    expect(await names(store)).toHaveLength(4);
    expect(await names(store, { by: 'byMass', prefix: [300] })).toEqual([]);
    expect(await names(store, { by: 'byState', prefix: ['opened', 999] })).toEqual(['M-1/T-1']);
    await store.write(async (writer) => {
      await writer.put(tubes, tube('M-3', 'T-1', 1));
      await writer.clear([tubes]);
      await writer.put(tubes, tube('M-4', 'T-1', 1));
    });
    expect(await names(store)).toEqual(['M-4/T-1']);
    expect(await store.reader.records(boxes)).toEqual([{ box: 'B-1' }]);
  });

  it('refuses a table that is missing beside a journal, until the books are made anew', async () => {
    const store = await make();
    const seals: Table = { name: 'trial_seal', key: ['seal'], indexes: {} };
    await store.write((writer) => writer.append(line(1)));
    await expect(store.prepare([tubes, boxes, seals])).rejects.toThrow(BooksOutdated);
    await store.write(async (writer) => {
      await writer.clear([tubes, boxes, seals]);
      await writer.put(seals, { seal: 'S-1' });
    });
    await store.prepare([tubes, boxes, seals]);
    expect(await store.reader.records(seals)).toEqual([{ seal: 'S-1' }]);
    expect(await store.reader.lastLine()).toEqual(line(1));
  });

  it('leaves nothing of a write that throws', async () => {
    const store = await filled();
    const before = await store.reader.records(tubes);
    const write = store.write(async (writer) => {
      await writer.append(line(1));
      await writer.put(tubes, tube('M-9', 'T-1', 1));
      await writer.remove(tubes, ['M-1', 'T-1']);
      await writer.putHead({ treeSize: 1, text: 'head' });
      await writer.clear([boxes]);
      throw new Error('no');
    });
    await expect(write).rejects.toThrow('no');
    expect(await store.reader.lastLine()).toBeUndefined();
    expect(await store.reader.heads()).toEqual([]);
    expect(await store.reader.records(tubes)).toEqual(before);
    await store.write((writer) => writer.append(line(1)));
    expect(await store.reader.lastLine()).toEqual(line(1));
  });

  it('undoes a part that throws as a whole, while the rest of the write stays', async () => {
    const store = await filled();
    await store.write(async (writer) => {
      await writer.part(async () => {
        await writer.append(line(1));
        await writer.put(tubes, tube('M-5', 'T-1', 5));
      });
      const part = writer.part(async () => {
        await writer.append(line(2));
        await writer.put(tubes, tube('M-5', 'T-1', 6));
        await writer.put(tubes, tube('M-6', 'T-1', 6));
        await writer.remove(tubes, ['M-1', 'T-1']);
        await writer.putHead({ treeSize: 2, text: 'head' });
        throw new Error('only this');
      });
      await expect(part).rejects.toThrow('only this');
      expect(await writer.record(tubes, ['M-5', 'T-1'])).toEqual(tube('M-5', 'T-1', 5));
      await writer.part(() => writer.append(line(2)));
    });
    expect(await store.reader.lines(1, 9)).toEqual([line(1), line(2)]);
    expect(await store.reader.heads()).toEqual([]);
    expect(await names(store, { prefix: ['M-6'] })).toEqual([]);
    expect(await names(store, { prefix: ['M-1'] })).toHaveLength(3);
    expect(await store.reader.record(tubes, ['M-5', 'T-1'])).toEqual(tube('M-5', 'T-1', 5));
  });

  it('shows a write to itself while it is under way, and to readers only when it is done', async () => {
    const store = await make();
    await store.write(async (writer) => {
      await writer.append(line(1));
      await writer.put(tubes, tube('M-1', 'T-1', 1));
      expect(await writer.line(1)).toEqual(line(1));
      expect(await writer.records(tubes, { by: 'byMass' })).toHaveLength(1);
      expect(await store.reader.line(1)).toBeUndefined();
      expect(await store.reader.records(tubes)).toEqual([]);
    });
    expect(await store.reader.line(1)).toEqual(line(1));
    expect(await store.reader.records(tubes)).toHaveLength(1);
  });

  it('does one write after another, in the order in which they were asked', async () => {
    const store = await make();
    const turns = Array.from({ length: 20 }, (_, index) =>
      store.write(async (writer) => {
        const last = await writer.lastLine();
        await new Promise((resolve) => setImmediate(resolve));
        expect(last?.number ?? 0).toBe(index);
        await writer.append(line(index + 1));
      }),
    );
    await Promise.all(turns);
    expect((await store.reader.lastLine())?.number).toBe(20);
  });
}

function describeOpening(
  { reopen, openBeside }: StoreUnderContract,
  { make, open }: { make: () => Promise<Store>; open: Store[] },
): void {
  if (reopen) {
    it('holds after it is closed and opened again what was written', async () => {
      const store = await make();
      await store.write(async (writer) => {
        await writer.append(line(1));
        await writer.put(tubes, tube('M-1', 'T-1', 1));
        await writer.putHead({ treeSize: 1, text: 'head' });
      });
      await store.close();
      open.splice(0);
      const again = await reopen(store);
      open.push(again);
      await again.prepare([tubes, boxes]);
      expect(await again.reader.lastLine()).toEqual(line(1));
      expect(await again.reader.records(tubes)).toEqual([tube('M-1', 'T-1', 1)]);
      expect(await again.reader.headCovering(1)).toEqual({ treeSize: 1, text: 'head' });
      await again.write((writer) => writer.append(line(2)));
    });
  }
  if (openBeside) {
    it('refuses a second writer and goes on for the first', async () => {
      const store = await make();
      await expect(openBeside(store)).rejects.toThrow(StoreHeld);
      await store.write((writer) => writer.append(line(1)));
      expect(await store.reader.lastLine()).toEqual(line(1));
    });
  }
}
