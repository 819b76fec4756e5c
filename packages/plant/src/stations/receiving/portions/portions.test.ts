import { beforeEach, describe, expect, it } from 'vitest';
import { MemoryStore } from '../../../adapters/memory-store.ts';
import { balances } from '../../../journal/core-books.ts';
import { registerStations } from '../../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../../journal/rebuild.ts';
import type { Refusal } from '../../../journal/refusal.ts';
import type { Trial } from '../../../journal/trial.ts';
import {
  announceMelt,
  laboratoryTrial,
  measure,
  reading,
  recorded,
  sampleMelt,
} from '../../laboratory/laboratory-trial.ts';
import { laboratoryStation } from '../../laboratory/station.ts';
import { registersStation } from '../../registers/station.ts';
import { heldBlanks } from '../index.ts';
import { receivingStation } from '../station.ts';
import { portions } from './books.ts';
import { portionDocket } from './docket.ts';

let trial: Trial;
let all: readonly string[];
let forAssay: readonly string[];

/** A melt of 60 blanks of 8.01 g, of which 13 were drawn and measured, and two are for assay. */
beforeEach(async () => {
  trial = await laboratoryTrial();
  ({ all, forAssay } = await sampleMelt(trial, 'N-1'));
  recorded(await measure(trial, 'N-1', all));
});

const spare = () => all.filter((blank) => !forAssay.includes(blank));

const portion = (id: string, party: string, change: object = {}) => ({
  portion: id,
  for: party,
  blanks: [] as readonly string[],
  gross: reading('16.02', 'g'),
  seal: `Z-${id}`,
  place: 'Reserve shelf 2, box 4',
  keptUntil: '2026-06-30',
  ...change,
});

const four = () => {
  const blanks = spare();
  return ['plant', 'supplier', 'umpire', 'reserve'].map((party, index) =>
    portion(`P-${index + 1}`, party, { blanks: blanks.slice(2 * index, 2 * index + 2) }),
  );
};

const seal = (list: readonly object[], melt = 'N-1') =>
  trial.do('seal-portions', { melt, portions: list, instrument: 'B-1' }, 'inspector', 'custodian');

async function refusedBy(outcome: ReturnType<Trial['do']>): Promise<readonly Refusal[]> {
  const found = await outcome;
  if (found.outcome === 'recorded') throw new RangeError('it was recorded');
  return found.refusals;
}

async function postingsOf(outcome: ReturnType<Trial['do']>) {
  const found = await outcome;
  if (found.outcome === 'refused') throw new RangeError(JSON.stringify(found.refusals));
  return found.entries.flatMap(({ postings }) =>
    postings.map(({ from, to, pieces, grossMicrograms }) => [from, to, pieces, grossMicrograms]),
  );
}

const lying = async (place: string) => {
  const row = await trial.books.get(balances, place, 'gold', 'lark-8', 'N-1');
  return row && [row.pieces, row.grossMicrograms];
};

const send = (id: string, to: string, sealFound = `Z-${id}`) =>
  trial.do(
    'send-portion',
    { portion: id, to, sealFound, document: 'Note 5' },
    'custodian',
    'inspector',
  );

const takeBack = (id: string, change: object = {}) =>
  trial.do(
    'take-back-portion',
    {
      portion: id,
      sealFound: null,
      blanks: [],
      gross: reading('4.01', 'g'),
      instrument: 'B-1',
      document: 'Note 6',
      ...change,
    },
    'custodian',
    'inspector',
  );

const end = (command: string, id: string, sealFound: string | null = `Z-${id}`) =>
  trial.do(
    command,
    { portion: id, sealFound, reason: 'It is no longer needed.' },
    command === 'return-portion' ? 'custodian' : 'chief',
    'inspector',
  );

