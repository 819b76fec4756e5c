import { describe, expect, it } from 'vitest';
import { instruments } from '../books.ts';
import { stoppedInstrument, suspectIntervalsOf } from '../index.ts';
import { trialOfRegisters } from '../registers-trial.ts';
import { drumBalance } from '../trial-registers.ts';
import { stoppedDocket } from './docket.ts';
import { judgeCheck } from './judge.ts';

const grams = (text: string) => ({ text, unit: 'g', typed: true });

const weigh = (...readings: readonly string[]) => ({
  instrument: 'BALANCE-1',
  check: {
    kind: 'weights',
    points: readings.map((reading, index) => ({
      checkStandard: `W-${index + 1}`,
      nominal: grams(index === 0 ? '200.0' : '1000.0'),
      reading: grams(reading),
    })),
    limit: grams('0.2'),
  },
});

const names = (refusals: readonly { refusal: string }[]) => refusals.map((one) => one.refusal);

async function withBalance() {
  const trial = await trialOfRegisters();
  await trial.recorded('register-instrument', drumBalance);
  const check = (...readings: readonly string[]) =>
    trial.recorded('record-instrument-check', weigh(...readings), 'inspector');
  const row = async () => {
    const found = await trial.books.get(instruments, 'BALANCE-1');
    if (!found) throw new RangeError('no balance');
    return found;
  };
  return { trial, check, row };
}

describe('an intermediate check', () => {
  it('passes on the limit, with the check of the catalogue where there are two weights', async () => {
    const { check } = await withBalance();
    const [one] = await check('200.2');
    expect(one?.body).toMatchObject({ passes: true, errors: [200], limit: 200, unit: 'mg' });
    expect(one?.body).not.toHaveProperty('balanceCheck');
    const [two] = await check('199.9', '1000.1');
    expect(two?.body).toMatchObject({
      passes: true,
      errors: [-100, 100],
      balanceCheck: {
        calculation: 'balance-check',
        output: { passes: true, linearity: { errorsMilligrams: [-100, 100] } },
      },
    });
  });

  it('asks for a reason where its limit is ten times what the register says of the balance', async () => {
    const { trial } = await withBalance();
    const sound = weigh('200.0');
    const wide = { ...sound, check: { ...sound.check, limit: grams('4') } };
    // Three times the root of 0.1² + (0.1 / √12)² is 0.3123 g, and of the gain 0.012 g beside: 0.3126 g.
    expect(await trial.refused('record-instrument-check', wide, 'inspector')).toEqual([
      expect.objectContaining({
        refusal: 'CheckLimitWide',
        field: 'check.limit',
        message:
          'A limit of 4 g lets pass what Drum balance never shows: by its division and repeatability its readings lie within 0.312 g. Up to 3.12 g are taken without a reason.',
        figures: { instrument: 'BALANCE-1', limitGrams: 4, usualGrams: 0.312, mostGrams: 3.12 },
      }),
    ]);
    const reason = 'Accepted for scrap only.';
    const outcome = await trial.do('record-instrument-check', { ...wide, reason }, 'inspector');
    expect(outcome).toMatchObject({ outcome: 'recorded', entries: [{ reason }] });
    // The next day it is known; and what fails even so stops the balance at once.
    await trial.recorded('record-instrument-check', wide, 'inspector');
    const off = weigh('210.0');
    const failing = { ...off, check: { ...off.check, limit: grams('5') } };
    expect(await trial.recorded('record-instrument-check', failing, 'inspector')).toMatchObject([
      { body: { passes: false } },
    ]);
    const inTime = { ...sound, check: { ...sound.check, limit: grams('3.1') } };
    await trial.recorded('record-instrument-check', inTime, 'inspector');
  });

  it('stops the instrument when it fails, from its last good check on', async () => {
    const { trial, check, row } = await withBalance();
    await check('200.0');
    const [failed] = await check('200.0', '1000.3');
    expect(failed?.body).toMatchObject({
      passes: false,
      lastGood: 2,
      balanceCheck: { output: { passes: false } },
    });
    expect(stoppedInstrument(await row(), 'balance')).toMatchObject([
      {
        refusal: 'InstrumentStopped',
        message:
          'Drum balance failed its check in entry 3. Greatest error 300 mg; the limit is 200 mg.',
        field: 'balance',
      },
    ]);
    expect(await suspectIntervalsOf(trial.books)).toMatchObject([{ from: 2, through: 3 }]);
    expect(await stoppedDocket(trial.books)).toMatchObject([{ weight: 'stopped' }]);
    await check('201.0');
    expect(await suspectIntervalsOf(trial.books, 'BALANCE-1')).toHaveLength(1);
    await check('200.1');
    expect(stoppedInstrument(await row(), 'balance')).toEqual([]);
    expect(await stoppedDocket(trial.books)).toEqual([]);
    await check('201.0');
    // Only what came after the check that passed in entry 5 is in doubt again.
    expect((await suspectIntervalsOf(trial.books))[1]).toMatchObject({ from: 5, through: 6 });
    expect(
      await trial.ask('instrument-checks', { instrument: 'BALANCE-1' }, 'auditor'),
    ).toMatchObject({ stopped: { entry: 6 }, checks: [{ entry: 6 }, {}, {}, {}, { entry: 2 }] });
    expect(await trial.ask('instrument-checks', { instrument: 'X' }, 'auditor')).toBeNull();
  });

  it('is followed by use again after a calibration, which begins the next interval', async () => {
    const { trial, check, row } = await withBalance();
    await check('201.0');
    const { divisionGrams, repeatabilityGrams, gainRelative, calibrationDue } = drumBalance;
    const calibration = {
      instrument: 'BALANCE-1',
      document: 'Certificate 8',
      divisionGrams,
      repeatabilityGrams,
      gainRelative,
      calibrationDue,
    };
    await trial.recorded('record-calibration', calibration);
    expect(stoppedInstrument(await row(), 'balance')).toEqual([]);
    await check('201.0');
    expect((await suspectIntervalsOf(trial.books))[1]).toMatchObject({ from: 3, through: 4 });
  });

  it('is made with weights on a balance and with values on other instruments', async () => {
    const { trial, row } = await withBalance();
    const values = {
      kind: 'values' as const,
      unit: 'mm',
      points: [{ checkStandard: 'BLOCK-10', nominal: 10, reading: 10.003 }],
      limit: 0.003,
    };
    const command = 'record-instrument-check';
    expect(names(await trial.refused(command, { instrument: 'BALANCE-1', check: values }))).toEqual(
      ['CheckUnfit'],
    );
    expect(names(await trial.refused(command, { ...weigh('200.0'), instrument: 'X' }))).toEqual([
      'InstrumentUnknown',
    ]);
    // 10.003 − 10 is 0.0030000000000001137 in doubles; the reading is on its limit.
    expect(judgeCheck(values, await row()).passes).toBe(true);
    expect(judgeCheck({ ...values, limit: 0.0029 }, await row()).passes).toBe(false);
  });
});

