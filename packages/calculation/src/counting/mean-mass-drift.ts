import { defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { logOfSum } from '../quantity/log-sum.ts';
import { bestOf, type Change, countShiftsOf, shiftReached, stepsOf } from './drift-changes.ts';
import { type DriftTube, oddEvidence, type SharedFit, sharedFit } from './drift-evidence.ts';
import { drawMeanMassDrift } from './mean-mass-drift-drawing.ts';
import {
  type Cause,
  causes,
  type MeanMassDriftInput,
  type MeanMassDriftOutput,
  meanMassDriftInput,
  meanMassDriftOutput,
} from './mean-mass-drift-schema.ts';
import { driftWords } from './mean-mass-drift-words.ts';

export {
  type MeanMassDriftInput,
  type MeanMassDriftOutput,
  meanMassDriftInput,
  meanMassDriftOutput,
} from './mean-mass-drift-schema.ts';

function tubesOf(input: MeanMassDriftInput): DriftTube[] {
  const noise =
    input.tareStandardDeviationGrams ** 2 +
    input.repeatabilityGrams ** 2 +
    input.divisionGrams ** 2 / 12;
  return input.tubes.map(({ bookedPieces, netGrams }) => ({
    pieces: bookedPieces,
    residual: netGrams - bookedPieces * input.referenceMeanGrams,
    variance: bookedPieces * input.pieceStandardDeviationGrams ** 2 + noise,
  }));
}

const logMean = (logs: readonly number[]): number => logOfSum(logs) - Math.log(logs.length);

function posteriorOf(logs: Readonly<Record<Cause, number>>): Record<Cause, number> {
  const top = Math.max(...Object.values(logs));
  const raw = causes.map((cause) => Math.exp(logs[cause] - top));
  const sum = raw.reduce((total, value) => total + value, 0);
  return Object.fromEntries(
    causes.map((cause, index) => [cause, (raw[index] as number) / sum]),
  ) as Record<Cause, number>;
}

/**
 * Why the masses of tubes have moved: whether the mean piece mass changed, at once or slowly, or counts are
 * wrong, in single tubes or from some tube on, or weighings were bad.
 *
 * Formula: Bayes' rule over six causes. Reading = n·(μ + shift) + own error, shift one normal error of all
 * tubes, own variance n·sp² + sT² + sr² + d²/12. Step: shift of a further normal size from tube k on, each k
 * equally probable; drift: further shift (t − 1)·slope; both by the normal linear model in closed form.
 * Count shift: one piece less or more from tube k on, each k and sign equally probable. Wrong counts and bad
 * weighings: each tube for itself, summed over all cases by quadrature over the shift, see `oddEvidence`;
 * given no other cause, all tubes clean is steady. Odds (step + drift)/(wrong counts + count shift).
 *
 * @param input 3 to 1000 tubes; masses and deviations in grams; probabilities above 0, at most 0.25
 * @returns probability of each cause, place and size of the changes, tube by tube; not rounded
 * @throws DomainError for probabilities that leave nothing for a steady line
 * Validity: one cause at a time; a step of a multiple of a piece divided by the count looks like a shift of
 * the counts, and only the usual sizes of steps tell them apart. Calibration simulated in
 * laws/counting-series.
 * Source: Bayes' rule; H. Chernoff and S. Zacks (1964), Annals of Mathematical Statistics 35, 999-1018, for
 * the change of a mean; D. V. Lindley and A. F. M. Smith (1972), Journal of the Royal Statistical Society B
 * 34, 1-41
 * @example meanMassDrift(meanMassDriftCalculation.example).mostProbable // 'mean-step'
 */
export function meanMassDrift(input: MeanMassDriftInput): MeanMassDriftOutput {
  const { priorMassChangeProbability: massChange, priorCountShiftProbability: countChange } = input;
  const rest = 1 - 2 * massChange - countChange;
  requireDomain(rest > 0 && 1 - 2 * input.priorMiscountProbability > input.badWeighingProbability, {
    field: 'priorMassChangeProbability',
    value: massChange,
    accepted: 'probabilities beforehand that together leave some for a steady line',
  });
  const tubes = tubesOf(input);
  const shared = input.sharedStandardUncertaintyGrams ** 2;
  const pieces = tubes.map((tube) => tube.pieces);
  const steps = stepsOf(tubes, shared, input.stepStandardDeviationGrams ** 2);
  const drift = sharedFit(tubes, [
    { weights: pieces, variance: shared },
    {
      weights: pieces.map((count, index) => count * index),
      variance: input.driftStandardDeviationGrams ** 2,
    },
  ]);
  const shifts = countShiftsOf(tubes, shared, input.referenceMeanGrams);
  const odd = oddEvidence(tubes, shared, {
    pieceMass: input.referenceMeanGrams,
    miscount: input.priorMiscountProbability,
    badWeighing: input.badWeighingProbability,
    badVariance: input.badWeighingSpreadGrams ** 2,
  });
  const posterior = posteriorOf({
    steady: Math.log(rest) + odd.clean,
    'mean-step': Math.log(massChange) + logMean(steps.map((one) => one.fit.logEvidence)),
    'mean-drift': Math.log(massChange) + drift.logEvidence,
    'wrong-counts': Math.log(rest) + odd.wrongCount,
    'count-shift': Math.log(countChange) + logMean(shifts.map((one) => one.fit.logEvidence)),
    'bad-weighings': Math.log(rest) + odd.badOnly,
  });
  return assemble(input, tubes, { posterior, steps, drift, shifts, odd });
}

function assemble(
  input: MeanMassDriftInput,
  tubes: readonly DriftTube[],
  found: {
    posterior: Record<Cause, number>;
    steps: readonly Change[];
    drift: SharedFit;
    shifts: readonly Change[];
    odd: ReturnType<typeof oddEvidence>;
  },
): MeanMassDriftOutput {
  const { posterior } = found;
  const labelAt = (place: number): string => input.tubes[place]?.label ?? '';
  const step = bestOf(found.steps);
  const shift = bestOf(found.shifts);
  const count = posterior['wrong-counts'] + posterior['count-shift'];
  const someOdd = posterior['wrong-counts'] + posterior['bad-weighings'];
  const reached = shiftReached(found.shifts, tubes.length);
  const shared = input.sharedStandardUncertaintyGrams;
  const at = (change: { change: Change; probability: number }) => ({
    fromLabel: labelAt(change.change.place),
    fromPlace: change.change.place + 1,
    probability: change.probability,
  });
  const output = {
    probabilities: causes.map((cause) => ({ cause, probability: posterior[cause] })),
    mostProbable: causes.reduce((best, cause) =>
      posterior[cause] > posterior[best] ? cause : best,
    ),
    massAgainstCountOdds:
      count > 1e-300 ? (posterior['mean-step'] + posterior['mean-drift']) / count : null,
    step: {
      ...at(step),
      sizeGrams: step.change.fit.estimate,
      sizeStandardUncertaintyGrams: step.change.fit.standardDeviation,
    },
    drift: {
      perTubeGrams: found.drift.estimate,
      perTubeStandardUncertaintyGrams: found.drift.standardDeviation,
    },
    countShift: { ...at(shift), pieces: shift.change.pieces },
    tubes: tubes.map((tube, index) => ({
      label: labelAt(index),
      residualGrams: tube.residual,
      standardizedResidual:
        tube.residual / Math.hypot(Math.sqrt(tube.variance), tube.pieces * shared),
      probabilityMiscounted:
        someOdd * (found.odd.miscounted[index] as number) +
        posterior['count-shift'] * (reached[index] as number),
      probabilityBadWeighing: someOdd * (found.odd.badlyWeighed[index] as number),
    })),
  };
  return { ...output, words: driftWords(output) };
}

export const meanMassDriftCalculation = defineCalculation({
  id: 'mean-mass-drift',
  version: 1,
  topic: 'counting',
  title: 'Drift of the mean piece mass, or a wrong count',
  purpose:
    'Why the masses of tubes have moved: the mean piece mass stepped or drifts, single counts are wrong, the filling is off by one from some tube on, or weighings were bad.',
  source:
    "Bayes' rule; H. Chernoff and S. Zacks (1964), Annals of Mathematical Statistics 35; D. V. Lindley and A. F. M. Smith (1972), Journal of the Royal Statistical Society B 34, normal linear model",
  input: meanMassDriftInput,
  output: meanMassDriftOutput,
  // An invented silver piece whose blanks change after the fifth tube.
  example: {
    tubes: [
      { label: 'T-1', bookedPieces: 20, netGrams: 622.1 },
      { label: 'T-2', bookedPieces: 20, netGrams: 621.8 },
      { label: 'T-3', bookedPieces: 20, netGrams: 622.2 },
      { label: 'T-4', bookedPieces: 20, netGrams: 622 },
      { label: 'T-5', bookedPieces: 20, netGrams: 621.9 },
      { label: 'T-6', bookedPieces: 20, netGrams: 623.6 },
      { label: 'T-7', bookedPieces: 20, netGrams: 623.3 },
      { label: 'T-8', bookedPieces: 20, netGrams: 623.5 },
      { label: 'T-9', bookedPieces: 20, netGrams: 623.2 },
      { label: 'T-10', bookedPieces: 20, netGrams: 623.6 },
    ],
    referenceMeanGrams: 31.1,
    sharedStandardUncertaintyGrams: 0.02,
    pieceStandardDeviationGrams: 0.05,
    tareStandardDeviationGrams: 0.15,
    repeatabilityGrams: 0.05,
    divisionGrams: 0.1,
    stepStandardDeviationGrams: 0.05,
    driftStandardDeviationGrams: 0.005,
    priorMassChangeProbability: 0.02,
    priorCountShiftProbability: 0.001,
    priorMiscountProbability: 0.0002,
    badWeighingProbability: 0.001,
    badWeighingSpreadGrams: 20,
  },
  compute: meanMassDrift,
  draw: (input, output) => drawMeanMassDrift(tubesOf(input), input.referenceMeanGrams, output),
});