describe('seal-portions', () => {
  it('divides a sample between the sides, moves no metal, and holds its blanks', async () => {
    expect(await postingsOf(seal(four()))).toEqual([]);
    expect(await trial.books.get(portions, 'P-4')).toMatchObject({
      for: 'reserve',
      state: 'sealed',
      melt: 'N-1',
      grossMicrograms: 16_020_000,
      keptUntil: '2026-06-30',
    });
    expect((await heldBlanks(trial.books, 'N-1')).size).toBe(8);
  });

  it('keeps the laboratory from cutting, measuring and returning what is sealed', async () => {
    recorded(await seal(four()));
    const [sealed = ''] = spare();
    const cutting = { melt: 'N-1', blanks: [...forAssay, sealed] };
    expect(await refusedBy(trial.do('cut-blanks', cutting, 'assayer'))).toMatchObject([
      { refusal: 'BlankNotForAssay', field: 'blanks.2' },
      { refusal: 'BlankInPortion', field: 'blanks.2', figures: { portion: 'P-1' } },
    ]);
    const returning = {
      melt: 'N-1',
      blanks: [sealed],
      gross: reading('8.01', 'g'),
      instrument: 'B-1',
    };
    expect(
      await refusedBy(trial.do('return-blanks', returning, 'inspector', 'custodian')),
    ).toMatchObject([{ refusal: 'BlankInPortion' }]);
    expect(await refusedBy(measure(trial, 'N-1', [sealed]))).toMatchObject([
      { refusal: 'BlankInPortion' },
      { refusal: 'BlankAlreadyMeasured' },
    ]);
  });

  it('takes cuttings by their grams alone', async () => {
    recorded(await trial.do('cut-blanks', { melt: 'N-1', blanks: forAssay }, 'assayer'));
    const cuttings = portion('P-9', 'umpire', { gross: reading('5.000', 'g'), keptUntil: null });
    recorded(await seal([cuttings]));
    expect(await postingsOf(send('P-9', 'umpire'))).toEqual([
      ['laboratory', 'with-supplier', 0, 5_000_000],
    ]);
  });

  it('refuses a melt that is unknown, or whose sample is not ordered or not drawn', async () => {
    expect(await refusedBy(seal(four(), 'X-1'))).toMatchObject([{ refusal: 'MeltUnknown' }]);
    await announceMelt(trial, 'N-2');
    expect(await refusedBy(seal(four(), 'N-2'))).toMatchObject([{ refusal: 'SamplesNotOrdered' }]);
    recorded(await trial.do('order-samples', { consignment: 'C-N-2' }, 'inspector'));
    expect(await refusedBy(seal(four(), 'N-2'))).toMatchObject([{ refusal: 'SampleNotDrawn' }]);
  });

  it('refuses blanks that are strange, cut, in another portion, or not measured yet', async () => {
    const other = await sampleMelt(trial, 'N-3');
    const one = (blank: string, id: string) =>
      portion(id, 'reserve', { blanks: [blank], gross: reading('8.01', 'g') });
    expect(await refusedBy(seal([one(other.all[0] ?? '', 'Q-1')]))).toMatchObject([
      { refusal: 'BlankNotOfSample' },
    ]);
    expect(await refusedBy(seal([one(other.all[0] ?? '', 'Q-1')], 'N-3'))).toMatchObject([
      { refusal: 'BlankToBeMeasured', field: 'portions.0.blanks.0' },
    ]);
    recorded(await trial.do('cut-blanks', { melt: 'N-1', blanks: forAssay }, 'assayer'));
    expect(await refusedBy(seal([one(forAssay[0] ?? '', 'Q-1')]))).toMatchObject([
      { refusal: 'BlankNotWhole', figures: { use: 'cut' } },
    ]);
    recorded(await seal([one(spare()[0] ?? '', 'Q-1')]));
    expect(await refusedBy(seal([one(spare()[0] ?? '', 'Q-2')]))).toMatchObject([
      { refusal: 'BlankInPortion', figures: { portion: 'Q-1' } },
    ]);
  });

  it('uses an id once, and a seal once in the whole plant', async () => {
    recorded(await seal(four()));
    const blanks = spare().slice(8, 10);
    expect(await refusedBy(seal([portion('P-1', 'plant', { blanks, seal: 'Z-9' })]))).toMatchObject(
      [{ refusal: 'PortionAlreadySealed' }],
    );
    expect(
      await refusedBy(seal([portion('P-9', 'plant', { blanks, seal: 'Z-P-2' })])),
    ).toMatchObject([{ refusal: 'SealAlreadyUsed', figures: { portion: 'P-2' } }]);
    expect(
      await refusedBy(seal([portion('P-9', 'plant', { blanks, seal: 'S-N-1' })])),
    ).toMatchObject([{ refusal: 'SealAlreadyUsed', figures: { drum: 'D-N-1' } }]);
    const announcement = {
      consignment: 'C-7',
      supplier: 'NORTH',
      document: 'Note 7',
      pieceStandard: 'lark-8',
      melts: [{ melt: 'N-7', supplierFinenessPerMille: null }],
      drums: [
        {
          drum: 'D-7',
          melt: 'N-7',
          pieces: 60,
          gross: reading('580.6', 'g'),
          tare: reading('100', 'g'),
          seal: 'Z-P-3',
        },
      ],
    };
    expect(
      await refusedBy(trial.do('announce-consignment', announcement, 'custodian')),
    ).toMatchObject([{ refusal: 'SealAlreadyUsed', figures: { portion: 'P-3' } }]);
  });

  it('refuses masses that cannot be, and more than lies in the laboratory', async () => {
    const blanks = spare().slice(0, 2);
    const heavy = portion('P-1', 'reserve', { blanks, gross: reading('160.2', 'g') });
    expect(await refusedBy(seal([heavy]))).toMatchObject([
      { refusal: 'MassImplausible', field: 'portions.0.gross' },
    ]);
    const cuttings = portion('P-1', 'reserve', { gross: reading('104.14', 'g') });
    // Thirteen blanks of 8.01 g are 104.13 g.
    expect(await refusedBy(seal([cuttings]))).toMatchObject([
      { refusal: 'PortionsBeyondLaboratory', figures: { melt: 'N-1' } },
    ]);
    recorded(await seal(four()));
    const left = portion('P-9', 'reserve', { gross: reading('40.06', 'g') });
    expect(await refusedBy(seal([left]))).toMatchObject([
      { refusal: 'PortionsBeyondLaboratory', figures: { melt: 'N-1' } },
    ]);
  });

  const inputs: readonly (readonly [string, () => readonly object[], string])[] = [
    [
      'a reserve without a day',
      () => [portion('P-1', 'reserve', { keptUntil: null })],
      'portions.0.keptUntil',
    ],
    [
      'an id twice',
      () => [portion('P-1', 'plant'), portion('P-1', 'reserve', { seal: 'Z-2' })],
      'portions.1.portion',
    ],
    [
      'a seal twice',
      () => [portion('P-1', 'plant'), portion('P-2', 'reserve', { seal: 'Z-P-1' })],
      'portions.1.seal',
    ],
    [
      'a blank twice',
      () => [
        portion('P-1', 'plant', { blanks: spare().slice(0, 2) }),
        portion('P-2', 'reserve', { blanks: spare().slice(1, 3) }),
      ],
      'portions.1.blanks.0',
    ],
  ];
  it.each(inputs)('refuses %s', async (_what, list, field) => {
    expect(await refusedBy(seal(list()))).toMatchObject([{ refusal: 'InputNotAccepted', field }]);
  });

  it('refuses a day that has passed, and a balance that does not count', async () => {
    const late = portion('P-1', 'reserve', { keptUntil: '2026-03-01' });
    expect(await refusedBy(seal([late]))).toMatchObject([{ refusal: 'KeptUntilPast' }]);
    // A reserve is kept for ten years at most: 2126 is a slip of one digit.
    const far = portion('P-1', 'reserve', { keptUntil: '2036-03-03' });
    expect(await refusedBy(seal([far]))).toMatchObject([
      {
        refusal: 'DayTooFarAhead',
        field: 'portions.0.keptUntil',
        figures: { day: '2036-03-03', latest: '2036-03-02' },
      },
    ]);
    const input = { melt: 'N-1', portions: [portion('P-1', 'plant')], instrument: 'B-OLD' };
    expect(
      await refusedBy(trial.do('seal-portions', input, 'inspector', 'custodian')),
    ).toMatchObject([{ refusal: 'CalibrationOverdue' }]);
  });
});

