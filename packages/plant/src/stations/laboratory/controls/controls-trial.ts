import type { Outcome } from '../../../journal/recorder.ts';
import type { Trial } from '../../../journal/trial.ts';
import { cutMelt, laboratoryTrial, reading, recorded } from '../laboratory-trial.ts';

/** An invented method for the invented silver piece of the trial: fineness by difference. */
export const differenceMethod = {
  method: 'AG-DIFF',
  title: 'Fine silver by difference',
  assayMethod: 'fineness-by-difference',
  calculation: 'fineness-by-difference',
  scope: { metal: 'silver', leastPerMille: 999, greatestPerMille: 999.99 },
  determinationsAtLeast: 2,
  referenceMaterials: [{ by: 'kind', name: 'fine silver', perRun: 1 }],
  greatestNormalizedError: 1,
  blanks: [{ quantity: 'Cu', unit: 'mg/kg', greatest: 1 }],
  reagents: [],
  cautions: ['Nitric acid attacks skin, eyes and lungs: fume cupboard, gloves, face protection.'],
  notes: '',
};

/** An invented reference material of fine silver: copper 300 mg/kg, so 999.7 ‰. */
export const fineSilver = {
  referenceMaterial: 'RM-AG-1',
  kind: 'fine silver',
  title: 'Fine silver one',
  metal: 'silver',
  certificate: 'Certificate 12 of an invented maker',
  certified: [
    { quantity: 'fineness', value: 999.7, unit: '‰', standardUncertainty: 0.005 },
    { quantity: 'Cu', value: 300, unit: 'mg/kg', standardUncertainty: 5 },
  ],
  received: reading('5.000', 'g'),
  validUntil: '2026-12-31',
};

export const copper = (content: number | null, standardUncertainty = 5) => ({
  element: 'Cu',
  contentMilligramsPerKilogram: content,
  standardUncertaintyMilligramsPerKilogram: standardUncertainty,
  detectionLimitMilligramsPerKilogram: 2,
});

/** A reference portion of half a gram in which so much copper was found. */
export const reference = (content: number | null, change: object = {}) => ({
  label: 'RM1',
  referenceMaterial: 'RM-AG-1',
  taken: reading('500.000', 'mg'),
  impurities: [copper(content)],
  ...change,
});

export const cleanBlank = { label: 'BL1', quantity: 'Cu', unit: 'mg/kg', value: 0.2 };

/** Records a difference run of the melt: one solution of each blank, and the controls given. */
export function differenceRun(
  trial: Trial,
  run: {
    readonly assayRun: string;
    readonly melt?: string;
    readonly blanks: readonly string[];
    readonly references?: readonly object[];
    readonly controls?: object;
    readonly copper?: number;
    readonly author?: string;
  },
): Promise<Outcome> {
  const solutions = run.blanks.map((blank, index) => ({
    label: `L${index + 1}`,
    blank,
    impurities: [copper(run.copper ?? 400, 8)],
  }));
  const input = {
    assayRun: run.assayRun,
    melt: run.melt ?? 'M-1',
    policy: 'limit',
    solutions,
    instrument: 'S-1',
    references: run.references ?? [reference(300)],
    blanks: [cleanBlank],
    ...run.controls,
  };
  return trial.do('record-difference', input, run.author ?? 'assayer');
}

/** A plant with the method stated and its reference material there, and a silver melt cut for assay. */
export async function trialWithMethod(change: object = {}) {
  const trial = await laboratoryTrial();
  recorded(await trial.do('state-method', { ...differenceMethod, ...change }, 'chief'));
  recorded(await trial.do('receive-reference-material', fineSilver, 'assayer'));
  const { forAssay } = await cutMelt(trial, 'M-1', 'heron-31');
  return { trial, blanks: forAssay.slice(0, 2) };
}
