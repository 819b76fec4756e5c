import type { Outcome } from '../../journal/recorder.ts';
import type { Station } from '../../journal/station.ts';
import { makeTrial, type Trial, trialPeople } from '../../journal/trial.ts';
import type { JsonObject } from '../../ports/json.ts';
import { receivingStation } from '../receiving/station.ts';
import { registersStation } from '../registers/station.ts';
import { laboratoryStation } from './station.ts';

const shared = {
  pieceStandardDeviationMilligrams: 10,
  lotStandardDeviationMilligrams: 10,
  referencePieces: 500,
  piecesPerTube: 20,
  tubesPerBox: 25,
  tubeTareGrams: 20,
  tubeTareStandardDeviationGrams: 0.1,
  boxTareGrams: 800,
  boxTareStandardDeviationGrams: 1,
  blanksForAssayPerMelt: 2,
  inspectionLevel: 'II',
  // With 60 pieces at level II: letter E, 13 blanks, accept 1, reject 2 (MIL-STD-105E, Table II-A).
  acceptanceQualityLimitPercent: 4,
  guardFactor: 2,
  requiredConformanceProbability: 0.95,
  priorMiscountProbability: 0.0002,
  badWeighingProbability: 0.001,
  badWeighingSpreadGrams: 20,
};

/** An invented gold piece of 8 g, cupelled; its least fineness is the 916.6 ‰ of 22 carats. */
const lark = {
  ...shared,
  pieceStandard: 'lark-8',
  title: 'Lark 8 g',
  metal: 'gold',
  finenessDeclaredPartsPerMillion: 916_700,
  finenessLimitPerMille: 916.6,
  massDeclaredMilligrams: 8000,
  massLeastMilligrams: 8000,
  massGreatestMilligrams: 8050,
  diameterLeastMillimetres: 21.9,
  diameterGreatestMillimetres: 22.1,
  thicknessLeastMillimetres: 1.4,
  thicknessGreatestMillimetres: 1.6,
  assayMethod: 'cupellation',
  duplicateLimitPerMille: 0.5,
};

/** An invented silver piece of 31.1 g, assayed by difference. */
export const heron = {
  ...shared,
  pieceStandard: 'heron-31',
  title: 'Heron 31 g',
  metal: 'silver',
  finenessDeclaredPartsPerMillion: 999_000,
  finenessLimitPerMille: 999,
  massDeclaredMilligrams: 31_100,
  massLeastMilligrams: 31_100,
  massGreatestMilligrams: 31_200,
  diameterLeastMillimetres: 37.9,
  diameterGreatestMillimetres: 38.1,
  thicknessLeastMillimetres: 2.9,
  thicknessGreatestMillimetres: 3.1,
  assayMethod: 'fineness-by-difference',
  duplicateLimitPerMille: 0.05,
};

export const instrument = (id: string, kind: string, calibrationDue = '2026-12-31') => {
  const weighs = kind === 'balance';
  return {
    instrument: id,
    title: `Instrument ${id}`,
    kind,
    place: 'laboratory',
    divisionGrams: weighs ? 0.00001 : null,
    repeatabilityGrams: weighs ? 0.00001 : null,
    gainRelative: weighs ? 0 : null,
    calibrationDue,
  };
};

/** Entries of a command that must be recorded, as their bodies. */
export function recorded(outcome: Outcome): readonly JsonObject[] {
  if (outcome.outcome === 'refused') throw new RangeError(JSON.stringify(outcome.refusals));
  return outcome.entries.map((entry) => entry.body);
}

/** The names of the refusals of a command that must be refused. */
export function refusals(outcome: Outcome): readonly string[] {
  if (outcome.outcome === 'recorded') throw new RangeError('the command was recorded');
  return outcome.refusals.map((one) => one.refusal);
}

export const reading = (text: string, unit: string) => ({ text, unit, typed: false });

/** A plant with two piece standards, instruments, and assayers authorised for both methods. */
export async function laboratoryTrial(downstream: readonly Station[] = []): Promise<Trial> {
  const people = {
    plant: ['chief assayer' as const],
    novice: ['assayer' as const],
    ...trialPeople,
  };
  const upstream = [registersStation, receivingStation, laboratoryStation];
  const trial = await makeTrial([...upstream, ...downstream], { people });
  const must = async (command: string, input: unknown, author = 'chief') =>
    recorded(await trial.do(command, input, author));
  const firstPerson = { person: 'chief', name: 'Chief' };
  await must('found-plant', { title: 'Trial Plant', timeZone: 'UTC', firstPerson }, 'plant');
  const methods = ['cupellation', 'fineness-by-difference'].map((method) => ({
    method,
    until: '2026-06-30',
  }));
  for (const person of ['assayer', 'checker']) {
    await must('enrol-person', { person, name: `The ${person}`, roles: ['assayer'], methods });
  }
  await must('enrol-person', {
    person: 'novice',
    name: 'The novice',
    roles: ['assayer'],
    methods: [],
  });
  for (const standard of [lark, heron]) await must('register-piece-standard', standard);
  for (const [id, kind] of [
    ['B-1', 'balance'],
    ['M-1', 'micrometer'],
    ['S-1', 'spectrometer'],
  ] as const) {
    await must('register-instrument', instrument(id, kind));
  }
  await must('register-instrument', instrument('B-OLD', 'balance', '2026-02-28'));
  const supplier = { supplier: 'NORTH', name: 'North Metals', approvedUntil: '2026-12-31' };
  await must('register-supplier', supplier);
  return trial;
}

const ofHeron = { net: 1866.6, piece: 31.11 };
const grams = { 'lark-8': { net: 480.6, piece: 8.01 }, 'heron-31': ofHeron, 'egret-31': ofHeron };

