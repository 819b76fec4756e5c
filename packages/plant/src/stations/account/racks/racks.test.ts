import { describe, expect, it } from 'vitest';
import { type AccountTrial, accountTrial, bodyOf, refusalOf } from '../account-trial.ts';
import { rackPapers } from './docket.ts';

async function withBoxes(): Promise<AccountTrial> {
  const trial = await accountTrial();
  for (const drum of ['D-1', 'D-2', 'D-3']) await trial.move({ drum, pieces: 100 });
  const rack = { rack: 'R-1', place: 'receiving', title: 'North wall' };
  await trial.do('open-rack', rack, 'accountant');
  return trial;
}

const put = (trial: AccountTrial, containers: readonly string[], rack = 'R-1') =>
  trial.do('put-away', { rack, containers }, 'custodian');
const check = (trial: AccountTrial, found: readonly string[]) =>
  trial.do('check-rack', { rack: 'R-1', found }, 'custodian');

describe('racks inside a place', () => {
  it('hold what was put there and has not left, with its pieces and mass', async () => {
    const trial = await withBoxes();
    await put(trial, ['D-1', 'D-2']);
    expect(await trial.ask('racks', {}, 'accountant')).toMatchObject({
      // Two drums of 100 pieces of 31.103 g.
      racks: [{ rack: 'R-1', pieces: 200, grossMicrograms: 6_220_600_000 }],
    });
    expect(await trial.ask('racks', {}, 'custodian')).toMatchObject({
      racks: [{ containers: null, pieces: null }],
    });
    await trial.move({ drum: 'D-2', from: 'receiving', to: 'put-up', pieces: 100 });
    expect(await trial.ask('racks', {}, 'accountant')).toMatchObject({
      racks: [{ pieces: 100, containers: [{ container: 'D-1' }] }],
    });
  });

  it('are checked by scanning: what is missing or strange stays on the docket', async () => {
    const trial = await withBoxes();
    await put(trial, ['D-1', 'D-2']);
    expect(bodyOf(await check(trial, ['D-1', 'D-3']))).toMatchObject({
      missing: ['D-2'],
      strange: ['D-3'],
    });
    expect((await rackPapers(trial.books)).map(({ what }) => what)).toEqual([
      'Rack R-1 in receiving: D-2 not there; D-3 there by mistake.',
    ]);
    await put(trial, ['D-3']);
    await check(trial, ['D-1', 'D-2', 'D-3']);
    expect(await rackPapers(trial.books)).toEqual([]);
  });

  it.each([
    ['RackAlreadyOpened', 'open-rack', { rack: 'R-1', place: 'put-up', title: 'Again' }],
    ['RackUnknown', 'put-away', { rack: 'R-9', containers: ['D-1'] }],
    ['RackUnknown', 'check-rack', { rack: 'R-9', found: [] }],
    ['ContainerElsewhere', 'put-away', { rack: 'R-1', containers: ['D-9'] }],
    ['ContainerNamedTwice', 'put-away', { rack: 'R-1', containers: ['D-1', 'D-1'] }],
    ['ContainerNamedTwice', 'check-rack', { rack: 'R-1', found: ['D-1', 'D-1'] }],
  ])('are refused with %s', async (refusal, command, input) => {
    const trial = await withBoxes();
    expect(refusalOf(await trial.do(command, input, 'chief'))).toEqual([refusal]);
  });
});
