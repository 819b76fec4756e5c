import { describe, expect, it } from 'vitest';
import { balances } from '../../journal/core-books.ts';
import type { Trial } from '../../journal/trial.ts';
import { laboratoryDocket } from './docket.ts';
import { mayBeStruck, rulingOf, trialOf } from './index.ts';
import {
  announceMelt,
  checkedMelt,
  cupel,
  cutMelt,
  laboratoryTrial,
  measure,
  reading,
  recorded,
  refusals,
  sampleMelt,
} from './laboratory-trial.ts';

const rule = (trial: Trial, ruling: string, author = 'chief', melt = 'M-1') =>
  trial.do('rule-melt', { melt, ruling, reason: 'As the figures say.' }, author);
const giveBack = (trial: Trial) =>
  trial.do('return-melt', { melt: 'M-1', document: 'Return note 7' }, 'custodian', 'storeman');
const stage = async (trial: Trial) => (await trialOf(trial.books, 'M-1'))?.trial.stage;
const docket = async (trial: Trial) =>
  (await laboratoryDocket(trial.books)).map(({ paper, weight }) => [paper, weight]);

/** A melt with a checked result that passes, and odd blanks among those measured. */
async function passingWith(odd: { thick?: number; light?: number; measured?: number }) {
  const trial = await laboratoryTrial();
  const { all, forAssay } = await sampleMelt(trial, 'M-1');
  const oddFirst = [...all.filter((blank) => !forAssay.includes(blank)), ...forAssay];
  const measured = odd.measured ?? all.length;
  const now = [...oddFirst.slice(0, measured - 2), ...forAssay];
  recorded(await measure(trial, 'M-1', now, odd));
  recorded(await trial.do('cut-blanks', { melt: 'M-1', blanks: forAssay }, 'assayer'));
  const portions = forAssay.map((blank) => [blank, 917.4] as const);
  recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions }));
  recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
  recorded(await trial.do('check-result', { melt: 'M-1' }, 'checker'));
  return trial;
}

describe('a release', () => {
  it('is given where the verdict passes and the blanks are accepted, with all its figures', async () => {
    const trial = await laboratoryTrial();
    await checkedMelt(trial, 'M-1', 917.4);
    expect(await mayBeStruck(trial.books, 'M-1')).toBe(false);
    const [body] = recorded(await rule(trial, 'release'));
    expect(body).toMatchObject({
      melt: 'M-1',
      ruling: 'release',
      reason: 'As the figures say.',
      verdict: 'passes',
      physical: {
        state: 'accepted',
        blanksForPhysical: 13,
        blanksMeasured: 13,
        blanksNonconforming: 0,
        acceptanceNumber: 1,
        rejectionNumber: 2,
      },
    });
    // Φ((917.4 − 916.6)/0.187662) = Φ(4.263) = 0.99999 (tables of the normal distribution).
    expect(body?.conformanceProbability).toBeCloseTo(0.99999, 5);
    expect(await mayBeStruck(trial.books, 'M-1')).toBe(true);
    expect((await rulingOf(trial.books, 'M-1'))?.author).toBe('chief');
  });

  it('is refused without a checked result, and to anybody but the chief assayer', async () => {
    const trial = await laboratoryTrial();
    await cutMelt(trial, 'M-1');
    expect(refusals(await rule(trial, 'release'))).toEqual(['ResultNotChecked']);
    expect(refusals(await rule(trial, 'release', 'assayer'))).toEqual(['RoleMissing']);
    expect(refusals(await rule(trial, 'release', 'chief', 'M-9'))).toEqual(['MeltUnknown']);
  });

  it.each([916.8, 916.0])(
    'is refused to a melt of %d ‰, whose verdict is not that it passes',
    async (fineness) => {
      const trial = await laboratoryTrial();
      await checkedMelt(trial, 'M-1', fineness);
      expect(refusals(await rule(trial, 'release'))).toEqual(['VerdictNotPasses']);
      expect(refusals(await rule(trial, 'concession'))).toEqual([
        'VerdictNotPasses',
        'ConcessionNotPossible',
      ]);
    },
  );

  it('is refused while blanks are unmeasured, and where too many are at fault', async () => {
    const unmeasured = await passingWith({ measured: 9 });
    const outcome = await rule(unmeasured, 'release');
    expect(outcome).toMatchObject({
      refusals: [
        {
          refusal: 'PhysicalNotAccepted',
          message: 'Of 13 blanks 9 are measured and 0 lie outside their limits; 2 reject the melt.',
        },
      ],
    });
    expect(refusals(await rule(await passingWith({ thick: 2 }), 'release'))).toEqual([
      'PhysicalNotAccepted',
    ]);
  });

  it('is refused where the fineness lies outside the scope of the method', async () => {
    const trial = await laboratoryTrial();
    // 999.6 ‰ lies above the 999.5 ‰ of ISO 11426:2021.
    await checkedMelt(trial, 'M-1', 999.6);
    expect(refusals(await rule(trial, 'release'))).toEqual(['OutsideMethodScope']);
  });

  it('is refused on a result that newer determinations have overtaken', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await checkedMelt(trial, 'M-1', 917.4);
    recorded(await rule(trial, 'hold'));
    const portions = [[forAssay[0] ?? '', 917.2]] as const;
    recorded(await cupel(trial, { assayRun: 'R-2', melt: 'M-1', portions }));
    expect(refusals(await rule(trial, 'release'))).toEqual(['ResultNotChecked']);
  });
});

