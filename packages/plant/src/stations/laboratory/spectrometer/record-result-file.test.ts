import { describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { trialWithMethod } from '../controls/controls-trial.ts';
import { trialOf } from '../index.ts';
import { cutMelt, laboratoryTrial, recorded, refusals } from '../laboratory-trial.ts';
import { method, proposed, readText, tableOf } from './result-trial.ts';

const text = [
  'Sample;Cu ppm;Pb ppm;Au ppm;Ag ppm',
  'Drift;50.0;20.0;5.0;',
  'B1;300;60;<2;999000',
  'B1;302;62;<2;999000',
  'B2;298;61;<2;999000',
  'B2;300;59;<2;999000',
  'Drift;50.4;20.1;5.0;',
].join('\n');

const file = { name: 'run 7.csv', sha256: 'ab'.repeat(32), kept: 'as sent' };

async function atAssay(pieceStandard: 'heron-31' | 'lark-8' = 'heron-31') {
  const trial = await laboratoryTrial();
  const { forAssay } = await cutMelt(trial, 'M-1', pieceStandard);
  const [a = '', b = ''] = forAssay;
  return { trial, a, b };
}

const confirm = (trial: Trial, change: object = {}, author = 'assayer') =>
  trial.do(
    'confirm-result-mapping',
    { instrument: 'S-1', mapping: proposed(text).mapping, method, ...change },
    author,
  );

function take(trial: Trial, blanks: readonly string[], change: object = {}, author = 'assayer') {
  const input = {
    assayRun: 'D-1',
    melt: 'M-1',
    policy: 'limit',
    instrument: 'S-1',
    file,
    mapping: proposed(text).mapping,
    method,
    table: tableOf(readText(text)),
    setAside: [],
    solutions: blanks.map((blank, index) => ({
      label: `L${index + 1}`,
      solution: `B${index + 1}`,
      blank,
    })),
    reason: null,
    ...change,
  };
  return trial.do('record-result-file', input, author);
}

describe('confirm-result-mapping', () => {
  it('keeps how the files of a spectrometer are read', async () => {
    const trial = await laboratoryTrial();
    recorded(await confirm(trial));
    const [row] = (await trial.ask('result-mappings', {}, 'assayer')) as { instrument: string }[];
    expect(row).toMatchObject({ instrument: 'S-1', mapping: proposed(text).mapping, method });
  });

  it('is refused for what is no spectrometer', async () => {
    const trial = await laboratoryTrial();
    expect(refusals(await confirm(trial, { instrument: 'B-1' }))).toEqual(['InstrumentUnknown']);
  });
});

describe('record-result-file', () => {
  it('makes the run of the contents in the file and keeps the table with its figures', async () => {
    const { trial, a, b } = await atAssay();
    recorded(await confirm(trial));
    const [run, taken] = recorded(await take(trial, [a, b]));
    // B1: Cu 301, Pb 61, Au at its limit of 2 mg/kg: 1000 − 0.364 ‰; B2: 299, 60, 2.
    expect(run).toMatchObject({
      assayRun: 'D-1',
      determinations: [
        { label: 'L1', blank: a },
        { label: 'L2', blank: b },
      ],
    });
    const { determinations = [] } = (await trialOf(trial.books, 'M-1')) ?? {};
    expect(determinations[0]?.finenessPerMille).toBeCloseTo(999.636, 9);
    expect(determinations[1]?.finenessPerMille).toBeCloseTo(999.639, 9);
    expect(taken).toMatchObject({ file, reason: null, figures: { leftOut: ['Ag'], doubts: [] } });
    const kept = await trial.ask('result-file', { assayRun: 'D-1' }, 'auditor');
    expect(kept).toMatchObject({ sha256: file.sha256, author: 'assayer', melt: 'M-1' });
    expect(await trial.ask('result-file', { assayRun: 'D-2' }, 'auditor')).toBeNull();
    expect(await trial.ask('result-files', { melt: 'M-1' }, 'auditor')).toEqual([
      { assayRun: 'D-1', name: 'run 7.csv' },
    ]);
  });

  it('is refused while nobody has confirmed the mapping, or it was confirmed otherwise', async () => {
    const { trial, a, b } = await atAssay();
    expect(refusals(await take(trial, [a, b]))).toEqual(['ResultMappingNotConfirmed']);
    recorded(await confirm(trial, { method: { ...method, driftLimitPercent: 50 } }));
    expect(refusals(await take(trial, [a, b]))).toEqual(['ResultMappingNotConfirmed']);
  });

  it('is refused for a sample that the file has not, and for one that was taken', async () => {
    const { trial, a, b } = await atAssay();
    recorded(await confirm(trial));
    const solutions = [{ label: 'L1', solution: 'B7', blank: a }];
    expect(refusals(await take(trial, [], { solutions }))).toEqual(['SolutionNotInFile']);
    recorded(await take(trial, [a]));
    const again = await take(trial, [b, a], { assayRun: 'D-2' });
    expect(again).toMatchObject({
      refusals: [{ refusal: 'SolutionAlreadyTaken', field: 'solutions.0.solution' }],
    });
    const other = [{ label: 'L2', solution: 'B2', blank: b }];
    recorded(await take(trial, [], { assayRun: 'D-2', solutions: other }));
  });

  it('is refused where a line is taken and set aside', async () => {
    const { trial, a } = await atAssay();
    recorded(await confirm(trial));
    const setAside = [{ line: 3, reason: 'Bubble in the line.' }];
    expect(refusals(await take(trial, [a], { setAside }))).toEqual(['LineTakenAndAside']);
  });

  it('is refused with a drift beyond its limit unless somebody answers for it', async () => {
    const { trial, a } = await atAssay();
    const strict = { ...method, driftLimitPercent: 0.6 };
    recorded(await confirm(trial, { method: strict }));
    const outcome = await take(trial, [a], { method: strict });
    expect(outcome).toMatchObject({
      refusals: [
        {
          refusal: 'ResultsDoubtful',
          field: 'reason',
          message: 'The drift standard moved by 0.8 % in Cu.',
        },
      ],
    });
    const reason = 'Below a tenth of the uncertainty.';
    const [, taken] = recorded(await take(trial, [a], { method: strict, reason }));
    expect(taken).toMatchObject({ reason });
  });

  it('is refused where nothing is known of the limit of an element that was not found', async () => {
    const { trial, a } = await atAssay();
    recorded(await confirm(trial));
    const bare = text.replaceAll('<2', 'n.d.');
    const outcome = await take(trial, [a], { table: tableOf(readText(bare)) });
    expect(refusals(outcome)).toEqual(['DetectionLimitUnknown']);
  });

  it('takes reference materials and reagent blanks of the file as controls of the run', async () => {
    const { trial, blanks } = await trialWithMethod();
    const [a = ''] = blanks;
    const rows = ['Reagent;0.2;0.1;0.1;', 'Reagent;0.4;0.2;0.1;', 'RM;300;<2;<2;', 'RM;300;<2;<2;'];
    const marks = { calibration: '', drift: 'Drift', blank: 'Reagent' };
    const table = tableOf(readText([...text.split('\n'), ...rows].join('\n'), { marks }));
    const mapping = { ...proposed(text).mapping, marks };
    recorded(await confirm(trial, { mapping }));
    const reference = {
      label: 'RM1',
      solution: 'RM',
      referenceMaterial: 'RM-AG-1',
      taken: { text: '500', unit: 'mg', typed: true },
    };
    const none = await take(trial, [a], { table, mapping });
    expect(refusals(none)).toEqual(['ControlMissing']);
    const strange = { table, mapping, references: [{ ...reference, solution: 'RM7' }] };
    expect(await take(trial, [a], strange)).toMatchObject({
      refusals: [{ refusal: 'SolutionNotInFile', field: 'references.0.solution' }],
    });
    const entries = recorded(await take(trial, [a], { table, mapping, references: [reference] }));
    expect(entries[0]).toMatchObject({
      state: 'valid',
      method: { method: 'AG-DIFF' },
      controls: {
        references: [{ referenceMaterial: 'RM-AG-1', agrees: true }],
        blanks: [{ quantity: 'Cu', passes: true }, { quantity: 'Pb' }, { quantity: 'Au' }],
      },
    });
    expect(entries.at(-1)).toMatchObject({
      references: [{ label: 'RM1', solution: 'RM', referenceMaterial: 'RM-AG-1' }],
    });
  });

  it('finds the contents from signals, and keeps line, drift and blanks with the run', async () => {
    const { trial, a, b } = await atAssay();
    // 100 counts/s at nothing and 20 counts/s per mg/kg of copper; no drift.
    const signals = [
      'Sample;Cu (counts/s);Pb (mg/kg)',
      'Std 1;100;',
      'Std 2;4100;',
      'Std 3;8100;',
      'Leer;98;0.1',
      'Leer;102;0.2',
      'Drift;4100;50',
      'B1;6120;60',
      'B1;6120;62',
      'B2;6080;61',
      'B2;6080;61',
      'Drift;4100;50',
    ].join('\n');
    const own = {
      ...method,
      limits: [{ element: 'Pb', detectionLimit: 1 }],
      standards: [0, 200, 400].map((content, index) => ({
        label: `Std ${index + 1}`,
        contents: [{ element: 'Cu', content }],
      })),
      signals: { weighting: 'equal', isDriftTakenOff: true },
    };
    const { mapping } = proposed(signals);
    const table = tableOf(readText(signals));
    const bare = { mapping, method };
    recorded(await confirm(trial, bare));
    expect(refusals(await take(trial, [a, b], { ...bare, table }))).toEqual([
      'SignalsNotCalibrated',
    ]);
    recorded(await confirm(trial, { mapping, method: own }));
    const [, taken] = recorded(await take(trial, [a, b], { mapping, method: own, table }));
    const { determinations = [] } = (await trialOf(trial.books, 'M-1')) ?? {};
    // B1: Cu 301, Pb 61; B2: Cu 299, Pb 61 mg/kg.
    expect(determinations[0]?.finenessPerMille).toBeCloseTo(999.638, 9);
    expect(determinations[1]?.finenessPerMille).toBeCloseTo(999.64, 9);
    expect(taken).toMatchObject({
      figures: {
        calibrations: [
          { element: 'Cu', line: null, signals: { calculation: 'contents-from-signals' } },
        ],
      },
    });
  });

  it('is held to everything that a difference run is held to', async () => {
    const { trial, a, b } = await atAssay();
    recorded(await confirm(trial));
    expect(refusals(await take(trial, [a], {}, 'novice'))).toEqual(['NotAuthorisedForMethod']);
    expect(refusals(await take(trial, [a], { melt: 'M-9' }))).toEqual(['MeltUnknown']);
    recorded(await take(trial, [a]));
    const solutions = [{ label: 'L2', solution: 'B2', blank: b }];
    expect(refusals(await take(trial, [], { solutions }))).toEqual(['AssayRunAlreadyUsed']);
    const gold = await atAssay('lark-8');
    recorded(await confirm(gold.trial));
    const cupelled = await take(gold.trial, [gold.a]);
    expect(refusals(cupelled)).toEqual(['MethodDiffers']);
  });
});
