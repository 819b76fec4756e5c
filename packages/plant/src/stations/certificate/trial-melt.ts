import type {
  CupellationInput,
  CupellationOutput,
  FinenessVerdictOutput,
  ReplicateAcceptanceOutput,
} from '@cupel/calculation';
import { calculate } from '../../journal/calculated.ts';
import { determinationsOfRun } from '../laboratory/cupellation-run.ts';
import { meltUncertainty } from '../laboratory/index.ts';
import type { CertifiedMelt, NamedCalculation } from './content.ts';
import { methodDescription } from './statements.ts';

const act = (entry: number, person: string) => ({
  entry,
  instant: '2026-03-02T09:15:00.000Z',
  by: { person, name: `${person.charAt(0).toUpperCase()}${person.slice(1)} Brandt` },
});

/** A calculation in the type of a certificate. */
export const asCertified = (calculated: unknown) => calculated as NamedCalculation['calculated'];
const milligrams = (text: string) => ({ text, unit: 'mg', typed: false });

type Portion = { readonly label: string; readonly sample: string; readonly cornet: string };

const proofs = [
  { label: 'P1', goldTaken: '250.112', cornet: '250.207' },
  { label: 'P2', goldTaken: '250.086', cornet: '250.189' },
];
const samplesOf: Readonly<Record<string, readonly Portion[]>> = {
  'M-2601': [
    { label: 'a', sample: '250.340', cornet: '225.512' },
    { label: 'b', sample: '250.118', cornet: '225.322' },
  ],
  'M-2602': [
    { label: 'c', sample: '250.204', cornet: '225.341' },
    { label: 'd', sample: '250.277', cornet: '225.402' },
  ],
};

/** The parts of a portion's uncertainty as the laboratory states them, by its own code. */
function partsOf(input: CupellationInput, index: number) {
  const samples = input.samples.slice(index, index + 1);
  const { output } = calculate<CupellationOutput>('cupellation', { ...input, samples });
  const [part] = determinationsOfRun({ ...input, samples }, output, ['']);
  if (!part) throw new RangeError(`portion ${index} is missing`);
  const {
    ownStandardUncertaintyPerMille,
    runStandardUncertaintyPerMille,
    methodStandardUncertaintyPerMille,
  } = part;
  return {
    ownStandardUncertaintyPerMille,
    runStandardUncertaintyPerMille,
    methodStandardUncertaintyPerMille,
  };
}

function meltCalculations(melt: string) {
  const samples = samplesOf[melt] ?? [];
  const input: CupellationInput = {
    correction: 'absolute',
    proofs: proofs.map((proof) => ({
      label: proof.label,
      goldTakenMilligrams: Number(proof.goldTaken),
      cornetMassMilligrams: Number(proof.cornet),
    })),
    samples: samples.map((sample) => ({
      label: sample.label,
      sampleMassMilligrams: Number(sample.sample),
      cornetMassMilligrams: Number(sample.cornet),
    })),
    weighingStandardUncertaintyMilligrams: 0.01,
    proofGoldStandardUncertaintyPerMille: 0.02,
    repeatabilityStandardDeviationPerMille: 0.07,
  };
  const cupellation = calculate<CupellationOutput>('cupellation', input);
  const found = cupellation.output.determinations;
  const replicates = calculate<ReplicateAcceptanceOutput>('replicate-acceptance', {
    resultsPerMille: found.map((one) => one.finenessPerMille),
    duplicateLimitPerMille: 0.5,
  });
  const uncertaintyInput = {
    statistic: 'mean' as const,
    determinations: found.map((one, index) => ({
      run: `${melt}-R1`,
      label: one.label,
      blank: `${melt}/${index + 1}`,
      finenessPerMille: one.finenessPerMille,
      ...partsOf(input, index),
    })),
  };
  const uncertainty = meltUncertainty(uncertaintyInput);
  const decision = calculate<FinenessVerdictOutput>('fineness-verdict', {
    finenessPerMille: replicates.output.finalResultPerMille,
    standardUncertaintyPerMille: uncertainty.standardUncertaintyPerMille,
    limitPerMille: 900,
    guardFactor: 2,
    requiredConformanceProbability: 0.95,
  });
  return { cupellation, replicates, uncertaintyInput, uncertainty, decision };
}

const figure = (calculation: string, field: string) => ({ calculation, field });