describe('a calibration found wrong', () => {
  const doubt = { instrument: 'BALANCE-1', reason: 'The weights of the calibrator were wrong.' };

  it('stops the instrument and puts in doubt all since it, also before checks that passed', async () => {
    const { trial, check, row } = await withBalance();
    await check('200.0');
    await trial.recorded('doubt-calibration', doubt);
    expect(stoppedInstrument(await row(), 'balance')).toMatchObject([
      {
        refusal: 'InstrumentStopped',
        message:
          'The calibration of Drum balance was found wrong in entry 3. The weights of the calibrator were wrong.',
      },
    ]);
    expect(await suspectIntervalsOf(trial.books)).toMatchObject([
      { from: 1, through: 3, cause: 'calibration' },
    ]);
    expect(await stoppedDocket(trial.books)).toMatchObject([{ act: 'Record a calibration' }]);
    // A weight that reads right does not heal it.
    await check('200.0');
    expect(stoppedInstrument(await row(), 'balance')).toHaveLength(1);
    const { divisionGrams, repeatabilityGrams, gainRelative, calibrationDue } = drumBalance;
    const weighing = { divisionGrams, repeatabilityGrams, gainRelative, calibrationDue };
    const calibration = { instrument: 'BALANCE-1', document: 'Certificate 9', ...weighing };
    await trial.recorded('record-calibration', calibration);
    expect(stoppedInstrument(await row(), 'balance')).toEqual([]);
  });

  it('is stated once, of an instrument of the register', async () => {
    const { trial } = await withBalance();
    const command = 'doubt-calibration';
    expect(names(await trial.refused(command, { ...doubt, instrument: 'X' }))).toEqual([
      'InstrumentUnknown',
    ]);
    await trial.recorded(command, doubt);
    expect(names(await trial.refused(command, doubt))).toEqual(['CalibrationAlreadyDoubted']);
  });
});
