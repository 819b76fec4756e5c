import { describe, expect, it } from 'vitest';
import { plants } from './books.ts';
import { authorisedFor, peopleOf, personOf, plantDay, plantOf } from './index.ts';
import { trialOfRegisters } from './registers-trial.ts';

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
    expect(await trial.recorded('found-plant', founding)).toEqual([
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
    await trial.recorded('found-plant', founding);
    expect(await trial.refused('found-plant', founding)).toEqual([
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
    const [refusal] = await trial.refused('found-plant', {
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
    await trial.recorded('found-plant', founding);
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
    expect(await trial.recorded('enrol-person', berta)).toEqual([
      { kind: 'PersonEnrolled', body: { ...berta, active: true } },
    ]);
    expect((await peopleOf(trial.books)).map(({ person }) => person)).toEqual(['berta']);
  });

  it('may carry out a method until the last day of the authorisation and no longer', async () => {
    const trial = await trialOfRegisters();
    await trial.recorded('enrol-person', berta);
    const may = (method: 'cupellation' | 'fineness-by-difference', day: string) =>
      authorisedFor(trial.books, 'berta', method, day);
    expect(await may('cupellation', '2026-06-30')).toBe(true);
    expect(await may('cupellation', '2026-07-01')).toBe(false);
    expect(await may('fineness-by-difference', '2026-06-30')).toBe(false);
    expect(await authorisedFor(trial.books, 'nobody', 'cupellation', '2026-06-30')).toBe(false);
  });

  it('lose every authorisation when they leave', async () => {
    const trial = await trialOfRegisters();
    await trial.recorded('enrol-person', berta);
    const left = { ...berta, active: false };
    expect(await trial.recorded('change-person', left)).toEqual([
      { kind: 'PersonChanged', body: left },
    ]);
    expect(await authorisedFor(trial.books, 'berta', 'cupellation', '2026-03-02')).toBe(false);
    expect((await personOf(trial.books, 'berta'))?.active).toBe(false);
  });

  it('are not enrolled under an id that somebody has', async () => {
    const trial = await trialOfRegisters();
    await trial.recorded('enrol-person', berta);
    expect(await trial.refused('enrol-person', { ...berta, name: 'Berta Dove' })).toMatchObject([
      {
        refusal: 'PersonAlreadyEnrolled',
        message: 'berta is the id of Berta Crane, entry 1.',
        field: 'person',
      },
    ]);
  });

  it('are not changed before they are enrolled', async () => {
    const trial = await trialOfRegisters();
    const refusals = await trial.refused('change-person', { ...berta, active: true });
    expect(refusals).toMatchObject([
      { refusal: 'PersonNotEnrolled', figures: { person: 'berta' } },
    ]);
  });

  it.each([
    ['leaves', { ...ada, active: false }, 'active'],
    ['takes another role', { ...ada, roles: ['assayer'] }, 'roles'],
  ])('always count a chief assayer: the last one never %s', async (_how, change, field) => {
    const trial = await trialOfRegisters();
    await trial.recorded('found-plant', founding);
    expect(await trial.refused('change-person', change)).toMatchObject([
      {
        refusal: 'LastChiefAssayer',
        message: 'Ada Berg is the only chief assayer of the plant.',
        field,
      },
    ]);
    const second = { ...berta, roles: ['chief assayer'] };
    await trial.recorded('enrol-person', second);
    expect(await trial.recorded('change-person', change)).toHaveLength(1);
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
    ['a field nobody asked for', { password: 'secret' }, 'password'],
  ])('are refused with %s', async (_what, change, field) => {
    const trial = await trialOfRegisters();
    expect(await trial.refused('enrol-person', { ...berta, ...change })).toMatchObject([
      { refusal: 'InputNotAccepted', field },
    ]);
  });

  it('are enrolled by the chief assayer alone', async () => {
    const trial = await trialOfRegisters();
    const refusals = await trial.refused('enrol-person', berta, 'custodian');
    expect(refusals).toMatchObject([{ refusal: 'RoleMissing' }]);
  });
});