describe('a sealed portion', () => {
  beforeEach(async () => {
    recorded(await seal(four()));
  });

  it('leaves the plant with its pieces and grams, and comes back with what is left of it', async () => {
    expect(await lying('laboratory')).toEqual([13, 104_130_000]);
    expect(await postingsOf(send('P-2', 'supplier'))).toEqual([
      ['laboratory', 'with-supplier', 2, 16_020_000],
    ]);
    expect(await lying('laboratory')).toEqual([11, 88_110_000]);
    const [first = '', second = ''] = spare().slice(2, 4);
    const back = { blanks: [first], gross: reading('8.01', 'g') };
    expect(await postingsOf(takeBack('P-2', back))).toEqual([
      ['with-supplier', 'laboratory', 1, 8_010_000],
    ]);
    expect(await lying('laboratory')).toEqual([12, 96_120_000]);
    expect(await trial.books.get(portions, 'P-2')).toMatchObject({
      state: 'opened',
      blanks: [first],
      gone: [second],
    });
    // What came back may be worked on again, what did not is held for ever.
    const held = await heldBlanks(trial.books, 'N-1');
    expect([held.has(first), held.has(second)]).toEqual([false, true]);
  });

  it('stays sealed where it comes back as it went', async () => {
    recorded(await send('P-4', 'umpire'));
    const blanks = spare().slice(6, 8);
    const back = { sealFound: 'Z-P-4', blanks, gross: reading('16.02', 'g') };
    recorded(await takeBack('P-4', back));
    expect(await trial.books.get(portions, 'P-4')).toMatchObject({ state: 'sealed', gone: [] });
  });

  it('is opened by two people, and its blanks are free again', async () => {
    recorded(await end('open-portion', 'P-1'));
    expect((await heldBlanks(trial.books, 'N-1')).size).toBe(6);
    const returning = {
      melt: 'N-1',
      blanks: spare().slice(0, 2),
      gross: reading('16.02', 'g'),
      instrument: 'B-1',
    };
    recorded(await trial.do('return-blanks', returning, 'inspector', 'custodian'));
  });

  it('goes back to its melt, or to the scrap, once its day has passed', async () => {
    expect(await refusedBy(end('return-portion', 'P-4'))).toMatchObject([
      { refusal: 'PortionStillKept', figures: { keptUntil: '2026-06-30', day: '2026-03-02' } },
    ]);
    expect(await refusedBy(end('discard-portion', 'P-4'))).toMatchObject([
      { refusal: 'PortionStillKept' },
    ]);
    trial.now = Date.parse('2026-07-01T07:00:00.000Z');
    expect(await postingsOf(end('return-portion', 'P-4'))).toEqual([
      ['laboratory', 'receiving', 2, 16_020_000],
    ]);
    expect(await postingsOf(end('discard-portion', 'P-1'))).toEqual([
      ['laboratory', 'scrap', 2, 16_020_000],
    ]);
    expect(await lying('receiving')).toEqual([49, 392_490_000]);
    expect(await lying('scrap')).toEqual([2, 16_020_000]);
  });

  it('is stated as used up where nothing comes back, and moves nothing by it', async () => {
    recorded(await send('P-3', 'umpire'));
    expect(await postingsOf(end('discard-portion', 'P-3', null))).toEqual([]);
    expect(await trial.books.get(portions, 'P-3')).toMatchObject({ state: 'used up' });
  });

  it('stays while its melt stands between plant and supplier', async () => {
    trial.now = Date.parse('2026-07-01T07:00:00.000Z');
    const ruling = { melt: 'N-1', ruling: 'refuse', reason: 'The supplier was told.' };
    recorded(await trial.do('rule-melt', ruling, 'chief'));
    expect(await refusedBy(end('discard-portion', 'P-4'))).toMatchObject([
      { refusal: 'PortionInDispute' },
    ]);
  });

  it('refuses what its party, its seal or its state forbid', async () => {
    expect(await refusedBy(send('P-1', 'supplier'))).toMatchObject([
      { refusal: 'PortionNotForRecipient', field: 'to' },
    ]);
    expect(await refusedBy(send('P-2', 'supplier', 'Z-8'))).toMatchObject([
      { refusal: 'PortionSealDiffers', field: 'sealFound' },
    ]);
    expect(await refusedBy(send('P-8', 'supplier'))).toMatchObject([{ refusal: 'PortionUnknown' }]);
    expect(await refusedBy(takeBack('P-2'))).toMatchObject([
      { refusal: 'PortionStateUnfit', figures: { state: 'sealed' } },
    ]);
    recorded(await send('P-2', 'supplier'));
    const strange = { blanks: [forAssay[0]] };
    expect(await refusedBy(takeBack('P-2', strange))).toMatchObject([
      { refusal: 'BlankNotOfSample', field: 'blanks.0' },
    ]);
    expect(await refusedBy(takeBack('P-2', { gross: reading('16.03', 'g') }))).toMatchObject([
      { refusal: 'PortionsBeyondLaboratory', field: 'gross' },
    ]);
  });

  it('refuses to bring cuttings back among whole blanks', async () => {
    recorded(await trial.do('cut-blanks', { melt: 'N-1', blanks: forAssay }, 'assayer'));
    const cuttings = portion('P-9', 'plant', { gross: reading('5.000', 'g'), keptUntil: null });
    recorded(await seal([cuttings]));
    expect(await refusedBy(end('return-portion', 'P-9'))).toMatchObject([
      { refusal: 'PortionNotWhole' },
    ]);
  });

  it('lies elsewhere, or longer, with a reason', async () => {
    const keeping = {
      portion: 'P-4',
      place: 'Shelf 3',
      keptUntil: '2027-01-31',
      reason: 'The melt may be claimed until then.',
    };
    recorded(await trial.do('keep-portion', keeping, 'custodian'));
    expect(await trial.books.get(portions, 'P-4')).toMatchObject({
      place: 'Shelf 3',
      keptUntil: '2027-01-31',
      state: 'sealed',
    });
    const far = { ...keeping, keptUntil: '2127-01-31' };
    expect(await refusedBy(trial.do('keep-portion', far, 'custodian'))).toMatchObject([
      { refusal: 'DayTooFarAhead', field: 'keptUntil' },
    ]);
    const past = { ...keeping, keptUntil: '2026-01-31' };
    expect(await refusedBy(trial.do('keep-portion', past, 'custodian'))).toMatchObject([
      { refusal: 'KeptUntilPast' },
    ]);
    expect(
      await refusedBy(trial.do('keep-portion', { ...keeping, keptUntil: null }, 'custodian')),
    ).toMatchObject([{ refusal: 'KeptUntilPast' }]);
  });

  it('stands on the docket from the day after its last', async () => {
    expect(await portionDocket(trial.books, '2026-06-30T23:00:00.000Z')).toEqual([]);
    recorded(await send('P-3', 'umpire'));
    expect(await portionDocket(trial.books, '2026-07-01T01:00:00.000Z')).toMatchObject([
      { act: 'Return or discard the portion', path: '/receiving/portions/P-1' },
      {},
      { what: 'Portion P-4 of melt N-1, for the reserve, was kept until 2026-06-30.' },
      { act: 'Take the portion back, or keep it longer', why: 'It is with the umpire.' },
    ]);
  });

  it('is shown without its seal, which is read off the portion', async () => {
    const shelf = await trial.ask('portions', {}, 'inspector');
    expect(shelf).toMatchObject({
      portions: [{ portion: 'P-1', pieces: 2, isOverdue: false }, {}, {}, {}],
    });
    const one = await trial.ask('portion', { portion: 'P-4' }, 'inspector');
    expect(one).toMatchObject({ recipients: ['supplier', 'umpire'], place: expect.any(String) });
    expect(JSON.stringify([shelf, one])).not.toContain('Z-P');
    expect(await trial.ask('portion', { portion: 'X' }, 'inspector')).toBeNull();
    expect(await trial.ask('melt-portions', { melt: 'N-1' }, 'inspector')).toMatchObject({
      isDrawn: true,
      freeMicrograms: null,
      portions: [{}, {}, {}, {}],
    });
    expect(await trial.ask('melt-portions', { melt: 'N-1' }, 'chief')).toMatchObject({
      freeMicrograms: 40_050_000,
    });
    expect(await trial.ask('melt-portions', { melt: 'X' }, 'inspector')).toBeNull();
  });
});

