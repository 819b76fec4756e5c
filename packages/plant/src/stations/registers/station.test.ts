import { describe, expect, it } from 'vitest';
import { makeTrial } from '../../journal/trial.ts';
import { plants } from './books.ts';
import {
  authorisedFor,
  dieOf,
  diesOfStandard,
  instrumentOf,
  instrumentsAtPlace,
  peopleOf,
  personOf,
  pieceStandardOf,
  pieceStandardsOf,
  plantDay,
  plantOf,
  purchaserOf,
  purchasersOf,
  supplierOf,
  suppliersOf,
} from './index.ts';
import { registersStation } from './station.ts';
import { drumBalance, goldPiece } from './trial-registers.ts';

const trialOfRegisters = () => makeTrial([registersStation]);

type Trial = Awaited<ReturnType<typeof trialOfRegisters>>;

/** Kinds and bodies of what a command recorded. */
async function recorded(trial: Trial, command: string, input: unknown, ...who: string[]) {
  const [author = 'chief', witness] = who;
  const outcome = await trial.do(command, input, author, witness);
  if (outcome.outcome === 'refused') throw new Error(JSON.stringify(outcome.refusals));
  return outcome.entries.map(({ kind, body }) => ({ kind, body }));
}

/** Names and fields of the refusals of a command. */
async function refused(trial: Trial, command: string, input: unknown, ...who: string[]) {
  const [author = 'chief', witness] = who;
  const outcome = await trial.do(command, input, author, witness);
  if (outcome.outcome === 'recorded') throw new Error(`${command} was recorded`);
  return outcome.refusals;
}

const founding = {
  title: 'Plant on the Hill',
  timeZone: 'Europe/Vienna',
  firstPerson: { person: 'ada', name: 'Ada Berg' },
};

const ada = {
  person: 'ada',
  name: 'Ada Berg',
  roles: ['chief assayer'],
  methods: [],
  active: true,
};

describe('the founding of a plant', () => {
  it('records the plant and its first person, who is chief assayer', async () => {
    const trial = await trialOfRegisters();
    expect(await recorded(trial, 'found-plant', founding)).toEqual([
      { kind: 'PlantFounded', body: { title: 'Plant on the Hill', timeZone: 'Europe/Vienna' } },
      { kind: 'PersonEnrolled', body: ada },
    ]);
    expect(await plantOf(trial.books)).toEqual({
      plant: 'plant',
      title: 'Plant on the Hill',
      timeZone: 'Europe/Vienna',
      entry: 1,
    });
    expect(await personOf(trial.books, 'ada')).toEqual({
      person: 'ada',
      name: 'Ada Berg',
      roles: ['chief assayer'],
      active: true,
    });
  });

  it('happens once', async () => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'found-plant', founding);
    expect(await refused(trial, 'found-plant', founding)).toEqual([
      {
        refusal: 'PlantAlreadyFounded',
        message: 'This journal belongs to Plant on the Hill, founded in entry 1.',
        nextStep: 'Sign in as a person of the plant.',
        figures: { plant: 'Plant on the Hill', entry: 1 },
      },
    ]);
    expect(await trial.books.select(plants)).toHaveLength(1);
  });

  it('refuses a time zone that does not exist', async () => {
    const trial = await trialOfRegisters();
    const [refusal] = await refused(trial, 'found-plant', {
      ...founding,
      timeZone: 'Europe/Nowhere',
    });
    expect(refusal?.message).toBe(
      'timeZone is Europe/Nowhere: the name of a time zone, such as Europe/Vienna.',
    );
  });

  it('settles which calendar day an instant falls on', async () => {
    const trial = await trialOfRegisters();
    // 23:30 UTC in March is half past midnight of the next day in Vienna, an hour east.
    const instant = '2026-03-02T23:30:00.000Z';
    expect(await plantDay(trial.books, instant)).toBe('2026-03-02');
    await recorded(trial, 'found-plant', founding);
    expect(await plantDay(trial.books, instant)).toBe('2026-03-03');
  });
});

