import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { descents } from '../../journal/core-books.ts';
import { sha256Hex } from '../../journal/entry.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import { registersStation } from '../registers/station.ts';
import { blanksOfMelt, samplingOrderOf } from './index.ts';
import { pickListPaper } from './papers.ts';
import { codeOf } from './pick-list-pdf.ts';
import { type PickWalk, pickWalk } from './pick-walk.ts';
import { receivingStation } from './station.ts';
import {
  grams,
  makeOrderedTrial,
  makeWeighedTrial,
  type ReceivingTrial,
} from './trial-receiving.ts';

const drawing = { melt: 'M-2', gross: grams('200.1'), instrument: 'BALANCE-1' };
const reason = 'The blank is bent and lies outside its place.';

const picksOf = async (trial: ReceivingTrial, melt: string) =>
  (await blanksOfMelt(trial.books, melt)).map(({ blank, drum, position }) => ({
    blank,
    drum,
    position,
  }));

describe('substitute-pick', () => {
  const substituting = { melt: 'M-1', blank: 'M-1/3', from: 'the same drum', reason };

  it('draws another place from the seed, so that nobody chooses it', async () => {
    const trial = await makeOrderedTrial();
    const before = await picksOf(trial, 'M-1');
    const old = before.find(({ blank }) => blank === 'M-1/3');
    const [entry] = await trial.recorded('substitute-pick', substituting, 'inspector');
    const order = await samplingOrderOf(trial.books, 'M-1');
    const body = entry?.body as {
      drawn: object;
      substitute: { drum: string; position: number };
      draw: {
        input: { seed: string; containers: object[] };
        output: { picks: { position: number }[] };
      };
    };
    expect(entry).toMatchObject({
      kind: 'PickSubstituted',
      postings: [],
      body: { reason, pick: 3 },
    });
    expect(body.drawn).toEqual({ drum: old?.drum, position: old?.position });
    expect(body.draw.input.seed).toBe(sha256Hex(`${order?.seed} substitute M-1/3 1`));
    // 40 of the 300 places of the drum are picks: 260 are free.
    expect(body.draw.input.containers).toEqual([{ container: 'D-1', pieces: 260 }]);
    const taken = new Set(
      before.filter(({ drum }) => drum === 'D-1').map(({ position }) => position),
    );
    const free = Array.from({ length: 300 }, (_, index) => index + 1).filter(
      (position) => !taken.has(position),
    );
    expect(body.substitute).toEqual({
      drum: 'D-1',
      position: free[(body.draw.output.picks[0]?.position ?? 0) - 1],
    });
    const after = await picksOf(trial, 'M-1');
    expect(after.find(({ blank }) => blank === 'M-1/3')).toEqual({
      blank: 'M-1/3',
      ...body.substitute,
    });
    // The order keeps what was drawn first.
    expect(order?.blanks.find(({ blank }) => blank === 'M-1/3')).toMatchObject({
      drum: old?.drum,
      position: old?.position,
    });
  });

  it('draws anew when the substitute cannot be taken either, never a place that was drawn', async () => {
    const trial = await makeOrderedTrial();
    const seen = new Set(
      (await picksOf(trial, 'M-1')).map((pick) => `${pick.drum} ${pick.position}`),
    );
    for (let time = 0; time < 5; time += 1) {
      await trial.recorded('substitute-pick', substituting, 'inspector');
      const now = (await picksOf(trial, 'M-1')).find(({ blank }) => blank === 'M-1/3');
      const place = `${now?.drum} ${now?.position}`;
      expect(seen.has(place)).toBe(false);
      seen.add(place);
    }
  });

  it('draws from the other drums where the drum itself cannot be reached', async () => {
    const trial = await makeOrderedTrial();
    const input = { ...substituting, from: 'the other drums' };
    await trial.recorded('substitute-pick', input, 'inspector');
    const now = (await picksOf(trial, 'M-1')).find(({ blank }) => blank === 'M-1/3');
    expect(now?.drum).toBe('D-2');
    const all = { ...drawing, melt: 'M-1', gross: grams('800.4') };
    await trial.recorded('record-draw', all, 'inspector');
    // The blank descends from the drum out of which it was taken.
    const rows = await trial.books.select(descents, { prefix: ['drum', 'D-2'] });
    expect(rows.map((row) => JSON.stringify(row)).join()).toContain('M-1/3');
  });

  it('refuses a melt without an order', async () => {
    const trial = await makeWeighedTrial();
    expect(await trial.refused('substitute-pick', substituting, 'inspector')).toMatchObject([
      { refusal: 'SamplesNotOrdered' },
    ]);
  });

  it('refuses once the sample was drawn', async () => {
    const trial = await makeOrderedTrial();
    await trial.recorded('record-draw', drawing, 'inspector');
    const input = { ...substituting, melt: 'M-2', blank: 'M-2/3' };
    expect(await trial.refused('substitute-pick', input, 'inspector')).toMatchObject([
      { refusal: 'SampleAlreadyDrawn' },
    ]);
  });

  it('refuses a blank that is no pick', async () => {
    const trial = await makeOrderedTrial();
    const input = { ...substituting, blank: 'M-1/99' };
    expect(await trial.refused('substitute-pick', input, 'inspector')).toMatchObject([
      { refusal: 'PickUnknown', field: 'blank' },
    ]);
  });

  it('refuses where no place is left', async () => {
    const trial = await makeOrderedTrial();
    const input = { ...substituting, melt: 'M-2', blank: 'M-2/3', from: 'the other drums' };
    expect(await trial.refused('substitute-pick', input, 'inspector')).toMatchObject([
      {
        refusal: 'NoPlaceForSubstitute',
        message: 'No place is left for M-2/3 in the other drums of its melt.',
      },
    ]);
  });

  it('refuses to go without a reason', async () => {
    const trial = await makeOrderedTrial();
    const input = { ...substituting, reason: ' ' };
    const [refusal] = await trial.refused('substitute-pick', input, 'inspector');
    expect(refusal).toMatchObject({ refusal: 'InputNotAccepted', field: 'reason' });
  });

  it('leaves books that are the same when they are made anew', async () => {
    const trial = await makeOrderedTrial();
    await trial.recorded('substitute-pick', substituting, 'inspector');
    const registry = registerStations([registersStation, receivingStation]);
    const rebuilt = new MemoryStore('trial');
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
  });
});