export type TrialPiece = keyof typeof grams;

/** Brings a melt of 60 blanks in one drum to receiving, not sampled yet. */
export async function announceMelt(
  trial: Trial,
  melt: string,
  pieceStandard: TrialPiece = 'lark-8',
): Promise<void> {
  const gross = reading(String(grams[pieceStandard].net + 100), 'g');
  const tare = reading('100', 'g');
  const [drum, seal] = [`D-${melt}`, `S-${melt}`];
  const announcement = {
    consignment: `C-${melt}`,
    supplier: 'NORTH',
    document: `Delivery note ${melt}`,
    pieceStandard,
    melts: [{ melt, supplierFinenessPerMille: 916.987 }],
    drums: [{ drum, melt, pieces: 60, gross, tare, seal }],
  };
  recorded(await trial.do('announce-consignment', announcement, 'custodian'));
  const weighing = { drum, sealFound: seal, gross, tare, instrument: 'B-1' };
  recorded(await trial.do('weigh-drum', weighing, 'custodian'));
}

/** Brings the sample of a melt of 60 blanks to the laboratory; answers the ids of its blanks. */
export async function sampleMelt(
  trial: Trial,
  melt: string,
  pieceStandard: TrialPiece = 'lark-8',
): Promise<{ readonly all: readonly string[]; readonly forAssay: readonly string[] }> {
  await announceMelt(trial, melt, pieceStandard);
  const [order] = recorded(
    await trial.do('order-samples', { consignment: `C-${melt}` }, 'inspector'),
  ) as unknown as readonly { melts: readonly { samplePieces: number }[] }[];
  // 13 blanks under normal inspection, more when it is tightened.
  const pieces = order?.melts[0]?.samplePieces ?? 0;
  const gross = reading((pieces * grams[pieceStandard].piece).toFixed(2), 'g');
  recorded(await trial.do('record-draw', { melt, gross, instrument: 'B-1' }, 'inspector'));
  const answer = (await trial.ask('melt-trial', { melt }, 'inspector')) as {
    blanks: readonly { blank: string; forAssay: boolean }[];
  };
  return {
    all: answer.blanks.map(({ blank }) => blank),
    forAssay: answer.blanks.filter(({ forAssay }) => forAssay).map(({ blank }) => blank),
  };
}

/** Measures blanks: all sound but for the thickness or mass of the first ones, where given. */
export function measure(
  trial: Trial,
  melt: string,
  blanks: readonly string[],
  odd: {
    readonly thick?: number;
    readonly light?: number;
    readonly pieceStandard?: TrialPiece;
  } = {},
): Promise<Outcome> {
  const isHeron = odd.pieceStandard !== undefined && odd.pieceStandard !== 'lark-8';
  const mass = isHeron ? '31.11' : '8.01';
  const light = isHeron ? '31.09' : '7.99';
  const measurements = blanks.map((blank, index) => ({
    blank,
    mass: reading(index < (odd.light ?? 0) ? light : mass, 'g'),
    diameter: reading(isHeron ? '38.00' : '22.00', 'mm'),
    thickness: reading(index < (odd.thick ?? 0) ? '3.50' : isHeron ? '3.00' : '1.50', 'mm'),
  }));
  const input = { melt, balance: 'B-1', micrometer: 'M-1', measurements };
  return trial.do('measure-blanks', input, 'inspector');
}

/**
 * A cupellation run whose proofs lose nothing, so that a cornet of 229.225 mg from a portion of
 * 250 mg is a fineness of 916.9 ‰: cornets are given by the fineness that they stand for.
 */
export function cupel(
  trial: Trial,
  run: {
    readonly assayRun: string;
    readonly melt: string;
    readonly portions: readonly (readonly [blank: string, finenessPerMille: number])[];
    readonly author?: string;
    readonly proofCornets?: readonly string[];
    readonly changes?: object;
  },
): Promise<Outcome> {
  const proofs = (run.proofCornets ?? ['229.200', '229.200']).map((cornet, index) => ({
    label: `P${index + 1}`,
    goldTaken: reading('229.200', 'mg'),
    cornet: reading(cornet, 'mg'),
  }));
  const samples = run.portions.map(([blank, finenessPerMille], index) => ({
    label: `S${index + 1}`,
    blank,
    sample: reading('250.000', 'mg'),
    cornet: reading((finenessPerMille / 4).toFixed(3), 'mg'),
  }));
  const { assayRun, melt } = run;
  const input = {
    assayRun,
    melt,
    correction: 'absolute',
    proofs,
    samples,
    instrument: 'B-1',
    extractionConfirmed: true,
    ...run.changes,
  };
  return trial.do('record-cupellation', input, run.author ?? 'assayer');
}

/** A melt whose blanks are measured, sound, and cut for assay. */
export async function cutMelt(trial: Trial, melt: string, pieceStandard: TrialPiece = 'lark-8') {
  const sample = await sampleMelt(trial, melt, pieceStandard);
  recorded(await measure(trial, melt, sample.all, { pieceStandard }));
  recorded(await trial.do('cut-blanks', { melt, blanks: sample.forAssay }, 'assayer'));
  return sample;
}

/** A melt with a checked result of two determinations of that fineness. */
export async function checkedMelt(trial: Trial, melt: string, finenessPerMille: number) {
  const sample = await cutMelt(trial, melt);
  const portions = sample.forAssay.map((blank) => [blank, finenessPerMille] as const);
  recorded(await cupel(trial, { assayRun: `R-${melt}`, melt, portions }));
  recorded(await trial.do('sign-result', { melt }, 'assayer'));
  recorded(await trial.do('check-result', { melt }, 'checker'));
  return sample;
}
