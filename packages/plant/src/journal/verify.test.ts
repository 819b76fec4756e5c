import { createPublicKey, verify as verifySignature } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../adapters/memory-store.ts';
import type { ReadableStore, StoredHead, StoredLine, StoreReader } from '../ports/store.ts';
import { canonicalText, entryHash } from './entry.ts';
import { merkleNodes, rootHash } from './merkle.ts';
import { registerStations } from './plant.ts';
import { compareBooks, rebuildBooks, rebuildInto } from './rebuild.ts';
import { makeTrial, signerFromSeed, type Trial } from './trial.ts';
import { trialDrums, trialMove, trialStation } from './trial-station.ts';
import { type CheckSignature, type Verification, verifyJournal } from './verify.ts';

const registry = registerStations([trialStation]);

const checkSignature: CheckSignature = ({ publicKey, signature, bytes }) => {
  const key = createPublicKey({
    key: { kty: 'OKP', crv: 'Ed25519', x: publicKey },
    format: 'jwk',
  });
  return verifySignature(null, bytes, key, Buffer.from(signature, 'base64url'));
};

/** A journal of eight entries: moves, a signed count as fifth, and two moves behind it. */
async function makeJournal(): Promise<Trial> {
  const trial = await makeTrial([trialStation]);
  const move = (drum: string) =>
    trial.do('trial-move-pieces', { moves: [trialMove({ drum, words: 'Prüfgut' })] }, 'custodian');
  for (const drum of ['D-1', 'D-2', 'D-3', 'D-4']) await move(drum);
  await trial.do('trial-close-count', { words: 'four drums' }, 'custodian', 'storeman');
  for (const drum of ['D-5', 'D-6', 'D-7']) await move(drum);
  return trial;
}

/** The same store with other lines, or other heads, as a hand on the file would leave it. */
function tamperedWith(
  store: ReadableStore,
  change: { lines?: readonly StoredLine[]; heads?: readonly StoredHead[] },
): ReadableStore {
  const { lines, heads } = change;
  const reader: StoreReader = {
    ...store.reader,
    ...(heads && { heads: async () => heads }),
    ...(lines && {
      lines: async (first: number, below: number) =>
        lines.filter((line) => line.number >= first && line.number < below),
    }),
  };
  return { plant: store.plant, reader, close: async () => {} };
}

const check = (store: ReadableStore, publicKey?: string): Promise<Verification> =>
  verifyJournal(store, { registry, checkSignature, ...(publicKey && { publicKey }) });

const linesOf = (trial: Trial): Promise<readonly StoredLine[]> => trial.store.reader.lines(1, 99);

/** Lines with the text of one changed and every hash behind it made to fit again. */
function rehashed(
  lines: readonly StoredLine[],
  number: number,
  change: (entry: Record<string, unknown>) => void,
): StoredLine[] {
  let previousHash: string | undefined;
  return lines.map((line) => {
    if (line.number < number) return line;
    const entry = JSON.parse(line.text) as Record<string, unknown>;
    if (line.number === number) change(entry);
    if (previousHash !== undefined) entry.previousHash = previousHash;
    const text = canonicalText(entry);
    previousHash = entryHash(text);
    return { number: line.number, text, hash: previousHash };
  });
}

