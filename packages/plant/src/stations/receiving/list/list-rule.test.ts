import { describe, expect, it } from 'vitest';
import { defineCommand, draft } from '../../../journal/station.ts';
import { makeTrial } from '../../../journal/trial.ts';
import { registersStation } from '../../registers/station.ts';
import { registerForTrial } from '../../registers/trial-registers.ts';
import { packingListColumnsKept } from '../bodies.ts';
import { PackingListColumnsKept } from '../entries.ts';
import { receivingStation } from '../station.ts';
import { delivery, makeReceivingTrial, type ReceivingTrial } from '../trial-receiving.ts';
import type { ListMapping } from './list-bodies.ts';

const mapping: ListMapping = {
  columns: {
    drum: 'Drum',
    melt: 'Melt',
    pieces: 'Pieces',
    gross: 'Gross',
    tare: 'Tare',
    net: null,
    seal: 'Seal',
    fineness: 'Titre',
  },
  fillDown: false,
  units: { gross: 'kg', tare: 'kg', net: 'kg' },
  finenessUnit: 'per mille',
  decimalMark: 'point',
  groupMark: 'none',
};

const packingList = {
  file: { name: 'list-12.csv', sha256: 'a'.repeat(64), kept: 'as sent' as const },
  mapping,
  rows: delivery.drums.map(({ drum, gross, tare }, index) => ({
    line: index + 2,
    drum,
    gross: `${gross.text} kg`,
    tare: `${tare.text} kg`,
  })),
  setAside: [{ line: 5, reason: 'Left at the supplier.' }],
  totals: [{ line: 6, column: 'Pieces', stated: '800', check: 'agrees' as const }],
};

const confirming = { supplier: 'NORTH', mapping };

async function confirmedTrial(): Promise<ReceivingTrial> {
  const trial = await makeReceivingTrial();
  await trial.recorded('confirm-list-mapping', confirming, 'custodian');
  return trial;
}

const announcing = (change: object = {}) => ({
  ...delivery,
  packingList: { ...packingList, ...change },
});

describe('confirm-list-mapping', () => {
  it('is remembered for the supplier, the newest one', async () => {
    const trial = await makeReceivingTrial();
    const earlier = { ...confirming, mapping: { ...mapping, decimalMark: 'comma' } };
    await trial.recorded('confirm-list-mapping', earlier, 'chief');
    expect(await trial.recorded('confirm-list-mapping', confirming, 'custodian')).toEqual([
      { kind: 'ListMappingConfirmed', body: confirming, postings: [] },
    ]);
    expect(await trial.ask('receiving-desk', {}, 'custodian')).toMatchObject({
      listMappings: [confirming],
    });
  });

  it('refuses an unknown supplier', async () => {
    const trial = await makeReceivingTrial();
    const input = { ...confirming, supplier: 'SOUTH' };
    expect(await trial.refused('confirm-list-mapping', input, 'custodian')).toMatchObject([
      { refusal: 'SupplierUnknown', field: 'supplier' },
    ]);
  });

  it('refuses one column for two fields', async () => {
    const trial = await makeReceivingTrial();
    const columns = { ...mapping.columns, seal: 'Drum' };
    const input = { ...confirming, mapping: { ...mapping, columns } };
    expect(await trial.refused('confirm-list-mapping', input, 'custodian')).toMatchObject([
      { refusal: 'InputNotAccepted', field: 'mapping.columns.seal' },
    ]);
  });

  it('is not done by those who assay', async () => {
    const trial = await makeReceivingTrial();
    expect(await trial.refused('confirm-list-mapping', confirming, 'assayer')).toMatchObject([
      { refusal: 'RoleMissing' },
    ]);
  });

  it('need not be done anew where columns were kept before there were mappings', async () => {
    const keep = defineCommand({
      command: 'keep-as-before',
      station: 'receiving',
      title: 'Keep',
      input: packingListColumnsKept,
      roles: ['custodian'],
      signature: 'none',
      facts: async () => null,
      decide: (input) => ({ entries: [draft(PackingListColumnsKept, input)] }),
    });
    const commands = [...receivingStation.commands, keep];
    const trial = await makeTrial([registersStation, { ...receivingStation, commands }]);
    await registerForTrial(trial);
    const { net: _net, fineness, ...columns } = mapping.columns;
    const kept = {
      supplier: 'NORTH',
      columns: { ...columns, supplierFinenessPerMille: fineness },
      massUnit: 'kg',
      decimalMark: 'point',
    };
    await trial.do('keep-as-before', kept, 'custodian');
    expect(await trial.ask('receiving-desk', {}, 'custodian')).toMatchObject({
      listMappings: [confirming],
    });
    const outcome = await trial.do('announce-consignment', announcing(), 'custodian');
    expect(outcome.outcome).toBe('recorded');
  });
});