function readingsOf(melt: string, run: string): CertifiedMelt['readings'] {
  const samples = samplesOf[melt] ?? [];
  const reading = (label: string, quantity: string, text: string, field: string) => ({
    label,
    quantity,
    reading: milligrams(text),
    entry: 31,
    feeds: [figure(run, field)],
  });
  return [
    ...proofs.flatMap((proof, index) => [
      reading(
        `proof ${proof.label}`,
        'gold taken',
        proof.goldTaken,
        `input.proofs.${index}.goldTakenMilligrams`,
      ),
      reading(
        `proof ${proof.label}`,
        'cornet',
        proof.cornet,
        `input.proofs.${index}.cornetMassMilligrams`,
      ),
    ]),
    ...samples.flatMap((sample, index) => [
      reading(
        `portion ${sample.label}`,
        'sample',
        sample.sample,
        `input.samples.${index}.sampleMassMilligrams`,
      ),
      reading(
        `portion ${sample.label}`,
        'cornet',
        sample.cornet,
        `input.samples.${index}.cornetMassMilligrams`,
      ),
    ]),
  ];
}

/** A melt of a trial certificate: two portions cupelled with two proofs, and released. */
export function trialMelt(melt: string): CertifiedMelt {
  const { cupellation, replicates, uncertaintyInput, uncertainty, decision } =
    meltCalculations(melt);
  const run = `cupellation ${melt}-R1`;
  const determinations = cupellation.output.determinations.map((one, index) => ({
    label: `portion ${one.label}`,
    run: `${melt}-R1`,
    blank: `${melt}/${index + 1}`,
    finenessPerMille: one.finenessPerMille,
    from: figure(run, `output.determinations.${index}.finenessPerMille`),
    state: 'valid' as const,
    reason: null,
  }));
  const plan = calculate('attribute-plan', {
    lotSizePieces: 2000,
    inspectionLevel: 'II',
    acceptanceQualityLimitPercent: 0.65,
    severity: 'normal',
  });
  return {
    melt,
    consignment: 'C-2026-007',
    supplier: 'Nordal Blanks',
    received: '2026-03-02T07:05:00.000Z',
    pieces: 2000,
    method: {
      name: 'cupellation',
      description: methodDescription('cupellation', 'gold'),
      began: '2026-03-02T08:00:00.000Z',
      ended: '2026-03-02T09:15:00.000Z',
    },
    sampling: {
      samplePieces: 125,
      words:
        '125 of 2000 blanks: code letter K, normal inspection, limit 0.65 %; 2 of them for assay',
      drawnFrom: ['DR-1', 'DR-2'],
      ordered: { entry: 23, instant: '2026-03-02T07:20:00.000Z' },
      drawn: { entry: 24, instant: '2026-03-02T07:30:00.000Z' },
      seedEntry: 22,
      calculations: [{ name: 'plan', entry: 23, calculated: asCertified(plan.calculated) }],
      blanks: [`${melt}/1`, `${melt}/2`],
    },
    physical: {
      blanksForPhysical: 2,
      blanksNonconforming: 0,
      acceptanceNumber: 1,
      state: 'accepted',
      blanks: [1, 2].map((number) => ({
        blank: `${melt}/${number}`,
        forPhysical: true,
        mass: { text: '20.021', unit: 'g', typed: false },
        diameter: { text: '27.02', unit: 'mm', typed: false },
        thickness: { text: '2.01', unit: 'mm', typed: false },
        entry: 28,
        conforms: true,
      })),
    },
    readings: readingsOf(melt, run),
    calculations: [
      { name: run, entry: 31, calculated: asCertified(cupellation.calculated) },
      { name: 'replicates', entry: 33, calculated: asCertified(replicates.calculated) },
      {
        name: 'uncertainty',
        entry: 33,
        calculated: asCertified({
          calculation: 'melt-uncertainty',
          version: 1,
          input: uncertaintyInput,
          output: uncertainty,
        }),
      },
      { name: 'verdict', entry: 33, calculated: asCertified(decision.calculated) },
    ],
    links: determinations.flatMap((one, index) => [
      { from: one.from, to: figure('replicates', `input.resultsPerMille.${index}`) },
      {
        from: one.from,
        to: figure('uncertainty', `input.determinations.${index}.finenessPerMille`),
      },
    ]),
    determinations,
    result: {
      finenessPerMille: replicates.output.finalResultPerMille as number,
      finenessFrom: figure('replicates', 'output.finalResultPerMille'),
      standardUncertaintyPerMille: uncertainty.standardUncertaintyPerMille,
      standardUncertaintyFrom: figure('uncertainty', 'output.standardUncertaintyPerMille'),
      degreesOfFreedom: null,
    },
    decision: {
      limitPerMille: 900,
      guardFactor: 2,
      verdict: decision.output.verdict,
      conformanceProbability: decision.output.conformanceProbability,
      consumerRisk: decision.output.consumerRisk,
      guardBandPerMille: decision.output.guardBandPerMille,
      acceptanceLimitPerMille: decision.output.acceptanceLimitPerMille,
      rejectionLimitPerMille: decision.output.rejectionLimitPerMille,
      calculation: 'verdict',
    },
    ruling: {
      ruling: 'release',
      reason: 'Fineness passes, physical checks accepted.',
      act: act(35, 'chief'),
    },
    signed: act(33, 'assayer'),
    checked: act(34, 'checker'),
  };
}
