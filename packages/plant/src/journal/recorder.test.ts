import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../adapters/memory-store.ts';
import { type Store, StoreFull, type StoreWriter } from '../ports/store.ts';
import { bookReader } from './books.ts';
import { balanceOfPlace, requests, threads } from './core-books.ts';
import { canonicalText, entryHash, genesisHash } from './entry.ts';
import { Fault } from './fault.ts';
import type { Outcome, Request } from './recorder.ts';
import { makeTrial, type Trial } from './trial.ts';
import { trialDrums, trialMove, trialStation } from './trial-station.ts';

/** A memory store that counts its writes and can be without room. */
class CountingStore extends MemoryStore {
  writes = 0;
  full = false;

  override write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    this.writes += 1;
    return super.write(async (writer) => {
      const result = await work(writer);
      if (this.full) throw new StoreFull(new Error('no room'));
      return result;
    });
  }
}

const trialWith = async (): Promise<{ trial: Trial; store: CountingStore }> => {
  const store = new CountingStore('trial');
  return { trial: await makeTrial([trialStation], { store }), store };
};

const request = (key: string, changes: Partial<Request> = {}): Request => ({
  command: 'trial-move-pieces',
  input: { moves: [trialMove()] },
  author: 'custodian',
  signed: true,
  idempotencyKey: key,
  ...changes,
});

const refusalsOf = (outcome: Outcome): string[] =>
  outcome.outcome === 'refused' ? outcome.refusals.map((refusal) => refusal.refusal) : [];

const entriesIn = async (store: Store): Promise<number> =>
  (await store.reader.lastLine())?.number ?? 0;

describe('recorder', () => {
  it('chains entries: number, hash of the one before, hash of the canonical text', async () => {
    const { trial, store } = await trialWith();
    await trial.do('trial-move-pieces', { moves: [trialMove(), trialMove()] }, 'custodian');
    await trial.do('trial-close-count', { words: 'counted' }, 'custodian', 'storeman');
    const lines = await store.reader.lines(1, 9);
    expect(lines.map((line) => line.number)).toEqual([1, 2, 3]);
    let previousHash = genesisHash;
    for (const line of lines) {
      const entry = JSON.parse(line.text);
      expect(entry.previousHash).toBe(previousHash);
      expect(canonicalText(entry)).toBe(line.text);
      expect(entryHash(line.text)).toBe(line.hash);
      previousHash = line.hash;
    }
    expect(JSON.parse(lines[2]?.text ?? '')).toMatchObject({
      plant: 'trial',
      kind: 'TrialCountClosed',
      kindVersion: 1,
      instant: '2026-03-02T07:00:00.000Z',
      shift: '2026-03-02-early',
      author: 'custodian',
      witness: 'storeman',
      station: 'trial',
      body: { words: 'counted' },
      postings: [],
    });
  });

  it('answers the recorded entries, frozen, and what the rule answers', async () => {
    const { trial } = await trialWith();
    const outcome = await trial.do('trial-move-pieces', { moves: [trialMove()] }, 'custodian');
    expect(outcome).toMatchObject({
      outcome: 'recorded',
      repeated: false,
      answer: { movesBefore: 0 },
      entries: [{ number: 1, postings: [{ pieces: 100, from: 'with-supplier' }] }],
    });
    if (outcome.outcome !== 'recorded') return;
    expect(() => Object.assign(outcome.entries[0]?.body ?? {}, { pieces: 1 })).toThrow(TypeError);
  });

  it('moves pieces and mass in the books, both ends of every posting', async () => {
    const { trial } = await trialWith();
    const inside = trialMove({ from: 'receiving', to: 'put-up', pieces: 40, grossMicrograms: 7 });
    await trial.do('trial-move-pieces', { moves: [trialMove(), inside] }, 'custodian');
    const at = async (place: 'receiving' | 'put-up' | 'with-supplier') =>
      (await balanceOfPlace(trial.books, place)).map((row) => [row.pieces, row.grossMicrograms]);
    expect(await at('receiving')).toEqual([[60, 3_110_299_993]]);
    expect(await at('put-up')).toEqual([[40, 7]]);
    expect(await at('with-supplier')).toEqual([[-100, -3_110_300_000]]);
    expect(await trial.books.select(threads, { prefix: ['drum', 'D-1'] })).toHaveLength(2);
  });
});