describe('people', () => {
  const berta = {
    person: 'berta',
    name: 'Berta Crane',
    roles: ['assayer'],
    methods: [{ method: 'cupellation', until: '2026-06-30' }],
  };

  it('are enrolled with roles and methods', async () => {
    const trial = await trialOfRegisters();
    expect(await recorded(trial, 'enrol-person', berta)).toEqual([
      { kind: 'PersonEnrolled', body: { ...berta, active: true } },
    ]);
    expect((await peopleOf(trial.books)).map(({ person }) => person)).toEqual(['berta']);
  });

  it('may carry out a method until the last day of the authorisation and no longer', async () => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'enrol-person', berta);
    const may = (method: 'cupellation' | 'fineness-by-difference', day: string) =>
      authorisedFor(trial.books, 'berta', method, day);
    expect(await may('cupellation', '2026-06-30')).toBe(true);
    expect(await may('cupellation', '2026-07-01')).toBe(false);
    expect(await may('fineness-by-difference', '2026-06-30')).toBe(false);
    expect(await authorisedFor(trial.books, 'nobody', 'cupellation', '2026-06-30')).toBe(false);
  });

  it('lose every authorisation when they leave', async () => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'enrol-person', berta);
    const left = { ...berta, active: false };
    expect(await recorded(trial, 'change-person', left)).toEqual([
      { kind: 'PersonChanged', body: left },
    ]);
    expect(await authorisedFor(trial.books, 'berta', 'cupellation', '2026-03-02')).toBe(false);
    expect((await personOf(trial.books, 'berta'))?.active).toBe(false);
  });

  it('are not enrolled under an id that somebody has', async () => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'enrol-person', berta);
    expect(await refused(trial, 'enrol-person', { ...berta, name: 'Berta Dove' })).toMatchObject([
      {
        refusal: 'PersonAlreadyEnrolled',
        message: 'berta is the id of Berta Crane, entry 1.',
        field: 'person',
      },
    ]);
  });

  it('are not changed before they are enrolled', async () => {
    const trial = await trialOfRegisters();
    const refusals = await refused(trial, 'change-person', { ...berta, active: true });
    expect(refusals).toMatchObject([
      { refusal: 'PersonNotEnrolled', figures: { person: 'berta' } },
    ]);
  });

  it.each([
    ['leaves', { ...ada, active: false }, 'active'],
    ['takes another role', { ...ada, roles: ['assayer'] }, 'roles'],
  ])('always count a chief assayer: the last one never %s', async (_how, change, field) => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'found-plant', founding);
    expect(await refused(trial, 'change-person', change)).toMatchObject([
      {
        refusal: 'LastChiefAssayer',
        message: 'Ada Berg is the only chief assayer of the plant.',
        field,
      },
    ]);
    const second = { ...berta, roles: ['chief assayer'] };
    await recorded(trial, 'enrol-person', second);
    expect(await recorded(trial, 'change-person', change)).toHaveLength(1);
  });

  it.each([
    ['an auditor who is custodian too', { roles: ['auditor', 'custodian'] }, 'roles'],
    ['the same role twice', { roles: ['assayer', 'assayer'] }, 'roles'],
    ['no role', { roles: [] }, 'roles'],
    ['a role that does not exist', { roles: ['warden'] }, 'roles.0'],
    ['the id of the plant itself', { person: 'plant' }, 'person'],
    ['an id with a blank', { person: 'berta crane' }, 'person'],
    ['a name with a line break', { name: 'Berta\nCrane' }, 'name'],
    ['the same method twice', { methods: [berta.methods[0], berta.methods[0]] }, 'methods'],
    [
      'a day that does not exist',
      { methods: [{ method: 'cupellation', until: '2026-02-30' }] },
      'methods.0.until',
    ],
    ['a field nobody asked for', { password: 'secret' }, 'input'],
  ])('are refused with %s', async (_what, change, field) => {
    const trial = await trialOfRegisters();
    expect(await refused(trial, 'enrol-person', { ...berta, ...change })).toMatchObject([
      { refusal: 'InputNotAccepted', field },
    ]);
  });

  it('are enrolled by the chief assayer alone', async () => {
    const trial = await trialOfRegisters();
    const refusals = await refused(trial, 'enrol-person', berta, 'custodian');
    expect(refusals).toMatchObject([{ refusal: 'RoleMissing' }]);
  });
});

