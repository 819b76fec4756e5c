import { describe, expect, it } from 'vitest';
import type { JsonObject } from '../../ports/json.ts';
import { receivingDocket } from './docket.ts';
import {
  grams,
  makeAnnouncedTrial,
  makeOrderedTrial,
  makeWeighedTrial,
  type ReceivingTrial,
  weighings,
} from './trial-receiving.ts';

interface Desk {
  readonly consignments: readonly (JsonObject & { readonly next: JsonObject })[];
  readonly lying: readonly JsonObject[];
}

const desk = async (trial: ReceivingTrial, person = 'custodian') =>
  (await trial.ask('receiving-desk', {}, person)) as Desk;

const next = async (trial: ReceivingTrial) => (await desk(trial)).consignments[0]?.next;

const draw = (melt: string, text: string) => ({
  melt,
  gross: grams(text),
  instrument: 'BALANCE-1',
});

describe('receiving-desk', () => {
  it('says what is next, from the first drum to the last draw', async () => {
    const trial = await makeAnnouncedTrial();
    expect(await next(trial)).toEqual({
      command: 'weigh-drum',
      words: 'Weigh D-1, D-2, D-3.',
      ids: ['D-1', 'D-2', 'D-3'],
    });
    await trial.weigh('D-2');
    await trial.weigh('D-3');
    const stopping = { drum: 'D-1', sealFound: null, reason: 'The seal is broken.' };
    await trial.recorded('stop-drum', stopping, 'custodian', 'inspector');
    expect(await next(trial)).toMatchObject({ command: 'admit-drum', ids: ['D-1'] });
    const admitting = { drum: 'D-1', sealAdmitted: 'S-7', reason: 'Sealed anew with us.' };
    await trial.recorded('admit-drum', admitting, 'chief', 'custodian');
    const weighing = { ...weighings['D-1'], sealFound: 'S-7', instrument: 'BALANCE-1' };
    await trial.recorded('weigh-drum', weighing, 'custodian');
    expect(await next(trial)).toMatchObject({ command: 'tally-drum', ids: ['D-1'] });
    await trial.recorded('tally-drum', { drum: 'D-1', piecesFound: 300 }, 'custodian', 'inspector');
    expect(await next(trial)).toMatchObject({ command: 'order-samples', ids: ['M-1', 'M-2'] });
    await trial.recorded('order-samples', { consignment: 'C-1' }, 'inspector');
    expect(await next(trial)).toMatchObject({ command: 'record-draw', ids: ['M-1', 'M-2'] });
    await trial.recorded('record-draw', draw('M-1', '800.4'), 'inspector');
    expect(await next(trial)).toMatchObject({ command: 'record-draw', ids: ['M-2'] });
    await trial.recorded('record-draw', draw('M-2', '200.1'), 'inspector');
    expect(await next(trial)).toMatchObject({ command: null, ids: [] });
  });

  it('shows pieces and masses against the document', async () => {
    const trial = await makeWeighedTrial();
    const { consignments, lying } = await desk(trial, 'chief');
    expect(consignments).toMatchObject([
      {
        consignment: 'C-1',
        supplierName: 'North Smelter',
        pieceStandardTitle: 'Gold piece of ten grams',
        pieces: 800,
        piecesDocumented: 800,
        netMicrograms: 8_001_700_000,
        settledDrums: 3,
        drums: [
          { drum: 'D-1', state: 'counted', differenceGrossMicrograms: -9_000_000 },
          { drum: 'D-2', state: 'counted', differenceGrossMicrograms: 500_000 },
          { drum: 'D-3', state: 'counted', differenceGrossMicrograms: 200_000 },
        ],
      },
    ]);
    expect(lying).toMatchObject([
      { melt: 'M-1', pieces: 600, grossMicrograms: 6_001_500_000 },
      { melt: 'M-2', pieces: 200, grossMicrograms: 2_000_200_000 },
    ]);
    // Who counts at receiving is not told what the book says lies there.
    expect((await desk(trial)).lying).toBeNull();
  });
});

