import { describe, expect, it } from 'vitest';
import type { Trial } from '../../journal/trial.ts';
import { recorded } from '../laboratory/laboratory-trial.ts';
import { cutSilver, titrationOf, titrationTrial } from '../laboratory/titration/titration-trial.ts';
import { runByTitre, titre, titreTrial } from '../laboratory/titration/titre-trial.ts';
import { pressRoomStation } from '../press-room/station.ts';
import { pieceStandardOf } from '../registers/index.ts';
import { certifiedMelt } from './certified-melt.ts';
import { type CertifiedMelt, certificateContentSchema } from './content.ts';
import { type IssueFacts, meltFacts } from './issue-facts.ts';
import { checkMelt } from './melt-checks.ts';
import { certificatePage } from './page-content.ts';
import { trialContent } from './trial-content.ts';

const nothing: IssueFacts = {
  plant: undefined,
  existing: undefined,
  replaced: undefined,
  standard: undefined,
  boxes: [],
  melts: [],
  names: new Map([['assayer', 'The assayer']]),
};

/** A silver melt that was titrated, with a blank titration, and released. */
async function titratedMelt() {
  const trial = await titrationTrial([pressRoomStation]);
  const melt = 'M-1';
  const { forAssay } = await cutSilver(trial, melt);
  const portions = forAssay.map((blank, index) => [blank, 925.4 + index / 10] as const);
  const reagentBlank = {
    kind: 'stated',
    volumeMillilitres: 0.01,
    standardUncertaintyMillilitres: 0.002,
  };
  const run = titrationOf({ assayRun: 'T-1', melt, portions, changes: { reagentBlank } });
  recorded(await trial.do('record-titration', run, 'assayer'));
  return released(trial, melt);
}

/** The melt signed, checked and released, as a certificate states it. */
async function released(trial: Trial, melt: string) {
  recorded(await trial.do('sign-result', { melt }, 'assayer'));
  recorded(await trial.do('check-result', { melt }, 'checker'));
  const ruling = { melt, ruling: 'release', reason: 'It passes.' };
  recorded(await trial.do('rule-melt', ruling, 'chief'));
  const facts = await meltFacts(trial.books, melt);
  const standard = await pieceStandardOf(trial.books, 'egret-31');
  const sound = trialContent(1);
  const content = {
    ...sound,
    pieceStandard: { ...sound.pieceStandard, ...standard, finenessLimitPerMille: 925 },
  };
  return { melt: certifiedMelt(facts, nothing), content };
}

/** A silver melt whose run rests on a titre, released. */
async function meltByTitre() {
  const trial = await titreTrial([pressRoomStation]);
  const melt = 'M-1';
  const { forAssay } = await cutSilver(trial, melt);
  recorded(await titre(trial, 'F-1'));
  const portions = forAssay.map((blank, index) => [blank, 925.4 + index / 10] as const);
  const run = runByTitre({ assayRun: 'T-1', melt, portions, titre: 'F-1' });
  recorded(await trial.do('record-titration', run, 'assayer'));
  return released(trial, melt);
}

/** The content with one value changed, wherever it stands. */
function changed(melt: CertifiedMelt, name: string, change: (calculated: object) => void) {
  const copy = structuredClone(melt);
  const found = copy.calculations.find((one) => one.name === name);
  if (!found) throw new RangeError(`there is no calculation ${name}`);
  change(found.calculated);
  return copy;
}

