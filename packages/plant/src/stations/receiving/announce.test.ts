import { describe, expect, it } from 'vitest';
import { balances } from '../../journal/core-books.ts';
import { consignmentOf, drumsOfMelt, isSealUsed, meltOf, supplierFinenessOf } from './index.ts';
import { delivery, makeAnnouncedTrial, makeReceivingTrial } from './trial-receiving.ts';

/** The delivery under other names, so that nothing of it is known yet. */
const second = {
  ...delivery,
  consignment: 'C-2',
  melts: [{ melt: 'M-9', supplierFinenessPerMille: null }],
  drums: [{ ...delivery.drums[0], drum: 'D-9', melt: 'M-9', seal: 'S-9' }],
};

describe('announce-consignment', () => {
  it("records the packing list and, apart from it, the supplier's own fineness", async () => {
    const trial = await makeReceivingTrial();
    expect(await trial.recorded('announce-consignment', delivery, 'custodian')).toEqual([
      {
        kind: 'ConsignmentAnnounced',
        body: {
          consignment: 'C-1',
          supplier: 'NORTH',
          document: 'Delivery note 4711',
          pieceStandard: 'GOLD-10',
          metal: 'gold',
          finenessDeclaredPartsPerMillion: 999_900,
          melts: [
            { melt: 'M-1', pieces: 600 },
            { melt: 'M-2', pieces: 200 },
          ],
          drums: [
            { ...delivery.drums[0], netMicrograms: 3_010_000_000 },
            { ...delivery.drums[1], netMicrograms: 3_000_000_000 },
            { ...delivery.drums[2], netMicrograms: 2_000_000_000 },
          ],
        },
        postings: [],
      },
      {
        kind: 'SupplierFinenessStated',
        body: { consignment: 'C-1', melts: [{ melt: 'M-1', supplierFinenessPerMille: 999.93 }] },
        postings: [],
      },
    ]);
  });

  it('records one entry only when the supplier states no fineness', async () => {
    const trial = await makeReceivingTrial();
    const entries = await trial.recorded('announce-consignment', second, 'custodian');
    expect(entries.map(({ kind }) => kind)).toEqual(['ConsignmentAnnounced']);
    expect(await supplierFinenessOf(trial.books, 'M-9')).toBeUndefined();
  });

  it('moves nothing, and fills the books that stations downstream read', async () => {
    const trial = await makeAnnouncedTrial();
    expect(await trial.books.select(balances)).toEqual([]);
    expect(await meltOf(trial.books, 'M-1')).toEqual({
      melt: 'M-1',
      consignment: 'C-1',
      supplier: 'NORTH',
      pieceStandard: 'GOLD-10',
      pieces: 600,
      state: 'announced',
    });
    expect((await drumsOfMelt(trial.books, 'M-1')).map(({ drum }) => drum)).toEqual(['D-1', 'D-2']);
    expect(await consignmentOf(trial.books, 'C-1')).toMatchObject({ state: 'announced' });
    expect(await supplierFinenessOf(trial.books, 'M-1')).toBe(999.93);
    expect(await isSealUsed(trial.books, 'S-1')).toBe(true);
    expect(await isSealUsed(trial.books, 'S-9')).toBe(false);
  });

  it('refuses everything that is known already, each with its field, and records nothing', async () => {
    const trial = await makeAnnouncedTrial();
    const before = await trial.store.reader.lastLine();
    const refusals = await trial.refused('announce-consignment', delivery, 'custodian');
    expect(refusals.map(({ refusal, field }) => [refusal, field])).toEqual([
      ['ConsignmentAlreadyAnnounced', 'consignment'],
      ['MeltAlreadyAnnounced', 'melts.0.melt'],
      ['MeltAlreadyAnnounced', 'melts.1.melt'],
      ['DrumAlreadyAnnounced', 'drums.0.drum'],
      ['DrumAlreadyAnnounced', 'drums.1.drum'],
      ['DrumAlreadyAnnounced', 'drums.2.drum'],
      ['SealAlreadyUsed', 'drums.0.seal'],
      ['SealAlreadyUsed', 'drums.1.seal'],
      ['SealAlreadyUsed', 'drums.2.seal'],
    ]);
    expect(refusals[6]?.message).toBe('Seal S-1 was on drum D-1.');
    expect(await trial.store.reader.lastLine()).toEqual(before);
  });

  it('refuses an unknown supplier and an unknown piece standard', async () => {
    const trial = await makeReceivingTrial();
    const input = { ...second, supplier: 'SOUTH', pieceStandard: 'GOLD-11' };
    expect(await trial.refused('announce-consignment', input, 'custodian')).toMatchObject([
      { refusal: 'SupplierUnknown', figures: { supplier: 'SOUTH' } },
      { refusal: 'PieceStandardUnknown', figures: { pieceStandard: 'GOLD-11' } },
    ]);
  });

  it('refuses a supplier on the day after the last day of the approval', async () => {
    const trial = await makeReceivingTrial();
    trial.now = Date.parse('2026-12-31T23:59:00.000Z');
    await trial.recorded('announce-consignment', delivery, 'custodian');
    trial.now = Date.parse('2027-01-01T00:01:00.000Z');
    expect(await trial.refused('announce-consignment', second, 'custodian')).toMatchObject([
      {
        refusal: 'SupplierNotApproved',
        message: 'North Smelter was approved until 2026-12-31; today is 2027-01-01.',
      },
    ]);
  });

  it('refuses a melt that is smaller than its sample', async () => {
    const trial = await makeReceivingTrial();
    const input = { ...second, drums: [{ ...second.drums[0], pieces: 1 }] };
    expect(await trial.refused('announce-consignment', input, 'custodian')).toMatchObject([
      { refusal: 'MeltTooSmall', figures: { melt: 'M-9', pieces: 1, leastPieces: 2 } },
    ]);
  });

  const [drum] = second.drums;
  it.each([
    ['a drum of a melt that is not listed', { drums: [{ ...drum, melt: 'M-8' }] }, 'drums.0.melt'],
    [
      'a melt that lies in no drum',
      { melts: [...second.melts, { melt: 'M-8', supplierFinenessPerMille: null }] },
      'melts.1.melt',
    ],
    ['the same drum twice', { drums: [drum, { ...drum, seal: 'S-8' }] }, 'drums.1.drum'],
    ['the same seal twice', { drums: [drum, { ...drum, drum: 'D-8' }] }, 'drums.1.seal'],
    ['the same melt twice', { melts: [second.melts[0], second.melts[0]] }, 'melts.1.melt'],
    ['a tare as heavy as the gross', { drums: [{ ...drum, tare: drum?.gross }] }, 'drums.0.tare'],
    ['no drum at all', { drums: [] }, 'drums'],
    ['half a piece', { drums: [{ ...drum, pieces: 300.5 }] }, 'drums.0.pieces'],
    ['pieces as text', { drums: [{ ...drum, pieces: '300' }] }, 'drums.0.pieces'],
    [
      'a mass in millimetres',
      { drums: [{ ...drum, gross: { text: '5', unit: 'mm', typed: true } }] },
      'drums.0.gross.unit',
    ],
    [
      'a fineness above pure metal',
      { melts: [{ melt: 'M-9', supplierFinenessPerMille: 1000.1 }] },
      'melts.0.supplierFinenessPerMille',
    ],
    [
      'a melt with a slash, which blanks use',
      {
        melts: [{ melt: 'M/9', supplierFinenessPerMille: null }],
        drums: [{ ...drum, melt: 'M/9' }],
      },
      'melts.0.melt',
    ],
  ])('refuses %s', async (_what, change, field) => {
    const trial = await makeReceivingTrial();
    const input = { ...second, ...change };
    const refusals = await trial.refused('announce-consignment', input, 'custodian');
    expect(refusals[0]).toMatchObject({ refusal: 'InputNotAccepted', field });
  });

  it('refuses a fineness in percent, and takes one that is merely low', async () => {
    const trial = await makeReceivingTrial();
    const stated = (supplierFinenessPerMille: number) => ({
      ...second,
      melts: [{ melt: 'M-9', supplierFinenessPerMille }],
    });
    const refusals = await trial.refused('announce-consignment', stated(99.933), 'custodian');
    expect(refusals).toMatchObject([
      {
        refusal: 'FinenessImplausible',
        field: 'melts.0.supplierFinenessPerMille',
        message:
          'Melt M-9: 99.933 ‰, less than half of the declared 999.9 ‰; written in percent it is 999.33 ‰. From 499.95 ‰ to 1000 ‰ is taken.',
      },
    ]);
    await trial.recorded('announce-consignment', stated(750), 'custodian');
  });

  it('is done by the custodian alone', async () => {
    const trial = await makeReceivingTrial();
    expect(await trial.refused('announce-consignment', second, 'assayer')).toMatchObject([
      { refusal: 'RoleMissing' },
    ]);
  });
});
