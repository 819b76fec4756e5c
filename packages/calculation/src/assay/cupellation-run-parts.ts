import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum, meanOf, rootSumOfSquares } from '../quantity/sum.ts';
import type { CupellationRunInput } from './cupellation-run-schema.ts';
import { proofShares } from './muffle-position.ts';

type Proof = CupellationRunInput['proofs'][number];
type Sample = CupellationRunInput['samples'][number];

export const lossOf = (proof: Proof) => proof.goldTakenMilligrams - proof.cornetMassMilligrams;

/** Spread of one cupellation about the model of the correction, in mg of cornet. */
function proofScatter(input: CupellationRunInput) {
  const losses = input.proofs.map(lossOf);
  const isPlane = input.interpolation === 'plane';
  const degreesOfFreedom = losses.length - (isPlane ? 3 : 1);
  requireDomain(degreesOfFreedom > 0, {
    field: 'repeatabilityStandardDeviationPerMille',
    value: 'none',
    accepted: 'a stated repeatability, since a plane through three proofs leaves no spread',
  });
  const model = isPlane ? ('plane' as const) : ('mean' as const);
  const rests = input.proofs.map((proof, i) => {
    const shares = proofShares(model, input.proofs, proof);
    const expected = compensatedSum(shares.map((share, j) => share * (losses[j] ?? 0)));
    return (losses[i] ?? 0) - expected;
  });
  return { milligrams: rootSumOfSquares(rests) / Math.sqrt(degreesOfFreedom), degreesOfFreedom };
}

/** What a run knows of its own repeatability: a function of the sample mass, and for the proofs. */
export function repeatabilityOf(input: CupellationRunInput) {
  const stated = input.repeatabilityStandardDeviationPerMille;
  if (stated === undefined) {
    const { milligrams, degreesOfFreedom } = proofScatter(input);
    return { of: () => milligrams, proof: milligrams, degreesOfFreedom };
  }
  const of = (massMilligrams: number) => (stated * massMilligrams) / 1000;
  const proof = of(meanOf(input.samples.map((one) => one.sampleMassMilligrams)));
  return { of, proof, degreesOfFreedom: null };
}

/** One determination with its sensitivities, in ‰ per mg. */
export interface Determination {
  readonly sample: Sample;
  readonly fineness: number;
  readonly correction: number;
  readonly bySample: number;
  readonly byCornet: number;
  readonly byProofGold: readonly number[];
  readonly byProofCornet: readonly number[];
}

export function determine(
  input: CupellationRunInput,
  sample: Sample,
  index: number,
): Determination {
  const { sampleMassMilligrams: m1, cornetMassMilligrams: m2 } = sample;
  requireDomain(m2 <= 1.01 * m1, {
    field: `samples.${index}.cornetMassMilligrams`,
    value: m2,
    accepted: `a cornet mass not above the sample mass ${m1} mg by more than 1 %`,
  });
  const shares = proofShares(input.interpolation, input.proofs, sample);
  const weighted = (value: (proof: Proof) => number) =>
    compensatedSum(input.proofs.map((proof, j) => (shares[j] ?? 0) * value(proof)));
  const perMilligram = 1000 / m1;
  if (input.correction === 'absolute') {
    const correction = weighted(lossOf);
    const fineness = perMilligram * (m2 + correction);
    return {
      sample,
      fineness,
      correction,
      bySample: -fineness / m1,
      byCornet: perMilligram,
      byProofGold: shares.map((share) => share * perMilligram),
      byProofCornet: shares.map((share) => -share * perMilligram),
    };
  }
  const recovery = weighted((proof) => proof.cornetMassMilligrams / proof.goldTakenMilligrams);
  const fineness = (perMilligram * m2) / recovery;
  const byRecovery = shares.map((share) => (-fineness / recovery) * share);
  return {
    sample,
    fineness,
    correction: m2 / recovery - m2,
    bySample: -fineness / m1,
    byCornet: perMilligram / recovery,
    byProofGold: input.proofs.map(
      (proof, j) =>
        (-(byRecovery[j] ?? 0) * proof.cornetMassMilligrams) / proof.goldTakenMilligrams ** 2,
    ),
    byProofCornet: input.proofs.map((proof, j) => (byRecovery[j] ?? 0) / proof.goldTakenMilligrams),
  };
}

/** Own, run's and method's part of the uncertainty of the mean of some determinations. */
export function partsOf(
  input: CupellationRunInput,
  repeatability: ReturnType<typeof repeatabilityOf>,
  some: readonly Determination[],
) {
  const weighing = input.weighingStandardUncertaintyMilligrams;
  const gold = input.proofs.map((_, j) => meanOf(some.map((one) => one.byProofGold[j] ?? 0)));
  const cornet = input.proofs.map((_, j) => meanOf(some.map((one) => one.byProofCornet[j] ?? 0)));
  const own = some.flatMap((one) => [
    one.bySample * weighing,
    one.byCornet * weighing,
    one.byCornet * repeatability.of(one.sample.sampleMassMilligrams),
  ]);
  const run = [
    ...gold.map((part) => part * weighing),
    ...cornet.map((part) => part * weighing),
    ...cornet.map((part) => part * repeatability.proof),
  ];
  const purity = input.proofGoldStandardUncertaintyPerMille / 1000;
  const method = input.proofs.map((proof, j) => (gold[j] ?? 0) * proof.goldTakenMilligrams);
  return {
    own: rootSumOfSquares(own) / some.length,
    run: rootSumOfSquares(run),
    method: Math.abs(compensatedSum(method)) * purity,
  };
}