describe('a titrated melt, as a certificate states it', () => {
  it('holds curves, factor and portions, and every figure of them holds', async () => {
    const { melt, content } = await titratedMelt();
    expect(melt.calculations.map(({ name }) => name)).toEqual([
      'T-1 end point S1',
      'T-1 end point S2',
      'T-1 end point A1',
      'T-1 end point A2',
      'T-1 factor',
      'T-1 titration A1',
      'T-1 titration A2',
      'replicates',
      'uncertainty',
      'verdict',
    ]);
    expect(melt.method.description).toContain('ISO\u00a011427');
    expect(certificateContentSchema.shape.melts.safeParse([melt]).success).toBe(true);
    const checks = checkMelt(melt, content);
    expect(checks.filter((check) => !check.holds)).toEqual([]);
    expect(checks.find(({ check }) => check.endsWith('readings'))?.words).toContain('4 raw');
  });

  it('does not hold once a point of a curve is moved', async () => {
    const { melt, content } = await titratedMelt();
    const moved = changed(melt, 'T-1 end point A1', (calculated) => {
      const { input } = calculated as { input: { curve: { potentialMillivolts: number }[] } };
      const [first] = input.curve;
      if (first) first.potentialMillivolts += 5;
    });
    const failing = checkMelt(moved, content).filter((check) => !check.holds);
    expect(failing.map(({ check }) => check)).toEqual(['melt M-1: calculations']);
    expect(failing[0]?.words).toContain('T-1 end point A1');
  });

  it('does not hold once a volume is another than its curve gives', async () => {
    const { melt, content } = await titratedMelt();
    const moved = changed(melt, 'T-1 titration A1', (calculated) => {
      const { input } = calculated as { input: { samples: { volumeMillilitres: number }[] } };
      const [first] = input.samples;
      if (first) first.volumeMillilitres += 0.01;
    });
    const failing = checkMelt(moved, content).filter((check) => !check.holds);
    expect(failing.map(({ check }) => check)).toContain('melt M-1: links');
  });

  it('does not hold once a weighing is another than was read', async () => {
    const { melt, content } = await titratedMelt();
    const [first, ...rest] = melt.readings;
    if (!first) throw new RangeError('no reading');
    const reading = { ...first.reading, text: '300.001' };
    const moved = { ...melt, readings: [{ ...first, reading }, ...rest] };
    const failing = checkMelt(moved, content).filter((check) => !check.holds);
    expect(failing.map(({ check }) => check)).toEqual(['melt M-1: readings']);
    expect(failing[0]?.words).toContain('standard S1');
  });

  it('prints what was weighed', async () => {
    const { melt, content } = await titratedMelt();
    const page = certificatePage(
      { ...content, melts: [melt] },
      { entry: 1, entryHash: '', publicKey: '' },
    );
    expect(page.melts[0]?.rows).toMatchObject([
      { label: 'T-1 standard S1', figures: 'silver taken 300.000' },
      { label: 'T-1 standard S2', figures: 'silver taken 300.000' },
      { label: 'T-1 A1', figures: 'sample 325', blank: melt.determinations[0]?.blank },
      { label: 'T-1 A2' },
    ]);
  });
});

describe('a melt titrated by a titre, as a certificate states it', () => {
  it('holds the readings of the determination, from which its factor is computed again', async () => {
    const { melt, content } = await meltByTitre();
    expect(melt.calculations.map(({ name }) => name).slice(0, 5)).toEqual([
      'T-1 end point A1',
      'T-1 end point A2',
      'T-1 factor',
      'T-1 titration A1',
      'T-1 titration A2',
    ]);
    const factor = melt.calculations.find(({ name }) => name === 'T-1 factor');
    const silver = melt.readings.filter(({ quantity }) => quantity === 'silver taken');
    expect(silver.map(({ label }) => label)).toEqual([
      'F-1 standard N1',
      'F-1 standard N2',
      'F-1 standard N3',
    ]);
    // The determination has an entry of its own, before that of the run.
    expect(silver.map(({ entry }) => entry)).toEqual(Array(3).fill(factor?.entry));
    expect(factor?.entry).toBeLessThan(melt.calculations[0]?.entry ?? 0);
    expect(certificateContentSchema.shape.melts.safeParse([melt]).success).toBe(true);
    expect(checkMelt(melt, content).filter((check) => !check.holds)).toEqual([]);
  });

  it('does not hold once a weighing of the determination is another than was read', async () => {
    const { melt, content } = await meltByTitre();
    const readings = melt.readings.map((one) =>
      one.label === 'F-1 standard N1'
        ? { ...one, reading: { ...one.reading, text: '300.100' } }
        : one,
    );
    const failing = checkMelt({ ...melt, readings }, content).filter((check) => !check.holds);
    expect(failing.map(({ check }) => check)).toEqual(['melt M-1: readings']);
    expect(failing[0]?.words).toContain('F-1 standard N1');
  });

  it('does not hold once a portion was computed with another factor', async () => {
    const { melt, content } = await meltByTitre();
    const moved = changed(melt, 'T-1 titration A1', (calculated) => {
      const { input } = calculated as { input: { factorMilligramsPerMillilitre: number } };
      input.factorMilligramsPerMillilitre += 0.01;
    });
    const failing = checkMelt(moved, content).filter((check) => !check.holds);
    expect(failing.map(({ check }) => check)).toContain('melt M-1: links');
  });
});
