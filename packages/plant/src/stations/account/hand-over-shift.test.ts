import { describe, expect, it } from 'vitest';
import {
  type AccountTrial,
  bodyOf,
  close,
  found,
  refusalOf,
  sign,
  tally,
  withPieces,
} from './account-trial.ts';

const handOver = (trial: AccountTrial, shift: string) =>
  trial.do(
    'hand-over-shift',
    { shift, remark: 'Drum D-1 stands open at the bench.' },
    'custodian',
    'storeman',
  );

describe('hand-over-shift', () => {
  it('is signed by who leaves and who arrives, and says what is open', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(99, null)]);
    await sign(trial);
    await trial.move({ from: 'receiving', to: 'put-up', pieces: 9, grossMicrograms: 279_927_000 });
    expect(bodyOf(await handOver(trial, '2026-03-02-early'))).toEqual({
      shift: '2026-03-02-early',
      arrivingShift: '2026-03-02-late',
      leaving: 'custodian',
      arriving: 'storeman',
      uncountedPlaces: ['put-up'],
      openShifts: ['2026-03-02-early'],
      openDifferences: ['D-10'],
      remark: 'Drum D-1 stands open at the bench.',
    });
    expect(await trial.ask('shift', { shift: '2026-03-02-early' }, 'custodian')).toMatchObject({
      isLeaving: true,
      handOver: { leaving: 'custodian', arriving: 'storeman' },
    });
  });

  it('takes the shift before the present one too, past midnight and the end of a month', async () => {
    const trial = await withPieces();
    trial.now = Date.parse('2026-04-01T00:30:00.000Z');
    expect(bodyOf(await handOver(trial, '2026-03-31-night'))).toMatchObject({
      arrivingShift: '2026-04-01-early',
    });
    expect(bodyOf(await handOver(trial, '2026-03-31-late'))).toMatchObject({
      arrivingShift: '2026-03-31-night',
    });
  });

  it('is refused for any other shift', async () => {
    const trial = await withPieces();
    expect(await handOver(trial, '2026-03-02-late')).toMatchObject({
      refusals: [{ refusal: 'ShiftNotLeaving', figures: { shiftBefore: '2026-03-01-night' } }],
    });
    expect(refusalOf(await handOver(trial, '2026-03-01-late'))).toEqual(['ShiftNotLeaving']);
  });

  it('is never made twice', async () => {
    const trial = await withPieces();
    await handOver(trial, '2026-03-02-early');
    expect(await handOver(trial, '2026-03-02-early')).toMatchObject({
      refusals: [{ refusal: 'HandedOverAlready', message: expect.stringContaining('custodian') }],
    });
  });

  it('is refused for a shift of a closed day', async () => {
    const trial = await withPieces();
    await tally(trial, 'receiving', [found(100, null)]);
    await close(trial);
    trial.now = Date.parse('2026-03-03T07:00:00.000Z');
    await trial.do('close-day', { period: '2026-03-02' }, 'accountant', 'custodian');
    expect(refusalOf(await handOver(trial, '2026-03-02-night'))).toEqual(['PeriodClosed']);
  });

  it('needs a second person', async () => {
    const trial = await withPieces();
    const input = { shift: '2026-03-02-early', remark: 'nothing' };
    expect(refusalOf(await trial.do('hand-over-shift', input, 'custodian'))).toEqual([
      'WitnessMissing',
    ]);
    expect(
      refusalOf(await trial.do('hand-over-shift', { ...input, remark: '' }, 'custodian', 'chief')),
    ).toEqual(['InputNotAccepted']);
  });
});