describe('the books of portions, differences and documents', () => {
  it('are the same when they are made anew from the journal', async () => {
    recorded(await seal(four()));
    recorded(await send('P-2', 'supplier'));
    recorded(await takeBack('P-2', { blanks: spare().slice(2, 3), gross: reading('8.01', 'g') }));
    recorded(await end('open-portion', 'P-1'));
    const ruling = { melt: 'N-1', ruling: 'refuse', reason: 'The supplier was told.' };
    recorded(await trial.do('rule-melt', ruling, 'chief'));
    const returning = { melt: 'N-1', document: 'Note 8' };
    recorded(await trial.do('return-melt', returning, 'custodian', 'inspector'));
    const raising = {
      consignment: 'C-N-1',
      lines: [{ thing: 'melt', id: 'N-1' }],
      claimWithinDays: 10,
      answerWithinDays: 14,
      dayKind: 'business',
    };
    recorded(await trial.do('raise-difference', raising, 'custodian', 'inspector'));
    const attaching = {
      consignment: 'C-N-1',
      document: 'Certificate 1',
      file: { name: 'one.pdf', sha256: 'ab'.repeat(32) },
      melts: [{ melt: 'N-1', finenessPerMille: 917, composition: [] }],
      correction: null,
    };
    recorded(await trial.do('attach-certificate', attaching, 'custodian'));
    const registry = registerStations([registersStation, receivingStation, laboratoryStation]);
    const rebuilt = new MemoryStore('trial');
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
    const counted = Object.fromEntries(comparisons.map(({ book, records }) => [book, records]));
    expect(counted).toMatchObject({
      receiving_portion: 4,
      receiving_blank_use: 13,
      receiving_difference: 1,
      receiving_difference_line: 2,
      receiving_material_certificate: 1,
      receiving_certified_melt: 1,
    });
  });
});
