import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../../adapters/memory-store.ts';
import { registerStations } from '../../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../../journal/rebuild.ts';
import type { Trial } from '../../../journal/trial.ts';
import { receivingStation } from '../../receiving/station.ts';
import { registersStation } from '../../registers/station.ts';
import { trialOf } from '../index.ts';
import { cutMelt, measure, reading, recorded, refusals } from '../laboratory-trial.ts';
import { laboratoryStation } from '../station.ts';
import { differenceMethod, differenceRun, trialWithMethod } from './controls-trial.ts';
import { holdDocket } from './hold-docket.ts';

const hold = 'reagent-lot/ACID-7';
const acid = {
  lot: 'ACID-7',
  reagent: 'nitric acid',
  supplier: 'Hill Chemicals',
  supplierLot: '4711',
  expires: '2026-06-30',
  isTitrant: false,
};

const sign = (trial: Trial) => trial.do('sign-result', { melt: 'M-1' }, 'assayer');
const check = (trial: Trial) => trial.do('check-result', { melt: 'M-1' }, 'checker');
const rule = (trial: Trial, ruling: string) =>
  trial.do('rule-melt', { melt: 'M-1', ruling, reason: 'All is in order.' }, 'chief');
const condemn = async (trial: Trial) => {
  const input = { lot: 'ACID-7', reason: 'Chloride was found in it.' };
  recorded(await trial.do('condemn-reagent-lot', input, 'assayer'));
};
const answer = (trial: Trial, finding: string, entries: readonly number[], name = hold) =>
  trial.do('answer-hold', { hold: name, entries, finding, reason: 'Looked into.' }, 'chief');
const entryOf = async (trial: Trial, assayRun: string) =>
  (await trialOf(trial.books, 'M-1'))?.runs.find((run) => run.assayRun === assayRun)?.entry ?? 0;

/** A plant whose method asks for nitric acid, with one open lot and a run made with it. */
async function withRun(more: object = {}) {
  const { trial, blanks } = await trialWithMethod({ reagents: ['nitric acid'], ...more });
  recorded(await trial.do('receive-reagent-lot', acid, 'assayer'));
  recorded(await trial.do('open-reagent-lot', { lot: 'ACID-7', expires: '2026-05-31' }, 'assayer'));
  const controls = { reagentLots: ['ACID-7'] };
  const run = (assayRun: string, change: object = {}) =>
    differenceRun(trial, { assayRun, blanks, controls, ...change });
  recorded(await run('D-1'));
  return { trial, blanks, run, entry: await entryOf(trial, 'D-1') };
}

describe('reagents of a run', () => {
  it('are named by lot, open and not expired on the day of the run', async () => {
    const { trial, run } = await withRun();
    expect(refusals(await run('D-2', { controls: {} }))).toEqual(['ReagentMissing']);
    expect(refusals(await run('D-2', { controls: { reagentLots: ['NONE'] } }))).toEqual([
      'ReagentLotUnknown',
      'ReagentMissing',
    ]);
    trial.now = Date.parse('2026-06-01T08:00:00.000Z');
    expect(refusals(await run('D-2'))).toEqual(['ReagentExpired']);
  });

  it('are looked at again when a result is signed', async () => {
    const { trial, blanks } = await trialWithMethod();
    recorded(await trial.do('receive-reagent-lot', acid, 'assayer'));
    recorded(
      await trial.do('open-reagent-lot', { lot: 'ACID-7', expires: '2026-03-02' }, 'assayer'),
    );
    const controls = { reagentLots: ['ACID-7'] };
    recorded(await differenceRun(trial, { assayRun: 'D-1', blanks, controls }));
    trial.now = Date.parse('2026-03-05T08:00:00.000Z');
    // The lot expired on the day of the run, not before it.
    recorded(await sign(trial));
  });
});