describe('a concession', () => {
  it('is given where the blanks were rejected for their dimensions alone', async () => {
    const trial = await passingWith({ thick: 3 });
    recorded(await rule(trial, 'concession'));
    expect(await stage(trial)).toBe('released by concession');
    expect(await mayBeStruck(trial.books, 'M-1')).toBe(true);
  });

  it('is never given for least mass, nor where nothing was rejected, nor before all is measured', async () => {
    const message = async (trial: Trial) => {
      const outcome = await rule(trial, 'concession');
      return outcome.outcome === 'refused' && outcome.refusals.map((one) => one.message);
    };
    expect(await message(await passingWith({ thick: 3, light: 1 }))).toEqual([
      'Nothing can be conceded for melt M-1: 1 of the blanks lie below the least mass.',
    ]);
    expect(await message(await passingWith({}))).toEqual([
      'Nothing can be conceded for melt M-1: the blanks are not rejected but accepted.',
    ]);
    expect(await message(await passingWith({ thick: 3, measured: 9 }))).toEqual([
      'Nothing can be conceded for melt M-1: only 9 of 13 blanks are measured.',
    ]);
  });
});

describe('a ruling', () => {
  it('closes the trial; a released melt can still be held or refused, and a held one released', async () => {
    const trial = await laboratoryTrial();
    const { all, forAssay } = await checkedMelt(trial, 'M-1', 917.4);
    recorded(await rule(trial, 'release'));
    expect(refusals(await rule(trial, 'release'))).toEqual(['RulingUnchanged']);
    expect(refusals(await rule(trial, 'concession'))).toEqual(['MeltAlreadyRuled']);
    expect(refusals(await measure(trial, 'M-1', all.slice(0, 1)))).toEqual(['MeltAlreadyRuled']);
    expect(refusals(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'))).toEqual([
      'MeltAlreadyRuled',
      'ResultAlreadySigned',
    ]);
    const portions = [[forAssay[0] ?? '', 917.4]] as const;
    expect(refusals(await cupel(trial, { assayRun: 'R-2', melt: 'M-1', portions }))).toEqual([
      'MeltAlreadyRuled',
    ]);
    recorded(await rule(trial, 'hold'));
    expect(await mayBeStruck(trial.books, 'M-1')).toBe(false);
    recorded(await rule(trial, 'release'));
    recorded(await rule(trial, 'refuse'));
    expect(refusals(await rule(trial, 'release'))).toEqual(['MeltAlreadyRuled']);
    const story = await trialOf(trial.books, 'M-1');
    expect(story?.rulings.map((row) => row.ruling)).toEqual([
      'release',
      'hold',
      'release',
      'refuse',
    ]);
  });

  it('may refuse or hold a melt before anything is measured, but not before it is sampled', async () => {
    const trial = await laboratoryTrial();
    await announceMelt(trial, 'M-2');
    expect(refusals(await rule(trial, 'refuse', 'chief', 'M-2'))).toEqual(['MeltNotSampled']);
    await sampleMelt(trial, 'M-1');
    const [body] = recorded(await rule(trial, 'refuse'));
    expect(body).toMatchObject({ result: null, verdict: null, physical: { state: 'open' } });
    expect(await stage(trial)).toBe('refused');
  });

  it('on a held melt gives way to the next result', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await checkedMelt(trial, 'M-1', 916.8);
    recorded(await rule(trial, 'hold'));
    expect(await stage(trial)).toBe('held');
    const portions = forAssay.map((blank) => [blank, 917.4] as const);
    recorded(await cupel(trial, { assayRun: 'R-2', melt: 'M-1', portions }));
    recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
    expect(await stage(trial)).toBe('to be checked');
    expect((await rulingOf(trial.books, 'M-1'))?.ruling).toBe('hold');
  });
});

