import { draw } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { balances, descents } from '../../journal/core-books.ts';
import { sha256Hex } from '../../journal/entry.ts';
import { goldPiece } from '../registers/trial-registers.ts';
import type { MeltSampling, SamplesOrderedBody } from './bodies.ts';
import { blanksOfMelt, consignmentOf, meltOf, samplingOrderOf } from './index.ts';
import {
  delivery,
  grams,
  makeAnnouncedTrial,
  makeOrderedTrial,
  makeReceivingTrial,
  makeWeighedTrial,
  type ReceivingTrial,
  weighings,
} from './trial-receiving.ts';

const order = { consignment: 'C-1' };
const drawing = { melt: 'M-2', gross: grams('200.1'), instrument: 'BALANCE-1' };

async function orderOf(trial: ReceivingTrial): Promise<SamplesOrderedBody> {
  const [entry] = await trial.recorded('order-samples', order, 'inspector');
  return entry?.body as SamplesOrderedBody;
}

describe('order-samples', () => {
  it('orders the greater of the plan and the assay blanks for every melt', async () => {
    const trial = await makeWeighedTrial();
    const { melts, severity, severityReason } = await orderOf(trial);
    const figures = melts.map((melt) => ({
      melt: melt.melt,
      pieces: melt.pieces,
      letter: melt.plan.output.codeLetter,
      samplePieces: melt.samplePieces,
      acceptanceNumber: melt.acceptanceNumber,
      rejectionNumber: melt.rejectionNumber,
    }));
    // MIL-STD-105E, Tables I and II-A, level II, limit 0.65 %: 600 pieces are letter J, sample 80,
    // 1/2; 200 pieces are letter G, whose arrow leads up to letter F, sample 20, 0/1.
    expect(figures).toEqual([
      {
        melt: 'M-1',
        pieces: 600,
        letter: 'J',
        samplePieces: 80,
        acceptanceNumber: 1,
        rejectionNumber: 2,
      },
      {
        melt: 'M-2',
        pieces: 200,
        letter: 'G',
        samplePieces: 20,
        acceptanceNumber: 0,
        rejectionNumber: 1,
      },
    ]);
    expect(severity).toBe('normal');
    expect(severityReason).toContain('begins under normal inspection');
  });

  it('draws from the hash of the last entry that settled a drum, so that anybody can repeat it', async () => {
    const trial = await makeWeighedTrial();
    const lastWeighing = await trial.store.reader.lastLine();
    const { melts, seedEntry, seedHash } = await orderOf(trial);
    expect(seedEntry).toBe(lastWeighing?.number);
    expect(seedHash).toBe(lastWeighing?.hash);
    const [melt] = melts as [MeltSampling];
    expect(melt.seed).toBe(sha256Hex(`${lastWeighing?.hash} M-1`));
    const again = draw({
      seed: melt.seed,
      containers: [
        { container: 'D-1', pieces: 300 },
        { container: 'D-2', pieces: 300 },
      ],
      sampleSizePieces: 80,
    });
    expect(
      melt.blanks.map(({ pick, drum, position }) => ({ pick, container: drum, position })),
    ).toEqual(again.picks);
    expect(again.allocation).toEqual([
      { container: 'D-1', pieces: 40 },
      { container: 'D-2', pieces: 40 },
    ]);
  });

  it('takes the assay blanks by lot from the whole sample', async () => {
    const trial = await makeWeighedTrial();
    const { melts } = await orderOf(trial);
    for (const melt of melts) {
      const positions = draw({
        seed: sha256Hex(`${melt.seed} assay`),
        containers: [{ container: 'sample', pieces: melt.samplePieces }],
        sampleSizePieces: 2,
      }).picks.map(({ position }) => position);
      const forAssay = melt.blanks.filter((blank) => blank.forAssay).map(({ pick }) => pick);
      expect(forAssay).toEqual(positions);
      expect(melt.blanks.every((blank) => blank.forPhysical)).toBe(true);
      expect(melt.physicalDraw).toBeNull();
    }
  });

  it('examines physically only as many as the plan asks when the assay needs more', async () => {
    const trial = await makeAnnouncedTrial();
    const standard = { ...goldPiece, pieceStandard: 'GOLD-10B', blanksForAssayPerMelt: 30 };
    await trial.recorded('register-piece-standard', standard, 'chief');
    const [, , drum] = delivery.drums;
    const small = {
      ...delivery,
      consignment: 'C-2',
      pieceStandard: 'GOLD-10B',
      melts: [{ melt: 'M-9', supplierFinenessPerMille: null }],
      drums: [{ ...drum, drum: 'D-9', melt: 'M-9', seal: 'S-9' }],
    };
    await trial.recorded('announce-consignment', small, 'custodian');
    const weighing = {
      drum: 'D-9',
      sealFound: 'S-9',
      gross: grams('4000.0'),
      tare: grams('2000.0'),
      instrument: 'BALANCE-1',
    };
    await trial.recorded('weigh-drum', weighing, 'custodian');
    await trial.recorded('order-samples', { consignment: 'C-2' }, 'assayer');
    const melt = (await samplingOrderOf(trial.books, 'M-9')) as MeltSampling;
    expect(melt).toMatchObject({ samplePieces: 30, physicalPieces: 20, assayDraw: null });
    expect(melt.blanks.filter((blank) => blank.forPhysical)).toHaveLength(20);
    expect(melt.blanks.filter((blank) => blank.forAssay)).toHaveLength(30);
  });

  it('numbers the blanks of a melt and leaves every drum where it is', async () => {
    const trial = await makeWeighedTrial();
    const before = await trial.books.select(balances);
    await orderOf(trial);
    const blanks = await blanksOfMelt(trial.books, 'M-2');
    expect(blanks).toHaveLength(20);
    expect(blanks[0]).toMatchObject({ blank: 'M-2/1', drum: 'D-3', isDrawn: false });
    expect(blanks[19]).toMatchObject({ blank: 'M-2/20' });
    expect(await trial.books.select(balances)).toEqual(before);
    expect(await meltOf(trial.books, 'M-2')).toMatchObject({ state: 'samples ordered' });
    expect(await samplingOrderOf(trial.books, 'M-2')).toMatchObject({ drawnEntry: null });
  });

  it('refuses while a drum is not settled, and names it with what to do', async () => {
    const trial = await makeAnnouncedTrial();
    await trial.weigh('D-1');
    expect(await trial.refused('order-samples', order, 'inspector')).toMatchObject([
      {
        refusal: 'DrumsNotSettled',
        message: '2 of 3 drums are not settled: D-2 announced, D-3 announced.',
        nextStep: 'Drum D-2: Check its seal and weigh it.',
      },
    ]);
  });

  it('refuses an unknown consignment, and to order twice', async () => {
    const trial = await makeOrderedTrial();
    const unknown = { consignment: 'C-7' };
    expect(await trial.refused('order-samples', unknown, 'inspector')).toMatchObject([
      { refusal: 'ConsignmentUnknown', field: 'consignment' },
    ]);
    expect(await trial.refused('order-samples', order, 'inspector')).toMatchObject([
      { refusal: 'SamplesAlreadyOrdered' },
    ]);
  });

  it('leaves out the drums that have gone back, and refuses when all have', async () => {
    const trial = await makeWeighedTrial();
    for (const drum of ['D-1', 'D-3']) {
      await trial.recorded('return-drum', { drum, document: 'Note' }, 'chief', 'custodian');
    }
    const copy = await makeWeighedTrial();
    for (const drum of ['D-1', 'D-2', 'D-3']) {
      await copy.recorded('return-drum', { drum, document: 'Note' }, 'chief', 'custodian');
    }
    const { melts } = await orderOf(trial);
    expect(melts.map(({ melt, pieces }) => [melt, pieces])).toEqual([['M-1', 300]]);
    expect(await copy.refused('order-samples', order, 'inspector')).toMatchObject([
      { refusal: 'NothingToSample' },
    ]);
  });

  it('refuses a melt of which a tally left too few pieces', async () => {
    const trial = await makeReceivingTrial();
    const [d1, d2, d3] = delivery.drums;
    const small = { ...d3, pieces: 2, gross: { text: '2.0200', unit: 'kg', typed: true } };
    const announced = { ...delivery, drums: [d1, d2, small] };
    await trial.recorded('announce-consignment', announced, 'custodian');
    await trial.weigh('D-1');
    await trial.weigh('D-2');
    const weighing = { ...weighings['D-3'], gross: grams('2010.0'), instrument: 'BALANCE-1' };
    await trial.recorded('weigh-drum', weighing, 'custodian');
    await trial.do('weigh-drum', weighing, 'custodian');
    await trial.recorded('tally-drum', { drum: 'D-3', piecesFound: 1 }, 'custodian', 'inspector');
    expect(await trial.refused('order-samples', order, 'inspector')).toMatchObject([
      {
        refusal: 'MeltTooSmall',
        figures: { melt: 'M-2', pieces: 1, leastPieces: 2 },
        nextStep: 'Send back the drums of melt M-2: D-3.',
      },
    ]);
  });
});