describe('a condemned lot', () => {
  it('holds every run made with it at signing, checking and release, until it is answered for', async () => {
    const { trial, entry } = await withRun();
    await condemn(trial);
    expect(await sign(trial)).toMatchObject({
      refusals: [
        {
          refusal: 'RunHeld',
          message:
            'Run D-1 is in doubt. Lot ACID-7 of nitric acid was condemned: Chloride was found in it.',
        },
      ],
    });
    expect(await holdDocket(trial.books)).toMatchObject([
      {
        what: '1 run in doubt: Lot ACID-7 of nitric acid was condemned: Chloride was found in it.',
        holdsUp: 'Signing, checking and release of M-1.',
        path: '/laboratory/holds/reagent-lot%2FACID-7',
        weight: 'stopped',
      },
    ]);
    const [body] = recorded(await answer(trial, 'stands', [entry]));
    expect(body).toMatchObject({ finding: 'stands', answeredFor: [{ assayRun: 'D-1' }] });
    expect(await holdDocket(trial.books)).toEqual([]);
    recorded(await sign(trial));
  });

  it('stands on the page of the melt whose signed result rests on it', async () => {
    const { trial, entry } = await withRun();
    const doubts = async () =>
      (await trial.ask('melt-trial', { melt: 'M-1' }, 'assayer')) as { doubts: readonly object[] };
    recorded(await sign(trial));
    expect(await doubts()).toMatchObject({ doubts: [] });
    await condemn(trial);
    expect(await doubts()).toMatchObject({
      doubts: [{ what: 'Run D-1', entry, hold: 'reagent-lot/ACID-7' }],
    });
  });

  it('holds a signed result at its check, and a checked one at its release', async () => {
    const { trial, entry } = await withRun();
    recorded(await sign(trial));
    await condemn(trial);
    expect(refusals(await check(trial))).toEqual(['RunHeld']);
    recorded(await answer(trial, 'stands', [entry]));
    recorded(await check(trial));
    recorded(await rule(trial, 'release'));

    const other = await withRun();
    recorded(await sign(other.trial));
    recorded(await check(other.trial));
    await condemn(other.trial);
    expect(refusals(await rule(other.trial, 'release'))).toEqual(['RunHeld']);
    recorded(await rule(other.trial, 'refuse'));
  });

  it('is followed by new runs where the old are set aside, and no result rests on those', async () => {
    const { trial, run, entry } = await withRun();
    recorded(await sign(trial));
    recorded(await check(trial));
    await condemn(trial);
    recorded(await answer(trial, 'set aside', [entry]));
    const story = await trialOf(trial.books, 'M-1');
    expect(story?.trial).toMatchObject({
      stage: 'to be assayed',
      result: null,
      determinationsValid: 0,
    });
    expect(story?.results.map((row) => row.state)).toEqual(['sent back']);
    expect(story?.runs[0]?.voidReason).toBe(
      'Set aside: Lot ACID-7 of nitric acid was condemned: Chloride was found in it. Looked into.',
    );
    expect(refusals(await run('D-2'))).toEqual(['ReagentLotCondemned']);
    recorded(await trial.do('receive-reagent-lot', { ...acid, lot: 'ACID-8' }, 'assayer'));
    recorded(
      await trial.do('open-reagent-lot', { lot: 'ACID-8', expires: '2026-05-31' }, 'assayer'),
    );
    recorded(await run('D-2', { controls: { reagentLots: ['ACID-8'] } }));
    recorded(await sign(trial));
    recorded(await check(trial));
    recorded(await rule(trial, 'release'));
  });

  it('names what was released on it, which is set aside only once the melt is held', async () => {
    const { trial, entry } = await withRun();
    recorded(await sign(trial));
    recorded(await check(trial));
    recorded(await rule(trial, 'release'));
    await condemn(trial);
    expect(await holdDocket(trial.books)).toMatchObject([
      {
        why: 'They were made before it was found. Already released on them: M-1.',
        holdsUp: 'Nothing that is not ruled on.',
      },
    ]);
    expect(refusals(await answer(trial, 'set aside', [entry]))).toEqual(['MeltAlreadyRuled']);
    recorded(await rule(trial, 'hold'));
    recorded(await answer(trial, 'set aside', [entry]));
    expect(await trial.ask('results-hold', { hold }, 'auditor')).toMatchObject({
      held: [],
      answers: [{ entry, finding: 'set aside', author: 'chief' }],
    });
    expect(await trial.ask('holds', {}, 'auditor')).toMatchObject([{ hold, inDoubt: 0 }]);
    expect(await trial.ask('results-hold', { hold: 'none' }, 'auditor')).toBeNull();
  });

  it('is answered for by the chief assayer alone, once, and for its own runs', async () => {
    const { trial, entry } = await withRun();
    expect(refusals(await answer(trial, 'stands', [entry]))).toEqual(['HoldUnknown']);
    await condemn(trial);
    expect(refusals(await answer(trial, 'stands', [1]))).toEqual(['NotHeld']);
    recorded(await answer(trial, 'stands', [entry]));
    expect(refusals(await answer(trial, 'stands', [entry]))).toEqual(['NotHeld']);
  });
});