describe('the return of a refused melt', () => {
  it('gives back all that lies at receiving, to the microgram', async () => {
    const trial = await laboratoryTrial();
    await checkedMelt(trial, 'M-1', 916);
    expect(refusals(await giveBack(trial))).toEqual(['MeltNotRefused']);
    recorded(await rule(trial, 'refuse'));
    const [body] = recorded(await giveBack(trial));
    // 480.60 g in, 104.13 g of thirteen blanks to the laboratory.
    expect(body).toMatchObject({
      document: 'Return note 7',
      pieces: 47,
      grossMicrograms: 376_470_000,
    });
    // Where nothing lies there is no record.
    expect(await trial.books.get(balances, 'receiving', 'gold', 'lark-8', 'M-1')).toBeUndefined();
    expect(await stage(trial)).toBe('returned');
    expect(refusals(await giveBack(trial))).toEqual(['NothingToReturn']);
    expect(refusals(await rule(trial, 'hold'))).toEqual(['MeltAlreadyRuled']);
  });

  it('can be made again for blanks that came back from the laboratory later', async () => {
    const trial = await laboratoryTrial();
    const { all, forAssay } = await checkedMelt(trial, 'M-1', 916);
    recorded(await rule(trial, 'refuse'));
    recorded(await giveBack(trial));
    const whole = all.filter((blank) => !forAssay.includes(blank));
    const gross = reading('88.11', 'g');
    const back = { melt: 'M-1', blanks: whole, gross, instrument: 'B-1' };
    recorded(await trial.do('return-blanks', back, 'inspector', 'custodian'));
    expect(recorded(await giveBack(trial))[0]).toMatchObject({ pieces: 11 });
  });

  it('needs a custodian and a second person', async () => {
    const trial = await laboratoryTrial();
    const input = { melt: 'M-1', document: 'Return note 7' };
    expect(refusals(await trial.do('return-melt', input, 'custodian'))).toEqual(['WitnessMissing']);
    expect(refusals(await trial.do('return-melt', input, 'custodian', 'auditor'))).toEqual([
      'WitnessRoleMissing',
    ]);
  });
});

describe('the docket', () => {
  it('follows a melt from check to ruling to return', async () => {
    const trial = await laboratoryTrial();
    const { forAssay } = await cutMelt(trial, 'M-1');
    expect(await docket(trial)).toEqual([]);
    const portions = forAssay.map((blank) => [blank, 916] as const);
    recorded(await cupel(trial, { assayRun: 'R-1', melt: 'M-1', portions }));
    recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
    expect(await docket(trial)).toEqual([['laboratory/check/M-1', 'look']]);
    recorded(await trial.do('check-result', { melt: 'M-1' }, 'checker'));
    const [paper] = await laboratoryDocket(trial.books);
    expect(paper).toEqual({
      paper: 'laboratory/rule/M-1',
      station: 'laboratory',
      what: 'Melt M-1: 916.000 ‰ with standard uncertainty 0.188 ‰, verdict fails; blanks accepted.',
      why: expect.stringContaining('Fails: 916.000 ‰ is not above the rejection limit 916.225 ‰.'),
      holdsUp: 'The pieces of melt M-1 at receiving.',
      act: 'Rule on melt',
      path: '/laboratory/melts/M-1',
      since: '2026-03-02T07:00:00.000Z',
      weight: 'stopped',
    });
    recorded(await rule(trial, 'hold'));
    expect(await docket(trial)).toEqual([['laboratory/held/M-1', 'stopped']]);
    recorded(await rule(trial, 'refuse'));
    expect(await docket(trial)).toEqual([['laboratory/return/M-1', 'look']]);
    recorded(await giveBack(trial));
    expect(await docket(trial)).toEqual([]);
  });

  it('asks for a ruling on a sound melt only for a look, and stops at rejected blanks at once', async () => {
    const sound = await passingWith({});
    expect(await docket(sound)).toEqual([['laboratory/rule/M-1', 'look']]);
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'M-1');
    recorded(await measure(trial, 'M-1', all.slice(0, 3), { light: 2 }));
    expect(await docket(trial)).toEqual([['laboratory/rejected/M-1', 'stopped']]);
  });
});