describe('record-draw with its scans', () => {
  const all = async (trial: ReceivingTrial) =>
    (await picksOf(trial, 'M-2')).map(({ blank }) => blank);

  it('records which picks were scanned', async () => {
    const trial = await makeOrderedTrial();
    const scanned = await all(trial);
    const input = { ...drawing, verification: { scanned, reason: null } };
    const entries = await trial.recorded('record-draw', input, 'inspector');
    expect(entries.map(({ kind }) => kind)).toEqual(['PicksVerified', 'SampleDrawn']);
    expect(entries[0]).toMatchObject({
      body: { consignment: 'C-1', melt: 'M-2', scanned, notScanned: [], reason: null },
      postings: [],
    });
  });

  it('names those that were not, with the reason', async () => {
    const trial = await makeOrderedTrial();
    const scanned = (await all(trial)).slice(2);
    const why = 'The scanner failed at the last two.';
    const input = { ...drawing, verification: { scanned, reason: why } };
    const [entry] = await trial.recorded('record-draw', input, 'inspector');
    expect(entry).toMatchObject({ body: { notScanned: ['M-2/1', 'M-2/2'], reason: why } });
    expect(await trial.ask('pick-list', { melt: 'M-2' }, 'inspector')).toMatchObject({
      verified: { scanned: 18, notScanned: ['M-2/1', 'M-2/2'], reason: why },
    });
  });

  it('refuses picks that were not scanned and no reason', async () => {
    const trial = await makeOrderedTrial();
    const scanned = (await all(trial)).slice(8);
    const input = { ...drawing, verification: { scanned, reason: null } };
    expect(await trial.refused('record-draw', input, 'inspector')).toMatchObject([
      {
        refusal: 'PicksNotVerified',
        message:
          '8 of 20 picks were not scanned: M-2/1, M-2/2, M-2/3, M-2/4, M-2/5, M-2/6 and 2 more.',
      },
    ]);
  });

  it('refuses a code that is no pick of the melt', async () => {
    const trial = await makeOrderedTrial();
    const scanned = [...(await all(trial)), 'M-1/1'];
    const input = { ...drawing, verification: { scanned, reason: null } };
    expect(await trial.refused('record-draw', input, 'inspector')).toMatchObject([
      { refusal: 'PickUnknown', field: 'verification.scanned.20' },
    ]);
  });
});

