import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { descents, threads } from '../../journal/core-books.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import type { Trial } from '../../journal/trial.ts';
import { receivingStation } from '../receiving/station.ts';
import { registersStation } from '../registers/station.ts';
import {
  checkedMelt,
  cupel,
  cutMelt,
  laboratoryTrial,
  measure,
  reading,
  recorded,
  sampleMelt,
} from './laboratory-trial.ts';
import { laboratoryRefusals } from './refusals.ts';
import { laboratoryStation } from './station.ts';

const stations = [registersStation, receivingStation, laboratoryStation];
const everybody = [
  'chief',
  'assayer',
  'checker',
  'inspector',
  'custodian',
  'accountant',
  'auditor',
];

/** What the supplier of the trial states of every melt. */
const supplierValue = '916.987';

const ask = async (trial: Trial, person = 'assayer') =>
  (await trial.ask('melt-trial', { melt: 'M-1' }, person)) as Readonly<Record<string, unknown>>;

describe("the supplier's value", () => {
  it('is in no answer to anybody before the result is signed, and in the trial afterwards', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    const portions = forAssay.map((blank) => [blank, 917.4] as const);
    recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions }));
    for (const person of everybody) {
      const desk = await trial.ask('laboratory-desk', {}, person);
      expect(JSON.stringify([desk, await ask(trial, person)])).not.toContain(supplierValue);
    }
    expect((await ask(trial)).supplierValue).toEqual({
      state: 'hidden until the result is signed',
      finenessPerMille: null,
    });
    recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
    expect((await ask(trial)).supplierValue).toEqual({ state: 'shown', finenessPerMille: 916.987 });
  });

  it('is hidden again while a result is sent back', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    const portions = forAssay.map((blank) => [blank, 917.4] as const);
    recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions }));
    recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
    const back = { melt: 'M-1', reason: 'Balance not levelled.' };
    recorded(await trial.do('send-back-result', back, 'checker'));
    expect(JSON.stringify(await ask(trial))).not.toContain(supplierValue);
  });
});

describe('the trial of a melt', () => {
  it('carries the cautions of its method from the catalogue', async () => {
    const trial = await laboratoryTrial();
    await sampleMelt(trial, 'M-1');
    const cautions = (await ask(trial)).cautions as readonly string[];
    expect(cautions.join(' ')).toMatch(/[Hh]ot furnace/);
    expect(cautions.join(' ')).toMatch(/molten lead/);
    expect(cautions.join(' ')).toMatch(/nitric acid/);
    await sampleMelt(trial, 'M-2', 'heron-31');
    const heron = (await trial.ask('melt-trial', { melt: 'M-2' }, 'assayer')) as {
      cautions: string[];
    };
    expect(heron.cautions.join(' ')).toMatch(/nitric acid/);
  });

  it('says what is missing for a result, then what it would be, then nothing once it is signed', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    expect((await ask(trial)).preview).toMatchObject({
      state: 'incomplete',
      missing: [{ refusal: 'DeterminationsMissing' }],
    });
    const portions = forAssay.map((blank) => [blank, 917.4] as const);
    recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions }));
    expect((await ask(trial)).preview).toMatchObject({
      state: 'complete',
      figures: { verdict: 'passes' },
      limitRule: { kind: 'limit-rule', unit: '‰', lowerLimit: 916.6 },
    });
    recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
    expect((await ask(trial)).preview).toBeNull();
  });

  it('shows every reading, run, determination, result and ruling with the names of the people', async () => {
    const trial = await laboratoryTrial();
    await checkedMelt(trial, 'M-1', 917.4);
    const ruling = { melt: 'M-1', ruling: 'release', reason: 'Passes.' };
    recorded(await trial.do('rule-melt', ruling, 'chief'));
    const answer = (await ask(trial)) as unknown as {
      blanks: { measurement: { mass: object } | null }[];
      runs: { worksheet: { proofs: object[] } }[];
      results: { limitRule: object; body: object }[];
    };
    expect(answer).toMatchObject({
      stage: 'released',
      supplierName: 'North Metals',
      physical: { state: 'accepted', blanksMeasured: 13 },
      rulings: [{ ruling: 'release', author: 'chief' }],
      returns: [],
      people: {
        assayer: 'The assayer',
        checker: 'The checker',
        inspector: 'inspector',
        chief: 'Chief',
      },
    });
    expect(answer.blanks.map((row) => row.measurement?.mass)).toEqual(
      Array.from({ length: 13 }, () => reading('8.01', 'g')),
    );
    expect(answer.runs[0]?.worksheet.proofs[0]).toEqual({
      label: 'P1',
      goldTaken: reading('229.200', 'mg'),
      cornet: reading('229.200', 'mg'),
    });
    expect(answer.results[0]?.limitRule).toMatchObject({ value: 917.4, lowerLimit: 916.6 });
  });

  it('is nothing for a melt that has not come to the laboratory', async () => {
    const trial = await laboratoryTrial();
    expect(await ask(trial)).toBeNull();
  });
});

