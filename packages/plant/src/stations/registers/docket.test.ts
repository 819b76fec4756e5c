import { describe, expect, it } from 'vitest';
import { makeTrial } from '../../journal/trial.ts';
import { registersDocket } from './docket.ts';
import { registersStation } from './station.ts';
import { drumBalance, goldPiece, registerForTrial } from './trial-registers.ts';

describe('what runs out', () => {
  it('comes onto the docket a fortnight before, and stops work after the day', async () => {
    const trial = await makeTrial([registersStation]);
    await registerForTrial(trial);
    const short = {
      ...drumBalance,
      instrument: 'B/2',
      title: 'Balance two',
      calibrationDue: '2026-03-15',
    };
    await trial.do('register-instrument', short, 'chief');
    const on = (instant: string) => registersDocket(trial.books, instant);
    expect(await on('2026-03-01T12:00:00.000Z')).toEqual([]);
    expect(await on('2026-03-02T00:00:00.000Z')).toEqual([
      {
        paper: 'registers-calibration-B/2-2026-03-15',
        station: 'registers',
        what: 'Calibration of Balance two runs out on 2026-03-15.',
        why: 'Less than 14 days are left.',
        holdsUp: 'Every weighing or measurement with it',
        act: 'Record the calibration',
        path: '/registers/instruments/B%2F2',
        since: '2026-03-01T00:00:00.000Z',
        weight: 'look',
      },
    ]);
    expect(await on('2026-03-16T00:00:00.000Z')).toMatchObject([
      {
        what: 'Calibration of Balance two ran out on 2026-03-15.',
        why: 'Today is 2026-03-16.',
        since: '2026-03-15T00:00:00.000Z',
        weight: 'stopped',
      },
    ]);
  });

  it('counts approvals and the authorisations of people who are still here', async () => {
    const trial = await makeTrial([registersStation]);
    const methods = [{ method: 'cupellation', until: '2026-03-01' }];
    const person = { name: 'Emil Fir', roles: ['assayer'], methods };
    await trial.do('enrol-person', { ...person, person: 'emil' }, 'chief');
    await trial.do('enrol-person', { ...person, person: 'gone' }, 'chief');
    await trial.do('change-person', { ...person, person: 'gone', active: false }, 'chief');
    const approval = { name: 'North', approvedUntil: '2026-03-05' };
    await trial.do('register-supplier', { ...approval, supplier: 'N' }, 'chief');
    await trial.do('approve-purchaser', { ...approval, purchaser: 'N' }, 'chief');
    const papers = await registersDocket(trial.books, '2026-03-02T08:00:00.000Z');
    expect(papers.map(({ paper, weight }) => [paper, weight])).toEqual([
      ['registers-authorisation-emil-2026-03-01-Emil Fir, cupellation', 'stopped'],
      ['registers-supplier-N-2026-03-05', 'look'],
      ['registers-purchaser-N-2026-03-05', 'look'],
    ]);
  });
});

describe('registers-desk', () => {
  it('answers every register at once', async () => {
    const trial = await makeTrial([registersStation]);
    await registerForTrial(trial);
    expect(await trial.ask('registers-desk', {}, 'auditor')).toMatchObject({
      plant: null,
      day: '2026-03-02',
      people: [],
      pieceStandards: [goldPiece],
      suppliers: [{ supplier: 'NORTH', name: 'North Smelter', approvedUntil: '2026-12-31' }],
      purchasers: [],
      instruments: [drumBalance],
      dies: [],
      runningOut: [],
    });
    expect(await trial.ask('piece-standard', { pieceStandard: 'GOLD-10' }, 'dies')).toMatchObject({
      standard: goldPiece,
      dies: [],
    });
    expect(await trial.ask('piece-standard', { pieceStandard: 'NONE' }, 'dies')).toBeNull();
  });
});

describe('people-names', () => {
  it('tells everybody by what full name a sign-in name is known', async () => {
    const trial = await makeTrial([registersStation]);
    const person = { person: 'berta', name: 'Berta Finch', roles: ['assayer'], methods: [] };
    await trial.do('enrol-person', person, 'chief');
    expect(await trial.ask('people-names', {}, 'custodian')).toEqual({ berta: 'Berta Finch' });
  });
});
