import { describe, expect, it } from 'vitest';
import { cutMelt, laboratoryTrial, recorded } from '../laboratory/laboratory-trial.ts';
import { method, proposed, readText, tableOf } from '../laboratory/spectrometer/result-trial.ts';
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

const impurity = (element: string, content: number | null, standardUncertainty: number) => ({
  element,
  contentMilligramsPerKilogram: content,
  detectionLimitMilligramsPerKilogram: 2,
  standardUncertaintyMilligramsPerKilogram: standardUncertainty,
});

/** 100 counts/s at nothing, 20 counts/s per mg/kg of copper; the sensitivity falls by 1 %. */
const signals = [
  'Sample;Cu (counts/s);Pb (mg/kg)',
  'Std 1;100;',
  'Std 2;4100;',
  'Std 3;8100;',
  'Drift;4100;50',
  'B1;6100;60',
  'B1;6104;62',
  'B2;6062;61',
  'B2;6058;61',
  'Drift;4060;50',
].join('\n');

/** A silver melt whose result file has the signals of copper. */
async function meltFromSignals() {
  const trial = await laboratoryTrial([pressRoomStation]);
  const melt = 'M-1';
  const { forAssay } = await cutMelt(trial, melt, 'heron-31');
  const { mapping } = proposed(signals);
  const own = {
    ...method,
    limits: [{ element: 'Pb', detectionLimit: 1 }],
    standards: [0, 200, 400].map((content, index) => ({
      label: `Std ${index + 1}`,
      contents: [{ element: 'Cu', content }],
    })),
  };
  const confirm = { instrument: 'S-1', mapping, method: own };
  recorded(await trial.do('confirm-result-mapping', confirm, 'assayer'));
  const file = { name: 'run 7.csv', sha256: 'ab'.repeat(32), kept: 'as sent' };
  const solutions = forAssay.map((blank, index) => ({
    label: `L${index + 1}`,
    solution: `B${index + 1}`,
    blank,
  }));
  const table = tableOf(readText(signals));
  const shared = { assayRun: 'D-1', melt, policy: 'limit', setAside: [], reason: null };
  const taken = { ...confirm, ...shared, file, table, solutions };
  recorded(await trial.do('record-result-file', taken, 'assayer'));
  recorded(await trial.do('sign-result', { melt }, 'assayer'));
  recorded(await trial.do('check-result', { melt }, 'checker'));
  const ruling = { melt, ruling: 'release', reason: 'It passes.' };
  recorded(await trial.do('rule-melt', ruling, 'chief'));
  const standard = await pieceStandardOf(trial.books, 'heron-31');
  return { content: certifiedMelt(await meltFacts(trial.books, melt), nothing), standard };
}

/** A silver melt assayed by difference in two solutions, one determination of which was discarded. */
async function silverMelt() {
  const trial = await laboratoryTrial([pressRoomStation]);
  const melt = 'M-1';
  const { forAssay } = await cutMelt(trial, melt, 'heron-31');
  const run = (assayRun: string, copper: number) => ({
    assayRun,
    melt,
    policy: 'limit',
    solutions: forAssay.map((blank, index) => ({
      label: `L${index + 1}`,
      blank,
      impurities: [impurity('Cu', copper, 8), impurity('Pb', 60, 6), impurity('Au', null, 0)],
    })),
    instrument: 'S-1',
  });
  recorded(await trial.do('record-difference', run('D-1', 700), 'assayer'));
  for (const label of ['L1', 'L2']) {
    const discard = { assayRun: 'D-1', label, reason: 'The spectrometer drifted.' };
    recorded(await trial.do('discard-determination', discard, 'assayer'));
  }
  recorded(await trial.do('record-difference', run('D-2', 300), 'assayer'));
  recorded(await trial.do('sign-result', { melt }, 'assayer'));
  recorded(await trial.do('check-result', { melt }, 'checker'));
  const ruling = { melt, ruling: 'release', reason: 'It passes.' };
  recorded(await trial.do('rule-melt', ruling, 'chief'));
  const facts = await meltFacts(trial.books, melt);
  const standard = await pieceStandardOf(trial.books, 'heron-31');
  return { content: certifiedMelt(facts, nothing), standard };
}

