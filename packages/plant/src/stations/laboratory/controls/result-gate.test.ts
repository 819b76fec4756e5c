import { describe, expect, it } from 'vitest';
import { reagentLotOf } from '../../registers/index.ts';
import { assayRuns } from '../books.ts';
import { recorded } from '../laboratory-trial.ts';
import { differenceRun, trialWithMethod } from './controls-trial.ts';
import { gatedRuns, resultGate } from './result-gate.ts';

const lot = {
  lot: 'ACID-7',
  reagent: 'nitric acid',
  supplier: 'Hill Chemicals',
  supplierLot: '4711',
  expires: '2026-06-30',
  isTitrant: false,
};

describe('the gate of a result', () => {
  it('holds each lot against the day of its run, not against today', async () => {
    const { trial, blanks } = await trialWithMethod();
    recorded(await trial.do('receive-reagent-lot', lot, 'assayer'));
    recorded(
      await trial.do('open-reagent-lot', { lot: 'ACID-7', expires: '2026-03-02' }, 'assayer'),
    );
    const controls = { reagentLots: ['ACID-7'] };
    recorded(await differenceRun(trial, { assayRun: 'D-1', blanks, controls }));
    const [facts] = await gatedRuns(trial.books, ['D-1', 'D-1', 'NONE']);
    if (!facts) throw new RangeError('no run');
    expect(resultGate([facts])).toEqual([]);
    expect(await reagentLotOf(trial.books, 'ACID-7')).toEqual(facts.lots[0]);
    const later = { ...facts, day: '2026-03-03' };
    expect(resultGate([later])).toMatchObject([
      {
        refusal: 'ReagentExpired',
        message: 'Lot ACID-7 of nitric acid expired on 2026-03-02; the day is 2026-03-03.',
      },
    ]);
  });

  it('finds a run of the journal by its name', async () => {
    const { trial, blanks } = await trialWithMethod();
    recorded(await differenceRun(trial, { assayRun: 'D-1', blanks }));
    const [facts] = await gatedRuns(trial.books, ['D-1']);
    expect(facts?.run).toEqual(await trial.books.get(assayRuns, 'D-1'));
    expect(facts?.edition).toMatchObject({ method: 'AG-DIFF', edition: 1 });
  });
});