describe('a command sent twice', () => {
  it('is recorded once and answers the entries of the first time', async () => {
    const { trial, store } = await trialWith();
    const first = await trial.recorder.record(request('k-1'));
    const second = await trial.recorder.record(request('k-1'));
    expect(second).toMatchObject({ outcome: 'recorded', repeated: true });
    if (first.outcome !== 'recorded' || second.outcome !== 'recorded') throw new Error('refused');
    expect(second.entries).toEqual(first.entries);
    expect(await entriesIn(store)).toBe(1);
  });

  it('is recorded once when both come in the same batch', async () => {
    const { trial, store } = await trialWith();
    const sent = ['k-1', 'k-1', 'k-2', 'k-1'].map((key) => trial.recorder.record(request(key)));
    const outcomes = await Promise.all(sent);
    const repeated = outcomes.map((outcome) => outcome.outcome === 'recorded' && outcome.repeated);
    expect(repeated).toEqual([false, true, false, true]);
    expect(await entriesIn(store)).toBe(2);
    expect(store.writes).toBe(1);
  });

  it('is refused when the key comes with another request, whether input or command', async () => {
    const { trial, store } = await trialWith();
    await trial.recorder.record(request('k-1'));
    const others = [
      request('k-1', { input: { moves: [trialMove({ pieces: 99 })] } }),
      request('k-1', { command: 'trial-close-count' }),
    ];
    for (const other of others) {
      expect(refusalsOf(await trial.recorder.record(other))).toEqual(['RequestKeyNotAccepted']);
    }
    expect(await entriesIn(store)).toBe(1);
  });

  it('counts once per author: the same key of another author is another command', async () => {
    const { trial, store } = await trialWith();
    await trial.recorder.record(request('k-1'));
    await trial.recorder.record(request('k-1', { author: 'storeman' }));
    expect(await entriesIn(store)).toBe(2);
  });

  it('can be sent again with the same key after it was refused', async () => {
    const { trial } = await trialWith();
    const move = trialMove({ from: 'receiving', to: 'put-up' });
    const early = request('k-1', { input: { moves: [move] } });
    expect(refusalsOf(await trial.recorder.record(early))).toEqual(['NotEnoughPieces']);
    await trial.recorder.record(request('k-2'));
    expect(await trial.recorder.record(early)).toMatchObject({
      outcome: 'recorded',
      repeated: false,
    });
  });

  it.each(['', 'has space', 'x'.repeat(121), 'naïve', 'a\u0000'])(
    'is refused with the key %j, which has not the form of a key',
    async (key) => {
      const { trial } = await trialWith();
      expect(refusalsOf(await trial.recorder.record(request(key)))).toEqual([
        'RequestKeyNotAccepted',
      ]);
    },
  );
});

describe('a refusal', () => {
  it('names field, value and what would be accepted, once for every problem of the input', async () => {
    const { trial } = await trialWith();
    const moves = [{ ...trialMove(), pieces: -1, metal: 'lead' }];
    const outcome = await trial.do('trial-move-pieces', { moves }, 'custodian');
    expect(outcome).toMatchObject({
      outcome: 'refused',
      refusals: [
        { refusal: 'InputNotAccepted', field: 'moves.0.metal', figures: { value: 'lead' } },
        { refusal: 'InputNotAccepted', field: 'moves.0.pieces', figures: { value: -1 } },
      ],
    });
  });

  it('meets half of a surrogate pair, in a value or a name, before anything is recorded', async () => {
    const { trial, store } = await trialWith();
    const moves = [trialMove({ words: 'cut \ud83d here' })];
    const outcome = await trial.do('trial-move-pieces', { moves }, 'custodian');
    expect(outcome).toMatchObject({
      refusals: [{ refusal: 'InputNotAccepted', field: 'moves.0.words' }],
    });
    expect(await entriesIn(store)).toBe(0);
  });

  it('leaves nothing: no entry, no record, no number used up', async () => {
    const { trial, store } = await trialWith();
    await trial.do('trial-move-pieces', { moves: [trialMove()] }, 'custodian');
    const out = trialMove({ from: 'receiving', to: 'put-up', pieces: 60 });
    const outcome = await trial.do('trial-move-pieces', { moves: [out, out] }, 'chief');
    expect(outcome).toEqual({
      outcome: 'refused',
      refusals: [
        {
          refusal: 'NotEnoughPieces',
          message:
            '20 more pieces of trial-piece from melt M-1 would leave receiving than lie there.',
          nextStep: 'Count what lies at the place and record the moves that are missing.',
          figures: {
            place: 'receiving',
            pieceStandard: 'trial-piece',
            melt: 'M-1',
            piecesLeft: -20,
          },
        },
      ],
    });
    expect(await entriesIn(store)).toBe(1);
    expect(await trial.books.get(trialDrums, 'D-1')).toMatchObject({ moves: 1 });
    expect(await trial.books.get(requests, 'chief', 'trial-2')).toBeUndefined();
    // Whoever counts is not told how much should lie there.
    const blind = await trial.do('trial-move-pieces', { moves: [out, out] }, 'custodian');
    expect(blind).toMatchObject({ refusals: [{ refusal: 'NotEnoughPieces' }] });
    expect(JSON.stringify(blind)).not.toContain('-20');
    await trial.do('trial-move-pieces', { moves: [out] }, 'custodian');
    expect(await entriesIn(store)).toBe(2);
  });

  it('is given by the rule before any entry is made', async () => {
    const { trial, store } = await trialWith();
    const moves = [trialMove({ drum: 'forbidden' })];
    const outcome = await trial.do('trial-move-pieces', { moves }, 'custodian');
    expect(refusalsOf(outcome)).toEqual(['TrialDrumForbidden']);
    expect(await entriesIn(store)).toBe(0);
  });

  it('says DiskFull to every command of a batch for which there was no room, and none is half there', async () => {
    const { trial, store } = await trialWith();
    store.full = true;
    const sent = ['k-1', 'k-2', 'k-3'].map((key) => trial.recorder.record(request(key)));
    for (const outcome of await Promise.all(sent))
      expect(refusalsOf(outcome)).toEqual(['DiskFull']);
    expect(await entriesIn(store)).toBe(0);
    store.full = false;
    expect(await trial.recorder.record(request('k-1'))).toMatchObject({ repeated: false });
    expect(await entriesIn(store)).toBe(1);
  });
});

