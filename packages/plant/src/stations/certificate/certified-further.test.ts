import { describe, expect, it } from 'vitest';
import type { Trial } from '../../journal/trial.ts';
import {
  checkedMelt,
  cupel,
  cutMelt,
  heron,
  laboratoryTrial,
  measure,
  reading,
  recorded,
} from '../laboratory/laboratory-trial.ts';
import { pressRoomStation } from '../press-room/station.ts';
import { pieceStandardOf } from '../registers/index.ts';
import { certifiedMelt } from './certified-melt.ts';
import {
  type CertificateContent,
  type CertifiedMelt,
  certificateContentSchema,
} from './content.ts';
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
  names: new Map(),
};

/** A certificate of that melt alone, under its own piece standard. */
async function contentOf(trial: Trial, pieceStandard: string): Promise<CertificateContent> {
  const melt = certifiedMelt(await meltFacts(trial.books, 'M-1'), nothing);
  const standard = await pieceStandardOf(trial.books, pieceStandard);
  if (!standard) throw new RangeError(`no ${pieceStandard}`);
  const content = trialContent();
  const own = { ...content.pieceStandard, ...standard };
  const fields = Object.keys(content.pieceStandard) as (keyof typeof own)[];
  const kept = Object.fromEntries(fields.map((field) => [field, own[field]]));
  return certificateContentSchema.parse({
    ...content,
    pieceStandard: {
      ...kept,
      ...(standard.impurityTable ? { impurityTable: standard.impurityTable } : {}),
    },
    melts: [melt],
  });
}

const checksOf = (content: CertificateContent) =>
  checkMelt(content.melts[0] as CertifiedMelt, content).filter(({ holds }) => !holds);

const storyOf = (content: CertificateContent): readonly string[] => {
  const page = certificatePage(content, { entry: 1, entryHash: '0'.repeat(64), publicKey: '' });
  return page.melts[0]?.story ?? [];
};

const release = async (trial: Trial) => {
  recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
  recorded(await trial.do('check-result', { melt: 'M-1' }, 'checker'));
  const ruling = { melt: 'M-1', ruling: 'release', reason: 'It passes.' };
  recorded(await trial.do('rule-melt', ruling, 'chief'));
};

/** A gold melt that two further blanks decided. */
async function furtherMelt(): Promise<Trial> {
  const trial = await laboratoryTrial([pressRoomStation]);
  await checkedMelt(trial, 'M-1', 916.9);
  const asking = { melt: 'M-1', pieces: 2, reason: 'It is undecided.' };
  recorded(await trial.do('ask-further-blanks', asking, 'assayer'));
  const [body] = recorded(await trial.do('draw-further-blanks', { melt: 'M-1' }, 'inspector'));
  const further = (body as { blanks: { blank: string }[] }).blanks.map(({ blank }) => blank);
  const substituting = { melt: 'M-1', blank: further[0], from: 'the same drum', reason: 'Bent.' };
  recorded(await trial.do('substitute-further-pick', substituting, 'inspector'));
  const taking = {
    melt: 'M-1',
    gross: reading('16.02', 'g'),
    instrument: 'B-1',
    verification: { scanned: further, reason: null },
  };
  recorded(await trial.do('take-further-blanks', taking, 'inspector'));
  recorded(await measure(trial, 'M-1', further));
  recorded(await trial.do('cut-blanks', { melt: 'M-1', blanks: further }, 'assayer'));
  const portions = further.map((blank) => [blank, 917.1] as const);
  recorded(await cupel(trial, { assayRun: 'R-2', melt: 'M-1', portions }));
  await release(trial);
  return trial;
}

describe('a melt that further blanks decided, in a certificate', () => {
  it('tells of them with the seed of their draw, whose figures are recomputed', async () => {
    const content = await contentOf(await furtherMelt(), 'lark-8');
    const [melt] = content.melts;
    expect(melt?.sampling.further).toMatchObject([
      { round: 1, reason: 'It is undecided.', blanks: ['M-1/14', 'M-1/15'] },
    ]);
    expect(melt?.sampling.calculations.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['draw', 'further draw 1', expect.stringMatching(/^substitute for/)]),
    );
    expect(checksOf(content)).toEqual([]);
    const story = storyOf(content);
    expect(story.join('\n')).toMatch(/Further blanks, round 1: M-1\/14, M-1\/15 for assay, drawn/);
    expect(story.join('\n')).toMatch(
      /Decision: required probability of conformity 97\.7.*guard band 2\.\d\d standard uncertainties, acceptance limit 91/,
    );
  });

  it('shows a guard factor or a required probability that is not that of the verdict', async () => {
    const content = await contentOf(await furtherMelt(), 'lark-8');
    const changed = structuredClone(content);
    const [melt] = changed.melts;
    if (melt) {
      melt.decision.guardFactor = 1;
      melt.decision.requiredConformanceProbability = 0.9;
    }
    const [check] = checksOf(changed);
    expect(check?.words).toMatch(/guardFactor.*requiredConformanceProbability/s);
  });
});

/** A silver melt within an invented impurity table. */
async function pureMelt(): Promise<Trial> {
  const trial = await laboratoryTrial([pressRoomStation]);
  const impurityTable = {
    edition: 'second edition',
    limits: [{ element: 'Cu', limitMilligramsPerKilogram: 400 }],
  };
  const egret = { ...heron, pieceStandard: 'egret-31', title: 'Egret', impurityTable };
  recorded(await trial.do('register-piece-standard', egret, 'chief'));
  const { forAssay } = await cutMelt(trial, 'M-1', 'egret-31');
  const copper = (content: number) => ({
    element: 'Cu',
    contentMilligramsPerKilogram: content,
    standardUncertaintyMilligramsPerKilogram: 3,
    detectionLimitMilligramsPerKilogram: 2,
  });
  const run = {
    assayRun: 'D-1',
    melt: 'M-1',
    policy: 'limit',
    instrument: 'S-1',
    solutions: forAssay.map((blank, index) => ({
      label: `L${index + 1}`,
      blank,
      impurities: [copper(300 + index)],
    })),
  };
  recorded(await trial.do('record-difference', run, 'assayer'));
  await release(trial);
  return trial;
}

describe('the impurities of a melt in a certificate', () => {
  it('are checked against contents and table, and printed with the edition', async () => {
    const content = await contentOf(await pureMelt(), 'egret-31');
    expect(content.melts[0]?.impurities).toMatchObject({ state: 'within' });
    expect(checksOf(content)).toEqual([]);
    expect(storyOf(content).join('\n')).toContain(
      'Impurities: within the table, edition second edition: at most Cu 400 mg/kg.',
    );
  });

  it('show a limit, a content or a table that was changed', async () => {
    const content = await contentOf(await pureMelt(), 'egret-31');
    const limit = structuredClone(content);
    const [line] = limit.pieceStandard.impurityTable?.limits ?? [];
    if (line) line.limitMilligramsPerKilogram = 200;
    expect(checksOf(limit)).toMatchObject([{ check: 'melt M-1: impurities', holds: false }]);
    const missing = structuredClone(content);
    delete missing.melts[0]?.impurities;
    expect(checksOf(missing)).toMatchObject([
      { words: expect.stringContaining('nothing says how the melt lies to it') },
    ]);
    const tableless = structuredClone(content);
    delete tableless.pieceStandard.impurityTable;
    expect(checksOf(tableless)).toMatchObject([
      { words: expect.stringContaining('a table that the piece standard does not have') },
    ]);
  });
});
