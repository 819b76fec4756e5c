import { type Chart, defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import {
  type CountByWeightInput,
  type CountByWeightOutput,
  countByWeightInput,
  countByWeightOutput,
} from './count-by-weight-schema.ts';
import { countPosterior, countPrior } from './count-posterior.ts';
import { decideCount, proofRisk, warnFactor } from './count-verdict.ts';
import {
  largestProvableCount,
  misclassificationProbability,
  type NetMassModel,
  netMassVariance,
  netStandardUncertainty,
} from './net-mass-uncertainty.ts';

export { boxAgainstTubes, boxDifferenceUncertainty } from './box-against-tubes.ts';
export {
  type CountByWeightInput,
  type CountByWeightOutput,
  countByWeightInput,
  countByWeightOutput,
} from './count-by-weight-schema.ts';
export { countPosterior, countPrior } from './count-posterior.ts';
export { shouldStopLine } from './line-warning.ts';
export { nestedSample } from './nested-sample.ts';
export {
  largestProvableCount,
  misclassificationProbability,
  netMassVariance,
  netStandardUncertainty,
} from './net-mass-uncertainty.ts';
export { roundedReadingLikelihood } from './reading-likelihood.ts';
export { extendReferenceMean, snapRisk } from './reference-mean.ts';
export { compareSiblings } from './sibling-comparison.ts';

/** Below this share of the division the rounding of a reading is no longer noise. */
const coarseDivision = 0.25;
/** Counts farther than this from the nominal one are not looked for: the weighing is bad. */
const farthestCount = 10;
/** Counts beyond the neighbours are reported from this probability on. */
const leastReported = 1e-6;

function netMassModel(input: CountByWeightInput): NetMassModel {
  return {
    ...input,
    referenceMeanStandardUncertaintyGrams:
      input.referenceMeanStandardUncertaintyGrams ??
      input.pieceStandardDeviationGrams / Math.sqrt(input.referencePieces),
  };
}

/** Counts below and above the nominal one to which a reading points, at least one each. */
function countRange(input: CountByWeightInput): { below: number; above: number } {
  const distances = input.netReadingsGrams
    .map((reading) => Math.round(reading / input.pieceMassGrams) - input.nominalPieces)
    .filter((distance) => Math.abs(distance) <= farthestCount);
  return { below: Math.max(1, -Math.min(0, ...distances)), above: Math.max(1, ...distances) };
}

function weighPosterior(input: CountByWeightInput, model: NetMassModel) {
  const variance = netMassVariance(model, input.nominalPieces);
  const continuous = Math.sqrt(variance.sharedSquareGrams + variance.repeatabilitySquareGrams);
  const isRounded = continuous < coarseDivision * input.divisionGrams;
  const noiseSquare =
    variance.repeatabilitySquareGrams + (isRounded ? 0 : variance.roundingSquareGrams);
  const posterior = countPosterior({
    netReadingsGrams: input.netReadingsGrams,
    prior: countPrior(input.nominalPieces, input.priorMiscountProbability, countRange(input)),
    nominalPieces: input.nominalPieces,
    pieceMassGrams: input.pieceMassGrams,
    standardUncertaintyGrams: Math.sqrt(variance.sharedSquareGrams + noiseSquare),
    noiseStandardUncertaintyGrams: Math.sqrt(noiseSquare),
    badWeighingProbability: input.badWeighingProbability,
    badWeighingSpreadGrams: input.badWeighingSpreadGrams,
    ...(isRounded ? { roundedToDivisionGrams: input.divisionGrams } : {}),
  });
  return { posterior, likelihood: isRounded ? ('rounded' as const) : ('normal' as const) };
}

/**
 * How many pieces a closed tube or box holds, judged by its net mass: the probability of the booked
 * count, of one less and one more, and that the weighing itself was wrong; and whether this scale can prove
 * such a count at all.
 *
 * Formula: standard uncertainty s(n)² = n·sp² + n²·(sb² + sμ²) + (n·μ·g)² + sT² + sr² + Q·d²/12; likelihood of
 * n pieces (1 − ε)·N(W; n·μ, s²) + ε·N(W; n₀·μ, broad² + s²) with s of the booked count n₀; where s without
 * rounding is below a quarter of the division the exact probability of the rounded reading takes the
 * place of the density. Prior: p for one piece less and more; where a reading points to a count k pieces
 * off, the range reaches there with p to the power k. Several readings share all but repeatability and
 * rounding. Risk of a wrong count 2·Q(μ/(2s)); accept window 3 s, reject beyond μ/2. Proved, or found
 * different, at a probability of at least 0.999 that includes a good weighing.
 *
 * @param input masses and deviations in grams; booked count 1 to 100000; readings 1 to 8, oldest first,
 * each a weighing from zero; probabilities above 0, at most 0.25
 * @returns masses in grams and probabilities, not rounded; verdict and the next step in words
 * @throws DomainError for a piece standard deviation that leaves no uncertainty
 * Validity: normal errors, figures as good as the deviations put in: measure piece and lot deviation by
 * a nested sample. The count by weight sees no core of equal density. Shown in reference/counting.
 * Source: JCGM 100:2008, 5.1.2; Bayes' rule with a term for wrong weighings (Box and Tiao, 1968); S. H.
 * Steiner and R. J. MacKay, Scale counting; limits common practice
 * @example countByWeight(countByWeightCalculation.example).verdict // 'weigh-again'
 */
export function countByWeight(input: CountByWeightInput): CountByWeightOutput {
  const model = netMassModel(input);
  const { nominalPieces, pieceMassGrams } = input;
  const expectedGrams = nominalPieces * pieceMassGrams;
  const standardUncertaintyGrams = netStandardUncertainty(model, nominalPieces);
  const wrong = misclassificationProbability(pieceMassGrams, standardUncertaintyGrams);
  const atRiskOneInThousand = largestProvableCount(model, 1e-3);
  const { posterior, likelihood } = weighPosterior(input, model);
  const residualsGrams = input.netReadingsGrams.map((reading) => reading - expectedGrams);
  const decision = decideCount({
    nominalPieces,
    residualsGrams,
    standardUncertaintyGrams,
    misclassificationProbability: wrong,
    largestProvablePieces: atRiskOneInThousand,
    posterior,
  });
  const around = (half: number) => ({ lower: expectedGrams - half, upper: expectedGrams + half });
  return {
    expectedGrams,
    standardUncertaintyGrams,
    residualGrams: residualsGrams[residualsGrams.length - 1] as number,
    likelihood,
    posterior: posterior.posterior.filter(
      (entry) => Math.abs(entry.pieces - nominalPieces) <= 1 || entry.probability >= leastReported,
    ),
    probabilityBadWeighing: posterior.probabilityBadWeighing,
    badWeighingByReading: [...posterior.badWeighingByReading],
    misclassificationProbability: wrong,
    canProveCount: wrong <= proofRisk,
    largestProvableCount: {
      atRiskOneInThousand,
      atRiskOneInMillion: largestProvableCount(model, 1e-6),
    },
    warnWindowGrams: around(warnFactor * standardUncertaintyGrams),
    rejectWindowGrams: around(pieceMassGrams / 2),
    verdict: decision.verdict,
    words: decision.words,
  };
}

function drawCount(
  input: CountByWeightInput,
  output: CountByWeightOutput,
): readonly [Chart, LimitRule] {
  return [
    {
      kind: 'chart',
      title: 'Probability of each count',
      xTitle: 'Pieces',
      yTitle: 'Probability',
      series: [
        {
          label: 'after weighing',
          kind: 'bars',
          x: output.posterior.map((entry) => entry.pieces),
          y: output.posterior.map((entry) => entry.probability),
        },
      ],
    },
    {
      kind: 'limit-rule',
      title: 'Last net reading in the accept window',
      unit: 'g',
      value: input.netReadingsGrams[input.netReadingsGrams.length - 1] as number,
      lowerLimit: output.warnWindowGrams.lower,
      upperLimit: output.warnWindowGrams.upper,
      words: output.words,
    },
  ];
}

export const countByWeightCalculation = defineCalculation({
  id: 'count-by-weight',
  version: 1,
  topic: 'counting',
  title: 'Count by weight',
  purpose:
    'Whether a closed tube or box holds the booked number of pieces, judged by its net mass; and whether this scale can prove such a count at all.',
  source:
    "JCGM 100:2008, 5.1.2, law of propagation of uncertainty; Bayes' rule with a term for wrong weighings after G. E. P. Box and G. C. Tiao (1968), Biometrika 55; S. H. Steiner and R. J. MacKay, Scale counting; accept window and risk 0.001 common practice",
  input: countByWeightInput,
  output: countByWeightOutput,
  // A light reading of an invented silver tube; its deviations are assumptions, not measurements.
  example: {
    nominalPieces: 20,
    pieceMassGrams: 31.1,
    pieceStandardDeviationGrams: 0.05,
    lotStandardDeviationGrams: 0.02,
    referencePieces: 50,
    gainRelative: 0.0001,
    tareStandardDeviationGrams: 0.15,
    repeatabilityGrams: 0.05,
    divisionGrams: 0.1,
    readingsTaken: 2,
    netReadingsGrams: [590.8],
    priorMiscountProbability: 0.0002,
    badWeighingProbability: 0.001,
    badWeighingSpreadGrams: 20,
  },
  compute: countByWeight,
  draw: drawCount,
});
