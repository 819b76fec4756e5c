import { describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { examinationTrial } from '../examination/examination-trial.ts';
import {
  checkedMelt,
  instrument,
  laboratoryTrial,
  reading,
  recorded,
  refusals,
} from '../laboratory-trial.ts';
import { cutSilver } from '../titration/titration-trial.ts';
import { runByTitre, titre, titreTrial } from '../titration/titre-trial.ts';
import { failBalance } from './failed-balance-trial.ts';
import type { Use } from './held-uses.ts';
import { holdDocket } from './hold-docket.ts';

interface HoldShown {
  readonly hold: string;
  readonly held: readonly (Use & { readonly stage: string | null })[];
}

const shown = async (trial: Trial, hold: string) =>
  (await trial.ask('results-hold', { hold }, 'chief')) as unknown as HoldShown;

const whats = ({ held }: HoldShown) => held.map(({ what, act }) => act ?? what);

const answer = (trial: Trial, hold: string, entries: readonly number[], finding = 'stands') =>
  trial.do('answer-hold', { hold, entries, finding, reason: 'Looked into.' }, 'chief');

/** Lets an instrument other than a balance fail its check, and answers the hold that follows. */
async function fail(trial: Trial, instrument: string): Promise<string> {
  const check = {
    kind: 'values',
    unit: 'HV',
    points: [{ checkStandard: 'BLOCK-1', nominal: 100, reading: 120 }],
    limit: 2,
  };
  recorded(await trial.do('record-instrument-check', { instrument, check }, 'inspector'));
  const [hold] = (await trial.ask('holds', {}, 'chief')) as unknown as { hold: string }[];
  return hold?.hold ?? '';
}

const hardness = (blank: string | undefined, diagonal = '143.0') => ({
  melt: 'M-1',
  blank,
  instrument: 'H-1',
  testForceNewtons: 4.903,
  spacingGroup: 'light metals, lead and tin',
  forceRelativeStandardUncertaintyPercent: 0.5,
  diagonalStandardUncertaintyMicrometres: 0.5,
  indentations: [{ label: 'A', first: reading(diagonal, 'µm'), second: reading(diagonal, 'µm') }],
});

const structure = (blank: string | undefined) => ({
  melt: 'M-1',
  blank,
  instrument: 'X-1',
  photographSha256: 'a'.repeat(64),
  picture: { widthPixels: 1000, heightPixels: 800 },
  scale: { kind: 'stated', micrometresPerPixel: 0.5 },
  lines: [
    {
      label: 'L1',
      from: { x: 0, y: 100 },
      to: { x: 900, y: 100 },
      marks: Array.from({ length: 20 }, (_, index) => ({ at: (index + 1) / 21, counts: 1 })),
    },
  ],
});

const edge = (blank: string | undefined) => ({
  melt: 'M-1',
  blank,
  instrument: 'M-1',
  rule: 'expanded uncertainty',
  limitsSetBy: 'Drawing EG-31/4',
  gaugeStandardUncertaintyMicrometres: 5,
  dimensions: [
    {
      label: 'Edge height',
      readings: [reading('3.21', 'mm')],
      leastMillimetres: 3.1,
      greatestMillimetres: 3.3,
    },
  ],
});

const fluorescence = (blank: string | undefined) => ({
  melt: 'M-1',
  blank,
  instrument: 'S-1',
  pieceReadings: [917.1, 916.4, 917.6, 916.9],
  standards: [
    {
      label: 'Matched 916',
      certifiedFinenessPerMille: 916.6,
      certifiedStandardUncertaintyPerMille: 0.2,
      readings: [916.1, 917, 916.2, 917.1],
    },
  ],
  surfaceStandardUncertaintyPerMille: 1,
  confidencePercent: 95,
});

describe('a failed check', () => {
  it('holds hardness, grain size and edge, each on its own instrument', async () => {
    const { trial, blanks } = await examinationTrial();
    recorded(await trial.do('measure-hardness', hardness(blanks[0]), 'inspector'));
    recorded(await trial.do('examine-structure', structure(blanks[1]), 'inspector'));
    recorded(await trial.do('measure-edge', edge(blanks[2]), 'inspector'));
    const ofTester = await shown(trial, await fail(trial, 'H-1'));
    expect(ofTester.held).toMatchObject([
      { what: 'hardness', melt: 'M-1', of: { thing: 'blank', id: blanks[0] }, assayRun: null },
    ]);
    expect(whats(await shown(trial, await fail(trial, 'X-1')))).toEqual(['grain size']);
    expect(whats(await shown(trial, await fail(trial, 'M-1')))).toEqual([
      'measurement of blanks',
      'edge',
    ]);
  });

  it('holds screenings, and the release of a melt until they are answered', async () => {
    const trial = await laboratoryTrial();
    const { all } = await checkedMelt(trial, 'M-1', 917.4);
    recorded(await trial.do('screen-by-fluorescence', fluorescence(all[0]), 'inspector'));
    const hold = await fail(trial, 'S-1');
    const { held } = await shown(trial, hold);
    expect(held).toMatchObject([{ what: 'screening' }]);
    const release = { melt: 'M-1', ruling: 'release', reason: 'All is in order.' };
    expect(await trial.do('rule-melt', release, 'chief')).toMatchObject({
      refusals: [{ refusal: 'ExaminationHeld', figures: { blank: all[0], hold } }],
    });
    expect(await holdDocket(trial.books)).toMatchObject([
      { what: expect.stringMatching(/^1 screening in doubt: Instrument S-1/), weight: 'stopped' },
    ]);
    recorded(await answer(trial, hold, [held[0]?.entry ?? 0], 'set aside'));
    expect(await trial.ask('melt-screenings', { melt: 'M-1' }, 'auditor')).toMatchObject([
      { state: 'set aside' },
    ]);
    recorded(await trial.do('rule-melt', release, 'chief'));
    expect(await holdDocket(trial.books)).toEqual([]);
  });

  it('leaves out of the docket a hardness beyond its limits that is set aside', async () => {
    const { trial, blanks } = await examinationTrial();
    recorded(await trial.do('measure-hardness', hardness(blanks[0], '120.0'), 'inspector'));
    const hold = await fail(trial, 'H-1');
    const { held } = await shown(trial, hold);
    recorded(await answer(trial, hold, [held[0]?.entry ?? 0], 'set aside'));
    expect(await trial.ask('melt-examinations', { melt: 'M-1' }, 'auditor')).toMatchObject({
      examinations: [{ setAside: expect.stringMatching(/^Set aside: Instrument H-1/) }],
    });
  });

  it('of a balance holds also what other stations weighed with it', async () => {
    const trial = await laboratoryTrial();
    await checkedMelt(trial, 'M-1', 917.4);
    const hold = await failBalance(trial);
    const found = await shown(trial, hold);
    expect(whats(found)).toEqual(['drum weighed', 'sample drawn', 'measurement of blanks', 'run']);
    expect(found.held[0]).toMatchObject({ of: { thing: 'drum', id: 'D-M-1' }, melt: 'M-1' });
    expect(await holdDocket(trial.books)).toMatchObject([
      { what: expect.stringMatching(/^1 run, 1 measurement and 2 weighings in doubt:/) },
    ]);
    recorded(
      await answer(
        trial,
        hold,
        found.held.map(({ entry }) => entry),
      ),
    );
    expect(await holdDocket(trial.books)).toEqual([]);
    expect(await trial.ask('holds', {}, 'auditor')).toMatchObject([
      { hold, inDoubt: 0, doubt: '', answered: 4, newestAnswer: { author: 'Chief' } },
    ]);
  });

  it('weighs on the docket as a look once every melt that it reaches is ruled on', async () => {
    const trial = await laboratoryTrial();
    await checkedMelt(trial, 'M-1', 917.4);
    const release = { melt: 'M-1', ruling: 'release', reason: 'All is in order.' };
    recorded(await trial.do('rule-melt', release, 'chief'));
    await failBalance(trial);
    expect(await holdDocket(trial.books)).toMatchObject([
      { weight: 'look', holdsUp: 'Nothing that is not ruled on.' },
    ]);
  });
});

describe('the balance behind a titre', () => {
  it('holds the titre and every run that was computed with it, whatever weighed the portions', async () => {
    const trial = await titreTrial();
    const melt = 'M-1';
    const { forAssay } = await cutSilver(trial, melt);
    recorded(await titre(trial, 'F-1'));
    const portions = forAssay.map((blank, index) => [blank, 925.4 + index / 10] as const);
    recorded(await trial.do('register-instrument', instrument('B-3', 'balance'), 'chief'));
    const changes = { balance: 'B-3' };
    const run = runByTitre({ assayRun: 'T-1', melt, portions, titre: 'F-1', changes });
    recorded(await trial.do('record-titration', run, 'assayer'));
    const hold = await failBalance(trial);
    const { held } = await shown(trial, hold);
    expect(held.map((one) => [one.what, one.assayRun])).toContainEqual(['titrant factor', 'F-1']);
    expect(held.map((one) => [one.what, one.assayRun])).toContainEqual(['run', 'T-1']);
    expect(refusals(await trial.do('sign-result', { melt }, 'assayer'))).toEqual(['RunHeld']);
    const entries = held.filter(({ assayRun }) => assayRun === 'T-1').map(({ entry }) => entry);
    recorded(await answer(trial, hold, entries));
    recorded(await trial.do('sign-result', { melt }, 'assayer'));
  });
});
