import { describe, expect, it } from 'vitest';
import {
  type AccountTrial,
  accountTrial,
  bodyOf,
  close,
  found,
  refusalOf,
} from '../account-trial.ts';
import type { PlaceTallied } from '../bodies.ts';
import type { RackAtPlace } from './rack-answer.ts';

// Three drums of 100 pieces of 31.103 g: 3 110.3 g each.

async function withRacks(): Promise<AccountTrial> {
  const trial = await accountTrial();
  for (const drum of ['D-1', 'D-2', 'D-3']) await trial.move({ drum, pieces: 100 });
  for (const [rack, title] of [
    ['R-1', 'North wall'],
    ['R-2', 'South wall'],
  ]) {
    await trial.do('open-rack', { rack, place: 'receiving', title }, 'accountant');
  }
  await trial.do('put-away', { rack: 'R-1', containers: ['D-1', 'D-2'] }, 'custodian');
  await trial.do('put-away', { rack: 'R-2', containers: ['D-3'] }, 'custodian');
  return trial;
}

const count = (trial: AccountTrial, rack: string, lines: readonly object[], author = 'custodian') =>
  trial.do('count-rack', { rack, lines }, author);

const sum = (trial: AccountTrial, beside: readonly object[] = [], place = 'receiving') =>
  trial.do('tally-racks', { place, beside }, 'storeman');

async function racksShown(trial: AccountTrial, person: string): Promise<readonly RackAtPlace[]> {
  const desk = (await trial.ask('balance-desk', {}, person)) as {
    readonly places: readonly { readonly place: string; readonly racks: readonly RackAtPlace[] }[];
  };
  return desk.places.find(({ place }) => place === 'receiving')?.racks ?? [];
}

describe('a tally made rack by rack', () => {
  it('is the sum of the counts, each with its own person and reading, and of what lies beside', async () => {
    const trial = await withRacks();
    await count(trial, 'R-1', [found(200, '6220.6')]);
    await count(trial, 'R-2', [found(99, '3079.2', 'B-UP')], 'inspector');
    await trial.move({ drum: 'D-4', pieces: 1, grossMicrograms: 31_103_000 });
    const body = bodyOf<PlaceTallied>(await sum(trial, [found(1, '31.1')]));
    expect(body.racks).toEqual([
      { rack: 'R-1', count: expect.any(Number), author: 'custodian' },
      { rack: 'R-2', count: expect.any(Number), author: 'inspector' },
    ]);
    expect(body.lines).toEqual([
      {
        metal: 'gold',
        pieceStandard: 'trial-piece',
        finenessDeclaredPartsPerMillion: 1_000_000,
        pieces: 300,
        gross: null,
        instrument: 'B-IN',
        grossMicrograms: 9_330_900_000,
        fineMicrograms: 9_330_900_000,
      },
    ]);
    // The balance of grams takes a weighing for each rack.
    expect(refusalOf(await close(trial))).toEqual(['PiecesDiffer']);
    await trial.do('tally-place', { place: 'receiving', lines: [found(301, '9362.0')] }, 'dies');
    expect(refusalOf(await close(trial))).toBe('recorded');
  });

  it('has no mass where a rack that holds pieces was not weighed', async () => {
    const trial = await withRacks();
    await count(trial, 'R-1', [found(200, '6220.6')]);
    await count(trial, 'R-2', [found(100, null)]);
    expect(bodyOf<PlaceTallied>(await sum(trial)).lines).toMatchObject([
      { pieces: 300, grossMicrograms: null, instrument: null },
    ]);
  });

  it('is refused while a rack is not counted, or was counted before its containers moved', async () => {
    const trial = await withRacks();
    await count(trial, 'R-1', [found(200, null)]);
    const outcome = await sum(trial);
    expect(refusalOf(outcome)).toEqual(['RackNotCounted']);
    expect(outcome).toMatchObject({ refusals: [{ figures: { rack: 'R-2' } }] });
    expect(JSON.stringify(outcome)).toContain('Rack R-2 in receiving, South wall');
    await count(trial, 'R-2', [found(100, null)]);
    await trial.do('put-away', { rack: 'R-2', containers: ['D-2'] }, 'custodian');
    // D-2 has changed racks: neither count is true any more.
    expect(refusalOf(await sum(trial))).toEqual(['RackCountOutdated', 'RackCountOutdated']);
    await count(trial, 'R-1', [found(100, null)]);
    await count(trial, 'R-2', [found(200, null)]);
    await trial.move({ drum: 'D-3', from: 'receiving', to: 'put-up', pieces: 100 });
    expect(refusalOf(await sum(trial))).toEqual(['RackCountOutdated']);
    await count(trial, 'R-2', [found(100, null)]);
    await trial.move({ drum: 'D-5', pieces: 100 });
    // What came after a count lay in no rack of the place then.
    await trial.do('put-away', { rack: 'R-1', containers: ['D-5'] }, 'custodian');
    expect(await sum(trial)).toMatchObject({ refusals: [{ figures: { rack: 'R-1' } }] });
    await count(trial, 'R-1', [found(200, null)]);
    expect(refusalOf(await sum(trial))).toBe('recorded');
  });

  it('begins anew after a close', async () => {
    const trial = await withRacks();
    await count(trial, 'R-1', [found(200, null)]);
    await count(trial, 'R-2', [found(100, null)]);
    await sum(trial);
    expect(refusalOf(await close(trial))).toBe('recorded');
    expect(refusalOf(await sum(trial))).toEqual(['RackNotCounted', 'RackNotCounted']);
  });

  it('stands under its place on the desk; what the labels say only for those who see the book', async () => {
    const trial = await withRacks();
    await count(trial, 'R-1', [found(199, null)]);
    expect(await racksShown(trial, 'accountant')).toMatchObject([
      {
        rack: 'R-1',
        count: { person: 'custodian', outdatedBy: null },
        lines: [{ pieceStandard: 'trial-piece', piecesCounted: 199, piecesLabelled: 200 }],
      },
      { rack: 'R-2', title: 'South wall', count: null, lines: null },
    ]);
    expect(await racksShown(trial, 'storeman')).toMatchObject([
      { rack: 'R-1', lines: null },
      { rack: 'R-2', lines: null },
    ]);
  });

  it.each([
    ['RackUnknown', 'count-rack', { rack: 'R-9', lines: [] }],
    [
      'PieceStandardUnknown',
      'count-rack',
      { rack: 'R-1', lines: [{ ...found(1, null), pieceStandard: 'x' }] },
    ],
    ['PlaceWithoutRacks', 'tally-racks', { place: 'put-up', beside: [] }],
  ])('is refused with %s', async (refusal, command, input) => {
    const trial = await withRacks();
    expect(refusalOf(await trial.do(command, input, 'custodian'))).toEqual([refusal]);
  });

  it('refuses what lies beside the racks as any tally does, at its own field', async () => {
    const trial = await withRacks();
    await count(trial, 'R-1', [found(200, null)]);
    await count(trial, 'R-2', [found(100, null)]);
    const outcome = await sum(trial, [{ ...found(1, '31.1'), instrument: 'B-OLD' }]);
    expect(outcome).toMatchObject({
      refusals: [{ refusal: 'CalibrationOverdue', field: 'beside.0.instrument' }],
    });
  });
});
