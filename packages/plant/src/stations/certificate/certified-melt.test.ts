import { describe, expect, it } from 'vitest';
import { cutMelt, laboratoryTrial, recorded } from '../laboratory/laboratory-trial.ts';
import { pressRoomStation } from '../press-room/station.ts';
import { pieceStandardOf } from '../registers/index.ts';
import { certifiedMelt } from './certified-melt.ts';
import { certificateContentSchema } from './content.ts';
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