describe('a melt assayed by difference, as a certificate states it', () => {
  it('holds both solutions, and what was discarded with its reason', async () => {
    const { content, standard } = await silverMelt();
    // 1000 − (300 + 60 + 2)/1000 ‰.
    expect(content.result.finenessPerMille).toBeCloseTo(999.638, 9);
    expect(content.method.description).toBe(
      'Fineness by difference from the impurities found by spectrometry, after ISO\u00a015096',
    );
    expect(
      content.determinations.map(({ label, state, reason }) => [label, state, reason]),
    ).toEqual([
      ['D-1 L1', 'discarded', 'The spectrometer drifted.'],
      ['D-1 L2', 'discarded', 'The spectrometer drifted.'],
      ['D-2 L1', 'valid', null],
      ['D-2 L2', 'valid', null],
    ]);
    expect(certificateContentSchema.shape.melts.safeParse([content]).success).toBe(true);
    const sound = trialContent(1);
    const checks = checkMelt(content, {
      ...sound,
      pieceStandard: { ...sound.pieceStandard, ...standard, finenessLimitPerMille: 999 },
    });
    expect(checks.filter((check) => !check.holds)).toEqual([]);
  });

  it('prints the impurities that each determination was computed from', async () => {
    const { content } = await silverMelt();
    const page = certificatePage(
      { ...trialContent(1), melts: [content] },
      { entry: 1, entryHash: '', publicKey: '' },
    );
    expect(page.melts[0]?.rows.at(-1)).toMatchObject({
      label: 'D-2 L2',
      figures: 'Cu 300, Pb 60, Au < 2 mg/kg',
      fineness: '999.638',
      state: '',
    });
    expect(page.melts[0]?.rows[0]).toMatchObject({ label: 'D-1 L1', state: 'discarded' });
  });
});

describe('a melt whose contents come from signals', () => {
  const failing = (content: CertifiedMelt, standard: object | undefined) => {
    const sound = trialContent(1);
    const all = { ...sound, pieceStandard: { ...sound.pieceStandard, ...standard } };
    const checks = checkMelt(content, {
      ...all,
      pieceStandard: { ...all.pieceStandard, finenessLimitPerMille: 999 },
    });
    return checks.filter((check) => !check.holds).map(({ check }) => check);
  };

  it('is recomputed from each signal to the fineness', async () => {
    const { content, standard } = await meltFromSignals();
    expect(
      content.readings.map(({ label, quantity, reading }) => [label, quantity, reading.text]),
    ).toEqual([
      ['D-1 B1', 'signal of Cu', '6100'],
      ['D-1 B1', 'signal of Cu', '6104'],
      ['D-1 B2', 'signal of Cu', '6062'],
      ['D-1 B2', 'signal of Cu', '6058'],
    ]);
    expect(content.calculations[0]).toMatchObject({
      name: 'signals D-1 Cu',
      calculated: { calculation: 'contents-from-signals' },
    });
    expect(failing(content, standard)).toEqual([]);
  });

  it('does not hold with a signal altered, nor with a content that its signals do not give', async () => {
    const { content, standard } = await meltFromSignals();
    const [first, ...rest] = content.readings;
    if (!first) throw new Error('no reading');
    const altered = { ...first, reading: { ...first.reading, text: '6010' } };
    expect(failing({ ...content, readings: [altered, ...rest] }, standard)).toEqual([
      'melt M-1: readings',
    ]);
    const turned = structuredClone(content);
    const input = turned.calculations[0]?.calculated.input as unknown as {
      solutions: { readings: { signal: number }[] }[];
    };
    const [reading] = input.solutions[0]?.readings ?? [];
    if (!reading) throw new Error('no signal');
    reading.signal = 6010;
    expect(failing(turned, standard)).toEqual(['melt M-1: calculations', 'melt M-1: readings']);
  });
});
