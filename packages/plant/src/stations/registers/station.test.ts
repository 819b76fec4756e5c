import { describe, expect, it } from 'vitest';
import {
  dieOf,
  diesOfStandard,
  instrumentOf,
  instrumentsAtPlace,
  pieceStandardOf,
  pieceStandardsOf,
  purchaserOf,
  purchasersOf,
  supplierOf,
  suppliersOf,
} from './index.ts';
import { trialOfRegisters } from './registers-trial.ts';
import { drumBalance, goldPiece } from './trial-registers.ts';

describe('suppliers and purchasers', () => {
  const north = { supplier: 'NORTH', name: 'North Smelter', approvedUntil: '2026-12-31' };
  const house = { purchaser: 'HOUSE', name: 'House of Trade', approvedUntil: '2026-12-31' };

  it('are registered with the last day of their approval, which can be changed', async () => {
    const trial = await trialOfRegisters();
    await trial.recorded('register-supplier', north);
    await trial.recorded('approve-purchaser', house);
    const shorter = { ...north, approvedUntil: '2026-03-01' };
    expect(await trial.recorded('change-supplier', shorter)).toEqual([
      { kind: 'SupplierChanged', body: shorter },
    ]);
    const renamed = { ...house, name: 'House of Fair Trade' };
    expect(await trial.recorded('change-purchaser', renamed)).toEqual([
      { kind: 'PurchaserChanged', body: renamed },
    ]);
    expect(await supplierOf(trial.books, 'NORTH')).toMatchObject(shorter);
    expect(await purchaserOf(trial.books, 'HOUSE')).toMatchObject(renamed);
    expect(await suppliersOf(trial.books)).toHaveLength(1);
    expect(await purchasersOf(trial.books)).toHaveLength(1);
  });

  it.each([
    ['register-supplier', north, 'SupplierAlreadyRegistered'],
    ['approve-purchaser', house, 'PurchaserAlreadyApproved'],
  ])('are not registered twice by %s', async (command, input, refusal) => {
    const trial = await trialOfRegisters();
    await trial.recorded(command, input);
    expect(await trial.refused(command, input)).toMatchObject([
      { refusal, message: expect.stringContaining('entry 1.') },
    ]);
  });

  it.each([
    ['change-supplier', north, 'SupplierUnknown'],
    ['change-purchaser', house, 'PurchaserUnknown'],
  ])('are not changed by %s before they are registered', async (command, input, refusal) => {
    expect(await (await trialOfRegisters()).refused(command, input)).toMatchObject([{ refusal }]);
  });
});

describe('piece standards and dies', () => {
  const die = { die: 'OBV-1', part: 'obverse', pieceStandard: 'GOLD-10' };

  it('keep every figure of the standard as it was stated', async () => {
    const trial = await trialOfRegisters();
    expect(await trial.recorded('register-piece-standard', goldPiece)).toEqual([
      { kind: 'PieceStandardRegistered', body: goldPiece },
    ]);
    expect(await pieceStandardOf(trial.books, 'GOLD-10')).toMatchObject(goldPiece);
    expect(await pieceStandardsOf(trial.books)).toHaveLength(1);
  });

  it('never change a standard', async () => {
    const trial = await trialOfRegisters();
    await trial.recorded('register-piece-standard', goldPiece);
    const changed = { ...goldPiece, massDeclaredMilligrams: 10_010 };
    expect(await trial.refused('register-piece-standard', changed)).toMatchObject([
      { refusal: 'PieceStandardAlreadyRegistered', figures: { entry: 1 } },
    ]);
  });

  it('take in a die under two signatures', async () => {
    const trial = await trialOfRegisters();
    await trial.recorded('register-piece-standard', goldPiece);
    expect(await trial.recorded('receive-die', die, 'dies', 'custodian')).toEqual([
      { kind: 'DieReceived', body: die },
    ]);
    expect(await dieOf(trial.books, 'OBV-1')).toMatchObject(die);
    expect(await diesOfStandard(trial.books, 'GOLD-10')).toHaveLength(1);
    expect(await trial.refused('receive-die', die, 'dies', 'custodian')).toMatchObject([
      { refusal: 'DieAlreadyReceived', figures: { die: 'OBV-1', part: 'obverse', entry: 2 } },
    ]);
    expect(await trial.refused('receive-die', { ...die, die: 'OBV-2' }, 'dies')).toMatchObject([
      { refusal: 'WitnessMissing' },
    ]);
  });

  it('refuse a die of an unknown standard', async () => {
    const trial = await trialOfRegisters();
    expect(await trial.refused('receive-die', die, 'dies', 'custodian')).toMatchObject([
      { refusal: 'PieceStandardUnknown', field: 'pieceStandard' },
    ]);
  });
});

describe('instruments', () => {
  it('are registered and calibrated', async () => {
    const trial = await trialOfRegisters();
    await trial.recorded('register-instrument', drumBalance);
    const calibration = {
      instrument: 'BALANCE-1',
      calibrationDue: '2027-12-31',
      document: 'Calibration sheet 17',
      divisionGrams: 0.1,
      repeatabilityGrams: 0.08,
      gainRelative: 0.00001,
    };
    expect(await trial.recorded('record-calibration', calibration, 'assayer')).toEqual([
      { kind: 'CalibrationRecorded', body: calibration },
    ]);
    expect(await instrumentOf(trial.books, 'BALANCE-1')).toMatchObject({
      ...calibration,
      title: 'Drum balance',
      place: 'receiving',
    });
    expect(await instrumentsAtPlace(trial.books, 'receiving')).toHaveLength(1);
    expect(await instrumentsAtPlace(trial.books, 'put-up')).toHaveLength(0);
    expect(await trial.refused('register-instrument', drumBalance)).toMatchObject([
      { refusal: 'InstrumentAlreadyRegistered' },
    ]);
  });

  it.each([
    ['a balance without its division', { divisionGrams: null }, 'divisionGrams'],
    [
      'a press that weighs',
      { kind: 'press', gainRelative: null, repeatabilityGrams: null },
      'divisionGrams',
    ],
    ['a division of nothing', { divisionGrams: 0 }, 'divisionGrams'],
    ['a gain beyond reason', { gainRelative: 0.2 }, 'gainRelative'],
    ['a place outside the plant', { place: 'with-supplier' }, 'place'],
  ])('are refused: %s', async (_what, change, field) => {
    const trial = await trialOfRegisters();
    const refusals = await trial.refused('register-instrument', { ...drumBalance, ...change });
    expect(refusals).toMatchObject([{ refusal: 'InputNotAccepted', field }]);
  });

  it('are not calibrated before they are registered, nor with figures of another kind', async () => {
    const trial = await trialOfRegisters();
    const calibration = {
      instrument: 'BALANCE-1',
      calibrationDue: '2027-12-31',
      document: 'Calibration sheet 17',
      divisionGrams: null,
      repeatabilityGrams: null,
      gainRelative: null,
    };
    expect(await trial.refused('record-calibration', calibration)).toMatchObject([
      { refusal: 'InstrumentUnknown' },
    ]);
    await trial.recorded('register-instrument', drumBalance);
    expect(await trial.refused('record-calibration', calibration)).toMatchObject([
      {
        refusal: 'WeighingFiguresUnfit',
        message: 'Drum balance is a balance: its division, repeatability and gain are all stated.',
      },
    ]);
  });
});