describe('verification of a journal', () => {
  it('holds for what the recorder wrote, and says how much stands under a signed head', async () => {
    const trial = await makeJournal();
    const last = await trial.store.reader.lastLine();
    expect(await check(trial.store, trial.signer.publicKey)).toEqual({
      holds: true,
      entries: 8,
      headHash: last?.hash,
      rootHash: await rootHash(trial.books, 8),
      headsChecked: 1,
      entriesSigned: 5,
    });
  });

  it('holds for an empty journal', async () => {
    const trial = await makeTrial([trialStation]);
    expect(await check(trial.store)).toMatchObject({ holds: true, entries: 0 });
  });

  it('finds any altered byte of any entry and names the entry', async () => {
    const lines = await linesOf(await makeJournal());
    const store = (await makeJournal()).store;
    for (const { number, text } of lines) {
      const bytes = Buffer.from(text);
      for (let at = 0; at < bytes.length; at += 1) {
        const altered = Buffer.from(bytes);
        altered[at] = (bytes[at] as number) ^ (1 << (at % 7));
        const changed = lines.map((line) =>
          line.number === number ? { ...line, text: altered.toString('latin1') } : line,
        );
        const found = await verifyNear(store, changed, number);
        if (found !== number) expect({ number, at, found }).toBe('named');
      }
    }
  });

  it('finds an altered hash of an entry', async () => {
    const trial = await makeJournal();
    const lines = (await linesOf(trial)).map((line) =>
      line.number === 3 ? { ...line, hash: line.hash.replace(/^./, 'g') } : line,
    );
    expect(await check(tamperedWith(trial.store, { lines }))).toMatchObject({
      holds: false,
      entry: 3,
    });
  });

  it('finds a removed, doubled, inserted or exchanged entry, wherever it stands', async () => {
    const trial = await makeJournal();
    const lines = await linesOf(trial);
    const renumbered = (changed: readonly StoredLine[]): StoredLine[] =>
      changed.map((line, index) => ({ ...line, number: index + 1 }));
    for (let at = 0; at < lines.length; at += 1) {
      const line = lines[at] as StoredLine;
      const removed = lines.toSpliced(at, 1);
      const doubled = renumbered(lines.toSpliced(at, 0, line));
      const changes = [removed, renumbered(removed), doubled];
      if (at > 0)
        changes.push(renumbered(lines.with(at, lines[at - 1] as StoredLine).with(at - 1, line)));
      for (const changed of changes.slice(at === lines.length - 1 ? 2 : 0)) {
        const found = await check(tamperedWith(trial.store, { lines: changed }));
        expect(found.holds).toBe(false);
        if (!found.holds) expect(Math.abs(found.entry - (at + 1))).toBeLessThanOrEqual(1);
      }
    }
  });

  it('finds a cut head: by the signed head before it, else by the tree in the books', async () => {
    const trial = await makeJournal();
    const lines = await linesOf(trial);
    for (let length = 0; length < lines.length; length += 1) {
      const found = await check(tamperedWith(trial.store, { lines: lines.slice(0, length) }));
      const why = length < 5 ? 'a head of 5 entries is signed' : 'the books know it';
      expect(found).toMatchObject({ holds: false, why: expect.stringContaining(why) });
    }
  });

  it('finds an entry whose hash, and all behind it, were made to fit again', async () => {
    const trial = await makeJournal();
    const lines = rehashed(await linesOf(trial), 2, (entry) => {
      entry.author = 'somebody else';
    });
    const found = await check(tamperedWith(trial.store, { lines }));
    expect(found).toMatchObject({ holds: false, entry: 5, why: expect.stringContaining('head') });
  });

  it.each<[string, (entry: Record<string, unknown>) => void, RegExp]>([
    [
      'is that of another plant',
      (entry) => {
        entry.plant = 'other';
      },
      /belongs to plant other/,
    ],
    [
      'bears another number',
      (entry) => {
        entry.number = 9;
      },
      /says that it is entry 9/,
    ],
    [
      'does not follow the one before',
      (entry) => {
        entry.previousHash = '0'.repeat(64);
      },
      /does not follow/,
    ],
    [
      'is of a kind that no station knows',
      (entry) => {
        entry.kind = 'Unheard';
      },
      /kind Unheard/,
    ],
    [
      'moves other metal than its body says',
      (entry) => {
        entry.postings = [{ ...(entry.postings as object[])[0], pieces: 101 }];
      },
      /not those/,
    ],
    [
      'holds a posting that does not balance',
      (entry) => {
        entry.postings = [{ ...(entry.postings as object[])[0], to: 'with-supplier' }];
      },
      /to itself/,
    ],
    [
      'has no list of postings',
      (entry) => {
        entry.postings = null;
      },
      /cannot be read/,
    ],
  ])('names an entry that %s, even when its hash fits', async (_what, change, why) => {
    const trial = await makeJournal();
    const lines = rehashed(await linesOf(trial), 7, change);
    const found = await check(tamperedWith(trial.store, { lines }));
    expect(found).toEqual({ holds: false, entry: 7, why: expect.stringMatching(why) });
  });

  it.each([
    ['no JSON', 'entry'],
    ['JSON that is no entry', 'null'],
    ['JSON that is not canonical', '{ "number": 8 }'],
    ['a name twice', '{"number":8,"number":8}'],
    ['half of a surrogate pair', '{"number":"\\ud800"}'],
  ])('names an entry whose text is %s, with the right hash beside it', async (_what, text) => {
    const trial = await makeJournal();
    const lines = (await linesOf(trial)).map((line) =>
      line.number === 8 ? { number: 8, text, hash: entryHash(text) } : line,
    );
    expect(await check(tamperedWith(trial.store, { lines }))).toMatchObject({
      holds: false,
      entry: 8,
    });
  });

  it('finds a head that is altered, of another tree, of another key, or no head', async () => {
    const trial = await makeJournal();
    const [head] = await trial.store.reader.heads();
    const text = head?.text ?? '';
    const signed = JSON.parse(text);
    const otherSigner = signerFromSeed('22'.repeat(32));
    const resigned = (statement: object, signer = trial.signer): string =>
      canonicalText({
        statement,
        publicKey: signer.publicKey,
        signature: signer.sign(Buffer.from(canonicalText(statement))),
      });
    const texts: readonly [string, RegExp][] = [
      [canonicalText({ ...signed, signature: signed.signature.replace(/^./, '_') }), /not good/],
      [resigned({ ...signed.statement, treeSize: 4 }), /another tree/],
      [resigned({ ...signed.statement, plant: 'other' }), /another tree/],
      [resigned({ ...signed.statement, rootHash: '0'.repeat(64) }), /does not cover/],
      [resigned(signed.statement, otherSigner), /another key/],
      ['{}', /cannot be read/],
      ['null', /cannot be read/],
    ];
    for (const [changed, why] of texts) {
      const heads = [{ treeSize: 5, text: changed }];
      const found = await check(tamperedWith(trial.store, { heads }), trial.signer.publicKey);
      expect(found).toEqual({ holds: false, entry: 5, why: expect.stringMatching(why) });
    }
  });

  it('finds books that keep another tree than the journal gives', async () => {
    const trial = await makeJournal();
    const changed = { level: 3, place: 0, hash: '0'.repeat(64) };
    await trial.store.write((writer) => writer.put(merkleNodes, changed));
    const found = await check(trial.store);
    expect(found).toMatchObject({ holds: false, why: expect.stringContaining('another tree') });
  });

  it('keeps the tree of the books and the tree of its own equal at every size', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 40 }), async (size) => {
        const trial = await makeTrial([trialStation]);
        const moves = Array.from({ length: size }, (_, index) => trialMove({ drum: `D-${index}` }));
        await trial.do('trial-move-pieces', { moves }, 'custodian');
        const found = await check(trial.store);
        expect(found).toMatchObject({ holds: true, rootHash: await rootHash(trial.books, size) });
      }),
      { seed: 9162, numRuns: 15 },
    );
  });
});

