import { describe, expect, it } from 'vitest';
import { reagentLotOf, unfitLot } from '../index.ts';
import { trialOfRegisters } from '../registers-trial.ts';

/** An invented lot. */
const acid = {
  lot: 'ACID-7',
  reagent: 'nitric acid 33 %',
  supplier: 'Hill Chemicals',
  supplierLot: '4711',
  expires: '2026-06-30',
  isTitrant: false,
};

const names = (refusals: readonly { refusal: string }[]) => refusals.map((one) => one.refusal);

describe('a lot of a reagent', () => {
  it('is received, opened until a day not after its label, and condemned with a reason', async () => {
    const trial = await trialOfRegisters();
    const refused = async (command: string, input: object) =>
      names(await trial.refused(command, input, 'assayer'));
    await trial.recorded('receive-reagent-lot', acid, 'assayer');
    expect(await refused('receive-reagent-lot', acid)).toEqual(['ReagentLotAlreadyReceived']);
    const open = { lot: 'ACID-7', expires: '2026-04-30' };
    expect(await refused('open-reagent-lot', { ...open, expires: '2026-07-01' })).toEqual([
      'ExpiryAfterLabel',
    ]);
    await trial.recorded('open-reagent-lot', open, 'assayer');
    expect(await refused('open-reagent-lot', open)).toEqual(['ReagentLotAlreadyOpen']);
    const condemn = { lot: 'ACID-7', reason: 'Chloride was found in it.' };
    await trial.recorded('condemn-reagent-lot', condemn, 'assayer');
    expect(await refused('condemn-reagent-lot', condemn)).toEqual(['ReagentLotCondemned']);
    expect(await refused('open-reagent-lot', { ...open, lot: 'NONE' })).toEqual([
      'ReagentLotUnknown',
    ]);
    expect(await trial.ask('reagent-lots', {}, 'auditor')).toMatchObject({
      lots: [{ state: 'condemned', expires: '2026-04-30', factor: null }],
    });
    expect(await trial.ask('reagent-lot', { lot: 'ACID-7' }, 'auditor')).toMatchObject({
      factors: [],
    });
    expect(await trial.ask('reagent-lot', { lot: 'NONE' }, 'auditor')).toBeNull();
  });

  it('serves while it is open and not past its last day', async () => {
    const trial = await trialOfRegisters();
    const unfit = async (day: string) =>
      names(
        unfitLot({ id: 'ACID-7', field: 'lot' }, await reagentLotOf(trial.books, 'ACID-7'), day),
      );
    expect(await unfit('2026-03-02')).toEqual(['ReagentLotUnknown']);
    await trial.recorded('receive-reagent-lot', acid);
    expect(await unfit('2026-03-02')).toEqual(['ReagentLotNotOpen']);
    await trial.recorded('open-reagent-lot', { lot: 'ACID-7', expires: '2026-06-30' });
    expect(await unfit('2026-06-30')).toEqual([]);
    expect(await unfit('2026-07-01')).toEqual(['ReagentExpired']);
  });
});