describe('commands that share a commit', () => {
  it('are recorded in one write in the order in which they came', async () => {
    const { trial, store } = await trialWith();
    const sent = Array.from({ length: 20 }, (_, index) =>
      trial.recorder.record(
        request(`k-${index}`, { input: { moves: [trialMove({ drum: `D-${index}` })] } }),
      ),
    );
    await Promise.all(sent);
    expect(store.writes).toBe(1);
    const drums = (await store.reader.lines(1, 99)).map((line) => JSON.parse(line.text).body.drum);
    expect(drums).toEqual(Array.from({ length: 20 }, (_, index) => `D-${index}`));
  });

  it('share no more than the limit of a batch', async () => {
    const { trial, store } = await trialWith();
    const sent = Array.from({ length: 300 }, (_, index) =>
      trial.recorder.record(request(`k-${index}`)),
    );
    await Promise.all(sent);
    expect(store.writes).toBe(2);
    expect(await entriesIn(store)).toBe(300);
  });

  it('see what the commands before them in the batch have done', async () => {
    const { trial } = await trialWith();
    const out = { moves: [trialMove({ from: 'receiving', to: 'put-up' })] };
    const sent = [
      trial.recorder.record(request('k-1', { input: out })),
      trial.recorder.record(request('k-2')),
      trial.recorder.record(request('k-3', { input: out })),
      trial.recorder.record(request('k-4', { input: out })),
    ];
    const outcomes = (await Promise.all(sent)).map((outcome) => outcome.outcome);
    expect(outcomes).toEqual(['refused', 'recorded', 'recorded', 'refused']);
  });

  it.each(['decide', 'body', 'posting'])(
    'are all recorded but the one whose %s is at fault',
    async (fault) => {
      const { trial, store } = await trialWith();
      const broken = request('k-2', { input: { moves: [trialMove()], fault } });
      const sent = [request('k-1'), broken, request('k-3')].map((one) =>
        trial.recorder.record(one),
      );
      const settled = await Promise.allSettled(sent);
      expect(settled.map((one) => one.status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
      expect(await entriesIn(store)).toBe(2);
      expect(await trial.books.get(trialDrums, 'D-1')).toMatchObject({ moves: 2, pieces: 200 });
      expect(await trial.recorder.record(request('k-2'))).toMatchObject({ repeated: false });
    },
  );

  it('meets a command that no station offers with a fault', async () => {
    const { trial } = await trialWith();
    const sent = trial.recorder.record(request('k-1', { command: 'melt-everything' }));
    await expect(sent).rejects.toThrow(Fault);
  });
});

describe('listeners', () => {
  it('are told of a commit once, after it is durable, with its entries only', async () => {
    const { trial, store } = await trialWith();
    const told: number[][] = [];
    const stop = trial.recorder.onRecorded((entries) => {
      told.push(entries.map((entry) => entry.number));
    });
    await Promise.all(['k-1', 'k-1', 'k-2'].map((key) => trial.recorder.record(request(key))));
    expect(told).toEqual([[1, 2]]);
    await trial.recorder.record(request('k-1'));
    await trial.do('trial-move-pieces', {}, 'custodian');
    expect(told).toHaveLength(1);
    stop();
    await trial.recorder.record(request('k-3'));
    expect(told).toHaveLength(1);
    expect(await entriesIn(store)).toBe(3);
  });

  it('that throw stop neither the other listeners nor the commands after', async () => {
    const { trial } = await trialWith();
    let told = 0;
    trial.recorder.onRecorded(() => {
      throw new Error('a listener is broken');
    });
    trial.recorder.onRecorded(() => {
      told += 1;
    });
    await trial.recorder.record(request('k-1'));
    await trial.recorder.record(request('k-2'));
    await trial.recorder.idle();
    expect(told).toBe(2);
  });
});

describe('signed heads', () => {
  it('are put beside the journal with the entry that signs, and with no other', async () => {
    const { trial, store } = await trialWith();
    await trial.do('trial-move-pieces', { moves: [trialMove()] }, 'custodian');
    expect(await store.reader.heads()).toEqual([]);
    await trial.do('trial-close-count', { words: 'counted' }, 'custodian', 'storeman');
    const [head] = await store.reader.heads();
    expect(head?.treeSize).toBe(2);
    expect(JSON.parse(head?.text ?? '').statement).toMatchObject({ plant: 'trial', treeSize: 2 });
    expect(await bookReader(store.reader).get(requests, 'custodian', 'trial-2')).toMatchObject({
      firstEntry: 2,
      lastEntry: 2,
    });
  });
});
