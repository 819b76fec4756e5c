import { compensatedSum, meanOf, rootSumOfSquares } from '../quantity/sum.ts';
import type { CupellationInput } from './cupellation-schema.ts';

/** What the proofs of a run say, before any rounding. */
export interface ProofSummary {
  readonly proofCorrectionMilligrams: number;
  readonly recoveryRatio: number;
  /** Sample standard deviation of gold taken less cornet over the proofs. */
  readonly lossStandardDeviationMilligrams: number;
}

/** One part of the uncertainty of a determination or of a mean. */
export interface UncertaintyPart {
  readonly contribution: string;
  readonly isShared: boolean;
  readonly standardUncertaintyPerMille: number;
  /** Degrees of freedom; absent when the part was not estimated in this run. */
  readonly degreesOfFreedom?: number;
}

/** Means and spread of the proofs. */
export function summariseProofs(proofs: CupellationInput['proofs']): ProofSummary {
  const losses = proofs.map((one) => one.goldTakenMilligrams - one.cornetMassMilligrams);
  const proofCorrectionMilligrams = meanOf(losses);
  const deviations = losses.map((loss) => loss - proofCorrectionMilligrams);
  return {
    proofCorrectionMilligrams,
    recoveryRatio: meanOf(proofs.map((one) => one.cornetMassMilligrams / one.goldTakenMilligrams)),
    lossStandardDeviationMilligrams: rootSumOfSquares(deviations) / Math.sqrt(losses.length - 1),
  };
}

/** Derivatives of the fineness of one sample, in per mille per milligram of the quantity named. */
interface Sensitivities {
  readonly sample: number;
  readonly cornet: number;
  readonly proofGold: readonly number[];
  readonly proofCornet: readonly number[];
}

function sensitivitiesOf(
  input: CupellationInput,
  summary: ProofSummary,
  sample: CupellationInput['samples'][number],
): Sensitivities {
  const { sampleMassMilligrams: m1, cornetMassMilligrams: m2 } = sample;
  const n = input.proofs.length;
  if (input.correction === 'absolute') {
    const perMilligram = 1000 / m1;
    const fineness = perMilligram * (m2 + summary.proofCorrectionMilligrams);
    return {
      sample: -fineness / m1,
      cornet: perMilligram,
      proofGold: input.proofs.map(() => perMilligram / n),
      proofCornet: input.proofs.map(() => -perMilligram / n),
    };
  }
  const recovery = summary.recoveryRatio;
  const fineness = (1000 * m2) / (recovery * m1);
  const perRatio = -fineness / recovery / n;
  return {
    sample: -fineness / m1,
    cornet: 1000 / (recovery * m1),
    proofGold: input.proofs.map(
      (one) => (-perRatio * one.cornetMassMilligrams) / one.goldTakenMilligrams ** 2,
    ),
    proofCornet: input.proofs.map((one) => perRatio / one.goldTakenMilligrams),
  };
}

/** The repeatability of one cupellation as a standard deviation of the cornet mass. */
function repeatabilityMilligrams(
  input: CupellationInput,
  summary: ProofSummary,
  massMilligrams: number,
): number {
  const stated = input.repeatabilityStandardDeviationPerMille;
  return stated === undefined
    ? summary.lossStandardDeviationMilligrams
    : (stated * massMilligrams) / 1000;
}

/**
 * Parts of the uncertainty of the mean fineness of some samples of one run. Parts that belong to a
 * sample are averaged; parts that come from the proofs act on all samples alike and are not.
 */
export function uncertaintyParts(
  input: CupellationInput,
  summary: ProofSummary,
  samples: CupellationInput['samples'],
): readonly UncertaintyPart[] {
  const weighing = input.weighingStandardUncertaintyMilligrams;
  const all = samples.map((sample) => sensitivitiesOf(input, summary, sample));
  const count = samples.length;
  const meanMass = meanOf(input.samples.map((sample) => sample.sampleMassMilligrams));
  const proofRepeatability = repeatabilityMilligrams(input, summary, meanMass);
  const proofGold = input.proofs.map((_, j) => meanOf(all.map((one) => one.proofGold[j] ?? 0)));
  const proofCornet = input.proofs.map((_, j) => meanOf(all.map((one) => one.proofCornet[j] ?? 0)));
  const purity = (input.proofGoldStandardUncertaintyPerMille ?? 0) / 1000;
  const goldSensitivity = compensatedSum(
    input.proofs.map((one, j) => one.goldTakenMilligrams * (proofGold[j] ?? 0)),
  );
  const estimated =
    input.repeatabilityStandardDeviationPerMille === undefined
      ? { degreesOfFreedom: input.proofs.length - 1 }
      : {};
  const own = (contribution: string, terms: readonly number[], extra = {}) => ({
    contribution,
    isShared: false,
    standardUncertaintyPerMille: rootSumOfSquares(terms) / count,
    ...extra,
  });
  const shared = (contribution: string, standardUncertaintyPerMille: number, extra = {}) => ({
    contribution,
    isShared: true,
    standardUncertaintyPerMille,
    ...extra,
  });
  return [
    own(
      'weighing of the samples',
      all.map((one) => one.sample * weighing),
    ),
    own(
      'weighing of the sample cornets',
      all.map((one) => one.cornet * weighing),
    ),
    own(
      'repeatability of the samples',
      all.map(
        (one, i) =>
          one.cornet *
          repeatabilityMilligrams(input, summary, samples[i]?.sampleMassMilligrams ?? meanMass),
      ),
      estimated,
    ),
    shared('weighing of the proofs', weighing * rootSumOfSquares([...proofGold, ...proofCornet])),
    shared(
      'repeatability of the proofs',
      proofRepeatability * rootSumOfSquares(proofCornet),
      estimated,
    ),
    shared('fineness of the proof gold', Math.abs(purity * goldSensitivity)),
  ];
}

/** Root sum of squares of parts. */
export function combinedStandardUncertainty(parts: readonly UncertaintyPart[]): number {
  return rootSumOfSquares(parts.map((part) => part.standardUncertaintyPerMille));
}

/**
 * Effective degrees of freedom after Welch and Satterthwaite. The two repeatability parts rest on
 * one and the same spread of the proofs and count as one.
 */
export function effectiveDegreesOfFreedom(parts: readonly UncertaintyPart[]): number | null {
  const estimated = parts.filter((part) => part.degreesOfFreedom !== undefined);
  const degreesOfFreedom = estimated[0]?.degreesOfFreedom;
  const estimatedUncertainty = combinedStandardUncertainty(estimated);
  if (degreesOfFreedom === undefined || estimatedUncertainty === 0) return null;
  return degreesOfFreedom * (combinedStandardUncertainty(parts) / estimatedUncertainty) ** 4;
}