describe('record-draw', () => {
  it('brings the sample to the laboratory with its measured mass', async () => {
    const trial = await makeOrderedTrial();
    const [entry] = await trial.recorded('record-draw', drawing, 'inspector');
    expect(entry).toMatchObject({
      kind: 'SampleDrawn',
      body: { melt: 'M-2', consignment: 'C-1', pieces: 20, grossMicrograms: 200_100_000 },
    });
    expect(entry?.postings).toEqual([
      {
        metal: 'gold',
        pieceStandard: 'GOLD-10',
        melt: 'M-2',
        container: null,
        from: 'receiving',
        to: 'laboratory',
        pieces: 20,
        grossMicrograms: 200_100_000,
        // 200.1 g × 999.9 ‰ = 200.07999 g, by hand.
        fineMicrograms: 200_079_990,
        estimated: false,
      },
    ]);
    const left = await trial.books.get(balances, 'receiving', 'gold', 'GOLD-10', 'M-2');
    expect(left).toMatchObject({ pieces: 180, grossMicrograms: 1_800_100_000 });
  });

  it('makes each blank descend from its drum', async () => {
    const trial = await makeOrderedTrial();
    await trial.recorded('record-draw', drawing, 'inspector');
    const rows = await trial.books.select(descents, { prefix: ['drum', 'D-3'] });
    expect(rows).toHaveLength(20);
    expect((await blanksOfMelt(trial.books, 'M-2')).every(({ isDrawn }) => isDrawn)).toBe(true);
  });

  it('ends the work of receiving when the last melt is drawn', async () => {
    const trial = await makeOrderedTrial();
    await trial.recorded('record-draw', drawing, 'inspector');
    expect(await consignmentOf(trial.books, 'C-1')).toMatchObject({ state: 'samples ordered' });
    const last = { ...drawing, melt: 'M-1', gross: grams('800.4') };
    await trial.recorded('record-draw', last, 'inspector');
    expect(await consignmentOf(trial.books, 'C-1')).toMatchObject({ state: 'samples drawn' });
  });

  it('refuses an unknown melt, one without an order, and a second draw', async () => {
    const trial = await makeWeighedTrial();
    const unknown = { ...drawing, melt: 'M-7' };
    expect(await trial.refused('record-draw', unknown, 'inspector')).toMatchObject([
      { refusal: 'MeltUnknown' },
    ]);
    expect(await trial.refused('record-draw', drawing, 'inspector')).toMatchObject([
      { refusal: 'SamplesNotOrdered' },
    ]);
    await orderOf(trial);
    await trial.recorded('record-draw', drawing, 'inspector');
    expect(await trial.refused('record-draw', drawing, 'inspector')).toMatchObject([
      { refusal: 'SampleAlreadyDrawn', figures: { melt: 'M-2' } },
    ]);
  });

  it.each([
    ['19 blanks', '190.02'],
    ['21 blanks', '210.02'],
  ])('refuses the mass of another count: %s', async (_, text) => {
    const trial = await makeOrderedTrial();
    const slip = { ...drawing, gross: grams(text) };
    // D-3 weighed 2000.2 g with 200 pieces: 20 of them weigh 200.02 g, half a piece is 5.0005 g.
    expect(await trial.refused('record-draw', slip, 'inspector')).toEqual([
      expect.objectContaining({
        refusal: 'MassOfAnotherCount',
        field: 'gross',
        message: `${Number(text)} g for 20 blanks of melt M-2, which weigh 195.02 g to 205.02 g by their drums.`,
      }),
    ]);
  });

  it('takes the mass of an off-weight melt as its drums have it', async () => {
    const trial = await makeAnnouncedTrial();
    await trial.weigh('D-1');
    await trial.weigh('D-2');
    // 200 blanks of 9.7 g: each is 3 % below the least mass of its standard.
    const light = { ...weighings['D-3'], gross: grams('3940.0'), instrument: 'BALANCE-1' };
    await trial.do('weigh-drum', light, 'custodian');
    await trial.do('weigh-drum', light, 'custodian');
    await trial.do('tally-drum', { drum: 'D-3', piecesFound: 200 }, 'custodian', 'inspector');
    await orderOf(trial);
    // Once a drum was counted by hand its weighing may be the wrong one: the standard speaks too.
    const miscounted = { ...drawing, gross: grams('213.40') };
    expect(await trial.refused('record-draw', miscounted, 'inspector')).toMatchObject([
      { refusal: 'MassOfAnotherCount' },
    ]);
    const light20 = { ...drawing, gross: grams('194.00') };
    expect(await trial.recorded('record-draw', light20, 'inspector')).toHaveLength(1);
  });

  it('refuses a mass that so few blanks cannot have, and an unknown balance', async () => {
    const trial = await makeOrderedTrial();
    const slip = { ...drawing, gross: grams('20.01'), instrument: 'BALANCE-9' };
    const refusals = await trial.refused('record-draw', slip, 'inspector');
    expect(refusals.map(({ refusal, field }) => [refusal, field])).toEqual([
      ['InstrumentUnknown', 'instrument'],
      ['MassImplausible', 'gross'],
    ]);
    expect(await trial.refused('record-draw', drawing, 'custodian')).toMatchObject([
      { refusal: 'RoleMissing' },
    ]);
  });
});