describe('suppliers and purchasers', () => {
  const north = { supplier: 'NORTH', name: 'North Smelter', approvedUntil: '2026-12-31' };
  const house = { purchaser: 'HOUSE', name: 'House of Trade', approvedUntil: '2026-12-31' };

  it('are registered with the last day of their approval, which can be changed', async () => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'register-supplier', north);
    await recorded(trial, 'approve-purchaser', house);
    const shorter = { ...north, approvedUntil: '2026-03-01' };
    expect(await recorded(trial, 'change-supplier', shorter)).toEqual([
      { kind: 'SupplierChanged', body: shorter },
    ]);
    const renamed = { ...house, name: 'House of Fair Trade' };
    expect(await recorded(trial, 'change-purchaser', renamed)).toEqual([
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
    await recorded(trial, command, input);
    expect(await refused(trial, command, input)).toMatchObject([
      { refusal, message: expect.stringContaining('entry 1.') },
    ]);
  });

  it.each([
    ['change-supplier', north, 'SupplierUnknown'],
    ['change-purchaser', house, 'PurchaserUnknown'],
  ])('are not changed by %s before they are registered', async (command, input, refusal) => {
    expect(await refused(await trialOfRegisters(), command, input)).toMatchObject([{ refusal }]);
  });
});

describe('piece standards and dies', () => {
  const die = { die: 'OBV-1', part: 'obverse', pieceStandard: 'GOLD-10' };

  it('keep every figure of the standard as it was stated', async () => {
    const trial = await trialOfRegisters();
    expect(await recorded(trial, 'register-piece-standard', goldPiece)).toEqual([
      { kind: 'PieceStandardRegistered', body: goldPiece },
    ]);
    expect(await pieceStandardOf(trial.books, 'GOLD-10')).toMatchObject(goldPiece);
    expect(await pieceStandardsOf(trial.books)).toHaveLength(1);
  });

  it('never change a standard', async () => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'register-piece-standard', goldPiece);
    const changed = { ...goldPiece, massDeclaredMilligrams: 10_010 };
    expect(await refused(trial, 'register-piece-standard', changed)).toMatchObject([
      { refusal: 'PieceStandardAlreadyRegistered', figures: { entry: 1 } },
    ]);
  });

  it('take in a die under two signatures', async () => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'register-piece-standard', goldPiece);
    expect(await recorded(trial, 'receive-die', die, 'dies', 'custodian')).toEqual([
      { kind: 'DieReceived', body: die },
    ]);
    expect(await dieOf(trial.books, 'OBV-1')).toMatchObject(die);
    expect(await diesOfStandard(trial.books, 'GOLD-10')).toHaveLength(1);
    expect(await refused(trial, 'receive-die', die, 'dies', 'custodian')).toMatchObject([
      { refusal: 'DieAlreadyReceived', figures: { die: 'OBV-1', part: 'obverse', entry: 2 } },
    ]);
    expect(await refused(trial, 'receive-die', { ...die, die: 'OBV-2' }, 'dies')).toMatchObject([
      { refusal: 'WitnessMissing' },
    ]);
  });

  it('refuse a die of an unknown standard', async () => {
    const trial = await trialOfRegisters();
    expect(await refused(trial, 'receive-die', die, 'dies', 'custodian')).toMatchObject([
      { refusal: 'PieceStandardUnknown', field: 'pieceStandard' },
    ]);
  });
});

describe('instruments', () => {
  it('are registered and calibrated', async () => {
    const trial = await trialOfRegisters();
    await recorded(trial, 'register-instrument', drumBalance);
    const calibration = {
      instrument: 'BALANCE-1',
      calibrationDue: '2027-12-31',
      document: 'Calibration sheet 17',
      divisionGrams: 0.1,
      repeatabilityGrams: 0.08,
      gainRelative: 0.00001,
    };
    expect(await recorded(trial, 'record-calibration', calibration, 'assayer')).toEqual([
      { kind: 'CalibrationRecorded', body: calibration },
    ]);
    expect(await instrumentOf(trial.books, 'BALANCE-1')).toMatchObject({
      ...calibration,
      title: 'Drum balance',
      place: 'receiving',
    });
    expect(await instrumentsAtPlace(trial.books, 'receiving')).toHaveLength(1);
    expect(await instrumentsAtPlace(trial.books, 'put-up')).toHaveLength(0);
    expect(await refused(trial, 'register-instrument', drumBalance)).toMatchObject([
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
    const refusals = await refused(trial, 'register-instrument', { ...drumBalance, ...change });
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
    expect(await refused(trial, 'record-calibration', calibration)).toMatchObject([
      { refusal: 'InstrumentUnknown' },
    ]);
    await recorded(trial, 'register-instrument', drumBalance);
    expect(await refused(trial, 'record-calibration', calibration)).toMatchObject([
      {
        refusal: 'WeighingFiguresUnfit',
        message: 'Drum balance is a balance: its division, repeatability and gain are all stated.',
      },
    ]);
  });
});