const places = ({ drums }: PickWalk) =>
  drums.flatMap(({ drum, picks }) => picks.map(({ position }) => `${drum} ${position}`));

describe('the walk along the drums', () => {
  it('is that of the draw, drum by drum and position by position', async () => {
    const trial = await makeOrderedTrial();
    const walk = await pickWalk(trial.books, 'M-1', null);
    const order = await samplingOrderOf(trial.books, 'M-1');
    expect(places(walk)).toEqual(order?.blanks.map(({ drum, position }) => `${drum} ${position}`));
    expect(walk.words).toBe('Take 80 pieces at 2 of 2 containers.');
    expect(walk.drums.map(({ takenBefore }) => takenBefore)).toEqual([0, 40]);
  });

  it('has the same picks on trays of any size, each on its tray', async () => {
    const trial = await makeOrderedTrial();
    const plain = places(await pickWalk(trial.books, 'M-1', null));
    for (const trayPieces of [1, 7, 100, 10_000]) {
      const walk = await pickWalk(trial.books, 'M-1', trayPieces);
      expect(places(walk)).toEqual(plain);
      for (const { position, tray, place } of walk.drums.flatMap(({ picks }) => picks)) {
        expect(((tray ?? 0) - 1) * trayPieces + (place ?? 0)).toBe(position);
        expect(place).toBeLessThanOrEqual(trayPieces);
      }
    }
  });

  it('shows a substitute where it lies, and why', async () => {
    const trial = await makeOrderedTrial();
    const before = (await picksOf(trial, 'M-2')).find(({ blank }) => blank === 'M-2/3');
    const input = { melt: 'M-2', blank: 'M-2/3', from: 'the same drum', reason };
    await trial.recorded('substitute-pick', input, 'inspector');
    const walk = await pickWalk(trial.books, 'M-2', null);
    const pick = walk.drums[0]?.picks.find(({ blank }) => blank === 'M-2/3');
    expect(pick?.substitutedFor).toBe(`instead of ${before?.position} in D-3: ${reason}`);
    const positions = walk.drums[0]?.picks.map(({ position }) => position) ?? [];
    expect(positions).toEqual([...positions].sort((a, b) => a - b));
  });
});

describe('the printed pick list', () => {
  const print = async (trial: ReceivingTrial, id: string) =>
    pickListPaper.render(
      {
        books: trial.books,
        instant: '2026-03-02T08:00:00.000Z',
        signer: trial.signer,
        proofOf: async () => undefined,
      },
      id,
    );

  it('is a PDF, and the same bytes each time', async () => {
    const trial = await makeOrderedTrial();
    const paper = await print(trial, 'M-1@100');
    expect(paper).toMatchObject({ mediaType: 'application/pdf', fileName: 'pick-list-M-1.pdf' });
    const head = new TextDecoder('latin1').decode(paper?.bytes.slice(0, 5));
    expect(head).toBe('%PDF-');
    expect((await print(trial, 'M-1@100'))?.bytes).toEqual(paper?.bytes);
    expect((await print(trial, 'M-1'))?.bytes).not.toEqual(paper?.bytes);
  }, 30_000);

  it.each(['M-7', 'M-1@0', 'M-1@many', 'M-1@100000'])('is none for %s', async (id) => {
    expect(await print(await makeOrderedTrial(), id)).toBeUndefined();
  });

  it('is none while no sample is ordered', async () => {
    expect(await print(await makeWeighedTrial(), 'M-1')).toBeUndefined();
  });

  it('has a code of square modules for every id', () => {
    expect(codeOf('M-1/3')).toMatch(/^<svg[^>]*viewBox="0 0 (\d+) \1"/);
  });
});