/** The entry that verification names, with only the lines up to the altered one read. */
async function verifyNear(
  store: ReadableStore,
  lines: readonly StoredLine[],
  number: number,
): Promise<number | undefined> {
  const near = lines.slice(0, number);
  const found = await check(tamperedWith(store, { lines: near, heads: [] }));
  return found.holds ? undefined : found.entry;
}

describe('books made anew', () => {
  it('equal the live books, table by table', async () => {
    const trial = await makeJournal();
    const rebuilt = new MemoryStore('trial');
    expect(await rebuildInto(trial.store, rebuilt, registry)).toBe(8);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.map(({ book }) => book)).toEqual(registry.books.map(({ name }) => name));
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
    expect(comparisons.find(({ book }) => book === 'trial_drum')?.records).toBe(7);
    expect(await rebuilt.reader.heads()).toEqual(await trial.store.reader.heads());
    expect(await check(rebuilt)).toEqual(await check(trial.store));
  });

  it('differ by name from live books that were changed by hand', async () => {
    const trial = await makeJournal();
    const rebuilt = new MemoryStore('trial');
    await rebuildInto(trial.store, rebuilt, registry);
    const differenceAfter = async (change: Parameters<typeof trial.store.write>[0]) => {
      await trial.store.write(change);
      const comparisons = await compareBooks(trial.store, rebuilt, registry);
      return comparisons.filter(({ equal }) => !equal);
    };
    const extra = { drum: 'D-0', moves: 1, pieces: 1, last: '' };
    expect(await differenceAfter((writer) => writer.put(trialDrums, extra))).toMatchObject([
      { book: 'trial_drum', records: 8, difference: { live: canonicalText(extra) } },
    ]);
    expect(
      await differenceAfter(async (writer) => {
        await writer.remove(trialDrums, ['D-0']);
        await writer.remove(trialDrums, ['D-7']);
      }),
    ).toMatchObject([{ book: 'trial_drum', records: 6, difference: { live: null } }]);
  });

  it('are put right in place, and the journal stays as it is', async () => {
    const trial = await makeJournal();
    const whole = new MemoryStore('trial');
    await rebuildInto(trial.store, whole, registry);
    const lines = await linesOf(trial);
    await trial.store.write(async (writer) => {
      await writer.clear([trialDrums]);
      await writer.put(trialDrums, { drum: 'D-0', moves: 1, pieces: 1, last: '' });
    });
    expect(await rebuildBooks(trial.store, registry)).toBe(8);
    const comparisons = await compareBooks(trial.store, whole, registry);
    expect(comparisons.every(({ equal }) => equal)).toBe(true);
    expect(await linesOf(trial)).toEqual(lines);
  });

  it('are carried on from where they stand when the journal has grown', async () => {
    const trial = await makeJournal();
    const rebuilt = new MemoryStore('trial');
    await rebuildInto(trial.store, rebuilt, registry);
    await trial.do('trial-move-pieces', { moves: [trialMove({ drum: 'D-8' })] }, 'custodian');
    await trial.do('trial-close-count', { words: 'once more' }, 'custodian', 'storeman');
    expect(await trial.store.reader.heads()).toHaveLength(
      (await rebuilt.reader.heads()).length + 1,
    );
    const behind = await compareBooks(trial.store, rebuilt, registry);
    expect(behind.some(({ equal }) => !equal)).toBe(true);
    const entries = (await trial.store.reader.lastLine())?.number;
    expect(entries).toBeGreaterThan(8);
    expect(await rebuildInto(trial.store, rebuilt, registry)).toBe(entries);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
    expect(await rebuilt.reader.heads()).toEqual(await trial.store.reader.heads());
    expect(await check(rebuilt)).toEqual(await check(trial.store));
  });

  it('are compared over more records than one page holds', async () => {
    const trial = await makeTrial([trialStation]);
    for (let command = 0; command < 12; command += 1) {
      const moves = Array.from({ length: 100 }, (_, index) =>
        trialMove({ drum: `D-${command}-${index}` }),
      );
      await trial.do('trial-move-pieces', { moves }, 'custodian');
    }
    const rebuilt = new MemoryStore('trial');
    expect(await rebuildInto(trial.store, rebuilt, registry)).toBe(1200);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.every(({ equal }) => equal)).toBe(true);
    expect(comparisons.find(({ book }) => book === 'trial_drum')?.records).toBe(1200);
  });
});