describe('announce-consignment with a packing list', () => {
  it('records the file, where each drum stands in it, and what was set aside', async () => {
    const trial = await confirmedTrial();
    const entries = await trial.recorded('announce-consignment', announcing(), 'custodian');
    expect(entries.map(({ kind }) => kind)).toEqual([
      'ConsignmentAnnounced',
      'SupplierFinenessStated',
      'PackingListTaken',
    ]);
    expect(entries[2]).toEqual({
      kind: 'PackingListTaken',
      body: { consignment: 'C-1', supplier: 'NORTH', ...packingList },
      postings: [],
    });
    // The list itself is in no other entry.
    expect(entries[0]?.body).not.toHaveProperty('packingList');
  });

  it('tells the hash to the custodian and the auditor, not to those who assay', async () => {
    const trial = await confirmedTrial();
    await trial.recorded('announce-consignment', announcing(), 'custodian');
    const shown = async (person: string) =>
      ((await trial.ask('consignment', { consignment: 'C-1' }, person)) as { packingList: object })
        .packingList;
    expect(await shown('custodian')).toEqual({
      entry: expect.any(Number),
      name: 'list-12.csv',
      kept: 'as sent',
      sha256: 'a'.repeat(64),
      setAside: packingList.setAside,
      totals: 1,
    });
    expect(await shown('auditor')).toMatchObject({ sha256: 'a'.repeat(64) });
    expect(await shown('assayer')).toMatchObject({ sha256: null });
    expect(await shown('chief')).toMatchObject({ sha256: null });
  });

  it('refuses while nobody has confirmed the mapping', async () => {
    const trial = await makeReceivingTrial();
    expect(await trial.refused('announce-consignment', announcing(), 'custodian')).toMatchObject([
      { refusal: 'ListMappingNotConfirmed', field: 'packingList.mapping' },
    ]);
  });

  it('refuses another mapping than the one confirmed', async () => {
    const trial = await confirmedTrial();
    const input = announcing({ mapping: { ...mapping, units: { ...mapping.units, tare: 'g' } } });
    expect(await trial.refused('announce-consignment', input, 'custodian')).toMatchObject([
      { refusal: 'ListMappingNotConfirmed' },
    ]);
  });

  it('refuses a file that has announced another consignment', async () => {
    const trial = await confirmedTrial();
    await trial.recorded('announce-consignment', announcing(), 'custodian');
    const [drum] = delivery.drums;
    const second = {
      ...announcing({ rows: [{ ...packingList.rows[0], drum: 'D-9' }] }),
      consignment: 'C-2',
      melts: [{ melt: 'M-9', supplierFinenessPerMille: null }],
      drums: [{ ...drum, drum: 'D-9', melt: 'M-9', seal: 'S-9' }],
    };
    expect(await trial.refused('announce-consignment', second, 'custodian')).toMatchObject([
      {
        refusal: 'PackingListAlreadyTaken',
        message: 'The file list-12.csv has announced consignment C-1.',
      },
    ]);
  });

  it('refuses a line that is both taken and set aside', async () => {
    const trial = await confirmedTrial();
    const input = announcing({ setAside: [{ line: 3, reason: 'Not here.' }] });
    expect(await trial.refused('announce-consignment', input, 'custodian')).toMatchObject([
      { refusal: 'LineTakenAndSetAside', figures: { line: 3, drum: 'D-2' } },
    ]);
  });

  it('refuses lines that are not those of the drums announced', async () => {
    const trial = await confirmedTrial();
    const input = announcing({ rows: packingList.rows.slice(1) });
    expect(await trial.refused('announce-consignment', input, 'custodian')).toMatchObject([
      { refusal: 'RowsDiffer', figures: { rows: 2, drums: 3 } },
    ]);
  });

  it.each([
    [
      'a line set aside without a reason',
      { setAside: [{ line: 5, reason: '' }] },
      'setAside.0.reason',
    ],
    ['a hash that is none', { file: { ...packingList.file, sha256: 'A1' } }, 'file.sha256'],
    ['a file without a name', { file: { ...packingList.file, name: '' } }, 'file.name'],
    ['no row at all', { rows: [] }, 'rows'],
  ])('refuses %s', async (_what, change, field) => {
    const trial = await confirmedTrial();
    const refusals = await trial.refused('announce-consignment', announcing(change), 'custodian');
    expect(refusals[0]).toMatchObject({
      refusal: 'InputNotAccepted',
      field: `packingList.${field}`,
    });
  });
});