describe('the desk of the laboratory', () => {
  it('lists untouched melts, those at work with their next step, and those that have ended', async () => {
    const trial = await laboratoryTrial();
    await checkedMelt(trial, 'M-1', 917.4);
    const second = await sampleMelt(trial, 'M-2');
    const { all } = await sampleMelt(trial, 'M-3', 'heron-31');
    recorded(await measure(trial, 'M-3', all, { pieceStandard: 'heron-31' }));
    const lines = async () => {
      const desk = (await trial.ask('laboratory-desk', {}, 'assayer')) as {
        waiting: { melt: string; stage: string }[];
        recent: { melt: string; stage: string }[];
        instruments: object[];
      };
      const line = ({ melt, stage }: { melt: string; stage: string }) => `${melt} ${stage}`;
      return { waiting: desk.waiting.map(line), recent: desk.recent.map(line), desk };
    };
    const before = await lines();
    // Its calibration ended the day before: no page offers it.
    expect(before.desk.instruments).toContainEqual(
      expect.objectContaining({
        instrument: 'B-OLD',
        outOfUse: 'Instrument B-OLD is not in use: its calibration was due on 2026-02-28.',
      }),
    );
    expect(before.desk.instruments).toContainEqual(
      expect.objectContaining({ instrument: 'B-1', outOfUse: null }),
    );
    expect(before.waiting).toEqual(['M-2 to be measured', 'M-3 to be cut', 'M-1 to be ruled']);
    expect(before.desk.waiting[0]).toMatchObject({
      blanksForPhysical: 13,
      blanksMeasured: 0,
      blanksForAssay: second.forAssay,
      method: 'cupellation',
    });
    const ruling = { melt: 'M-1', ruling: 'release', reason: 'Passes.' };
    recorded(await trial.do('rule-melt', ruling, 'chief'));
    expect(await lines()).toMatchObject({
      waiting: ['M-2 to be measured', 'M-3 to be cut'],
      recent: ['M-1 released'],
    });
  });
});

describe('the record of the laboratory', () => {
  it('leads from melt to blank to run and back', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await checkedMelt(trial, 'M-1', 917.4);
    const children = await trial.books.select(descents, { prefix: ['blank', forAssay[0] ?? ''] });
    expect(children.map((row) => [row.childThing, row.childId])).toEqual([['assay-run', 'R-M-1']]);
    const story = await trial.books.select(threads, { prefix: ['assay-run', 'R-M-1'] });
    expect(story.map((row) => row.kind)).toEqual(['CupellationRecorded', 'ResultSigned']);
  });

  it('gives the same books when they are made again from the journal', async () => {
    const trial = await laboratoryTrial();
    const { all } = await checkedMelt(trial, 'M-1', 916.8);
    const correction = {
      melt: 'M-1',
      balance: 'B-1',
      micrometer: 'M-1',
      blank: all[0],
      mass: reading('8.02', 'g'),
      diameter: reading('22.0', 'mm'),
      thickness: reading('1500', 'µm'),
      reason: 'Read from the wrong line.',
    };
    recorded(await trial.do('correct-measurement', correction, 'inspector'));
    recorded(
      await trial.do('rule-melt', { melt: 'M-1', ruling: 'refuse', reason: 'Too low.' }, 'chief'),
    );
    const back = { melt: 'M-1', document: 'Return note 7' };
    recorded(await trial.do('return-melt', back, 'custodian', 'storeman'));
    const rebuilt = new MemoryStore('trial');
    const registry = registerStations(stations);
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter((one) => !one.equal)).toEqual([]);
    expect(comparisons.find((one) => one.book === 'laboratory_blank')?.records).toBe(13);
  });

  it('records a command that is sent twice once', async () => {
    const trial = await laboratoryTrial();
    await checkedMelt(trial, 'M-1', 917.4);
    const request = {
      command: 'rule-melt',
      input: { melt: 'M-1', ruling: 'release', reason: 'Passes.' },
      author: 'chief',
      signed: true,
      idempotencyKey: 'one-release',
    };
    const first = await trial.recorder.record(request);
    const again = await trial.recorder.record(request);
    expect(first).toMatchObject({ outcome: 'recorded', repeated: false });
    expect(again).toMatchObject({ outcome: 'recorded', repeated: true });
  });

  it('has every refusal provoked by a test', () => {
    const tests = readdirSync(import.meta.dirname)
      .filter((name) => name.endsWith('.test.ts') && name !== 'questions.test.ts')
      .map((name) => readFileSync(join(import.meta.dirname, name), 'utf8'))
      .join('\n');
    const unprovoked = Object.keys(laboratoryRefusals).filter(
      (name) => !tests.includes(`'${name}'`),
    );
    expect(unprovoked).toEqual([]);
  });
});