describe('consignment and pick-list', () => {
  it('answer every reading and count of a drum', async () => {
    const trial = await makeWeighedTrial();
    expect(await trial.ask('consignment', { consignment: 'C-1' }, 'inspector')).toMatchObject({
      drums: [
        {
          drum: 'D-1',
          netReadingsMicrograms: [3_001_000_000],
          count: { calculation: 'count-by-weight' },
        },
        { drum: 'D-2' },
        { drum: 'D-3' },
      ],
      orders: [],
      seedEntry: 8,
    });
    expect(await trial.ask('consignment', { consignment: 'C-7' }, 'inspector')).toBeNull();
  });

  it('answer the picks drum by drum in walking order', async () => {
    const trial = await makeOrderedTrial();
    const list = (await trial.ask('pick-list', { melt: 'M-1' }, 'inspector')) as {
      drums: { drum: string; picks: { position: number }[] }[];
      planWords: string;
    };
    expect(list.drums.map(({ drum, picks }) => [drum, picks.length])).toEqual([
      ['D-1', 40],
      ['D-2', 40],
    ]);
    for (const { picks } of list.drums) {
      const positions = picks.map(({ position }) => position);
      expect(positions).toEqual([...positions].sort((a, b) => a - b));
    }
    expect(list.planWords).toContain('Examine 80 of 600 pieces.');
    expect(await trial.ask('pick-list', { melt: 'M-7' }, 'inspector')).toBeNull();
  });
});

describe("the supplier's own fineness", () => {
  it.each(['chief', 'assayer', 'inspector', 'custodian', 'auditor'])(
    'is in no question of receiving, for %s neither',
    async (person) => {
      const trial = await makeOrderedTrial();
      const answers = [
        await trial.ask('receiving-desk', {}, person),
        await trial.ask('consignment', { consignment: 'C-1' }, person),
        await trial.ask('pick-list', { melt: 'M-1' }, person),
      ];
      const text = JSON.stringify(answers);
      expect(text).toContain('M-1');
      expect(text).not.toContain('999.93');
      expect(text).not.toContain('supplierFinenessPerMille":9');
    },
  );
});

describe('the docket of receiving', () => {
  it('lists stopped drums before everything else', async () => {
    const trial = await makeAnnouncedTrial();
    expect(await receivingDocket(trial.books)).toEqual([]);
    const stopping = { drum: 'D-1', sealFound: null, reason: 'The seal is broken.' };
    await trial.recorded('stop-drum', stopping, 'custodian', 'inspector');
    expect(await receivingDocket(trial.books)).toEqual([
      {
        paper: 'receiving-stopped-D-1',
        station: 'receiving',
        what: 'Drum D-1 of melt M-1, 300 pieces, is stopped.',
        why: 'The seal is broken.',
        holdsUp: 'The samples of consignment C-1',
        act: 'Admit the drum or send it back',
        path: '/receiving/consignments/C-1',
        since: '2026-03-02T07:00:00.000Z',
        weight: 'stopped',
      },
    ]);
  });

  it('lists samples to be ordered and to be drawn, and nothing once they are', async () => {
    const trial = await makeWeighedTrial();
    const acts = async () =>
      (await receivingDocket(trial.books)).map(({ paper, act }) => [paper, act]);
    expect(await acts()).toEqual([['receiving-order-samples-C-1', 'Order the samples']]);
    await trial.recorded('order-samples', { consignment: 'C-1' }, 'inspector');
    expect(await acts()).toEqual([['receiving-record-draw-C-1', 'Record the draw']]);
    await trial.recorded('record-draw', draw('M-1', '800.4'), 'inspector');
    await trial.recorded('record-draw', draw('M-2', '200.1'), 'inspector');
    expect(await acts()).toEqual([]);
  });
});

describe('drum-trial', () => {
  const trying = (drum: 'D-1', gross: string) => ({
    drum,
    gross: grams(gross),
    tare: grams('2000.0'),
    instrument: 'BALANCE-1',
  });

  it('says what a weighing would say, and records nothing', async () => {
    const trial = await makeAnnouncedTrial();
    const before = await trial.store.reader.lastLine();
    const answer = await trial.ask('drum-trial', trying('D-1', '5001.0'), 'custodian');
    expect(answer).toMatchObject({
      refusals: [],
      state: 'counted',
      netMicrograms: 3_001_000_000,
      count: { calculation: 'count-by-weight', output: { verdict: 'proved' } },
    });
    expect(await trial.store.reader.lastLine()).toEqual(before);
    await trial.weigh('D-1');
    const [entry] = (await trial.store.reader.lines(1, 100)).slice(-1);
    // The weighing that is recorded afterwards holds the very count that was shown.
    expect(JSON.parse(entry?.text ?? '').body.count).toEqual((answer as JsonObject).count);
  });

  it('says why it would be refused, and never which seal the document names', async () => {
    const trial = await makeAnnouncedTrial();
    const answer = await trial.ask('drum-trial', trying('D-1', '500.1'), 'custodian');
    expect(answer).toMatchObject({ refusals: [{ refusal: 'TareAboveGross' }], count: null });
    expect(JSON.stringify(answer)).not.toContain('S-1');
  });
});