describe('a failed check of an instrument', () => {
  const checkOf = (value: number) => ({
    kind: 'values',
    unit: 'mg/kg',
    points: [{ checkStandard: 'DRIFT-1', nominal: 100, reading: value }],
    limit: 2,
  });
  const checkSpectrometer = async (trial: Trial, value: number) =>
    recorded(
      await trial.do(
        'record-instrument-check',
        { instrument: 'S-1', check: checkOf(value) },
        'assayer',
      ),
    );

  it('stops it and holds the runs since its last good check', async () => {
    const { trial, blanks, run } = await withRun();
    await checkSpectrometer(trial, 101);
    recorded(await run('D-2', { blanks: blanks.slice(0, 1) }));
    await checkSpectrometer(trial, 105);
    expect(refusals(await run('D-3', { blanks: blanks.slice(1) }))).toEqual(['InstrumentStopped']);
    const outcome = await sign(trial);
    expect(outcome).toMatchObject({ refusals: [{ refusal: 'RunHeld' }] });
    expect(refusals(outcome)).toHaveLength(1);
    await checkSpectrometer(trial, 100);
    // Passing again opens the instrument and clears nothing that was in doubt.
    expect(refusals(await sign(trial))).toEqual(['RunHeld']);
    const [doubt] = (await trial.ask('holds', {}, 'chief')) as { hold: string }[];
    const entry = await entryOf(trial, 'D-2');
    recorded(await answer(trial, 'set aside', [entry], doubt?.hold));
    recorded(await sign(trial));
  });

  it('holds a release on blanks that were weighed with it, until they are measured again', async () => {
    const { trial } = await withRun();
    recorded(await sign(trial));
    recorded(await check(trial));
    const weights = (text: string) => ({
      kind: 'weights',
      points: [
        { checkStandard: 'W-1', nominal: reading('20.00000', 'g'), reading: reading(text, 'g') },
      ],
      limit: reading('0.5', 'mg'),
    });
    const weigh = async (text: string) =>
      recorded(
        await trial.do(
          'record-instrument-check',
          { instrument: 'B-1', check: weights(text) },
          'inspector',
        ),
      );
    await weigh('20.00100');
    expect(await rule(trial, 'release')).toMatchObject({
      refusals: [{ refusal: 'MeasurementHeld', figures: { blanks: 13 } }],
    });
    const [doubt] = (await trial.ask('holds', {}, 'chief')) as { hold: string; inDoubt: number }[];
    // The measurement, and the drum and the draw that receiving weighed with it.
    expect(doubt?.inDoubt).toBe(3);
    const entry = (await trialOf(trial.books, 'M-1'))?.blanks[0]?.measurement.entry ?? 0;
    expect(refusals(await answer(trial, 'set aside', [entry], doubt?.hold))).toEqual([
      'MeasurementNotSetAside',
    ]);
    recorded(await answer(trial, 'stands', [entry], doubt?.hold));
    recorded(await rule(trial, 'release'));
  });

  it('is asked for nothing where the blanks were measured before the last good check', async () => {
    const { trial } = await withRun();
    await checkSpectrometer(trial, 100);
    await checkSpectrometer(trial, 110);
    expect(await holdDocket(trial.books)).toEqual([]);
    recorded(await sign(trial));
  });
});

describe('the edition of a method at signing', () => {
  it('refuses a fineness outside its scope, and fewer determinations than it asks for', async () => {
    const scope = { ...differenceMethod.scope, leastPerMille: 999 };
    const low = await withRun({ scope, determinationsAtLeast: 3 });
    expect(await sign(low.trial)).toMatchObject({
      refusals: [{ refusal: 'DeterminationsMissing', figures: { furtherResultsNeeded: 1 } }],
    });
    const { trial, blanks } = await trialWithMethod({ scope });
    recorded(await differenceRun(trial, { assayRun: 'D-1', blanks, copper: 1200 }));
    expect(await sign(trial)).toMatchObject({
      refusals: [
        {
          refusal: 'OutsideMethodScope',
          message:
            '998.8 ‰ of melt M-1 lies outside Fine silver by difference, edition 1: 999 to 999.99 ‰.',
        },
      ],
    });
  });

  it('stands in the signed result', async () => {
    const { trial } = await withRun();
    const [body] = recorded(await sign(trial));
    expect(body).toMatchObject({ editions: [{ method: 'AG-DIFF', edition: 1 }] });
  });

  it('refuses a run whose balance was out of calibration on its day', async () => {
    const { trial } = await withRun();
    const calibration = {
      instrument: 'S-1',
      calibrationDue: '2026-03-01',
      document: 'Withdrawn certificate',
      divisionGrams: null,
      repeatabilityGrams: null,
      gainRelative: null,
    };
    recorded(await trial.do('record-calibration', calibration, 'chief'));
    expect(refusals(await sign(trial))).toEqual(['CalibrationOverdue']);
  });
});

describe('the books of holds', () => {
  it('follow from the journal alone', async () => {
    const { trial, entry } = await withRun();
    recorded(await sign(trial));
    await condemn(trial);
    recorded(await answer(trial, 'set aside', [entry]));
    await cutMelt(trial, 'M-2', 'heron-31');
    expect(refusals(await measure(trial, 'M-2', ['none'], {}))).toEqual(['BlankNotDrawn']);
    const registry = registerStations([registersStation, receivingStation, laboratoryStation]);
    const target = new MemoryStore('trial');
    await rebuildInto(trial.store, target, registry);
    const compared = await compareBooks(trial.store, target, registry);
    expect(compared.filter((book) => !book.equal)).toEqual([]);
  });
});
