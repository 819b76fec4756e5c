import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { misclassificationProbability } from './net-mass-uncertainty.ts';

/** How tubes and box are weighed; deviations in grams, 0 or more. */
export interface BoxWeighing {
  readonly tubes: number;
  readonly tubeRepeatabilityGrams: number;
  readonly tubeDivisionGrams: number;
  readonly boxTareStandardDeviationGrams: number;
  readonly boxRepeatabilityGrams: number;
  readonly boxDivisionGrams: number;
  /** Mass that both scales carry. */
  readonly massGrams: number;
  /** Relative standard uncertainty of each scale's span; 0 where one scale weighs both. */
  readonly gainRelativeEachScale: number;
}

/**
 * Standard uncertainty of the difference between a closed box and its closed tubes.
 *
 * Formula: k·(sr² + d²/12) of the tubes + tare² + sr² + d²/12 of the box + 2·(M·g)², the last term only
 * with two scales. The masses of pieces and of tubes are on both sides and cancel exactly.
 *
 * @param weighing one or more tubes; deviations and divisions in grams, 0 or more
 * @returns standard uncertainty in grams, not rounded
 * @throws DomainError for fewer than one tube
 * Validity: tubes unchanged between the weighings; shown in reference/counting.
 * Source: law of propagation of uncertainty, JCGM 100:2008, 5.1.2
 * @example boxDifferenceUncertainty({ tubes: 4, tubeRepeatabilityGrams: 0.3, tubeDivisionGrams: 0,
 *   boxTareStandardDeviationGrams: 0, boxRepeatabilityGrams: 0.8, boxDivisionGrams: 0, massGrams: 16000,
 *   gainRelativeEachScale: 0 }) // 1
 */
export function boxDifferenceUncertainty(weighing: BoxWeighing): number {
  requireDomain(Number.isSafeInteger(weighing.tubes) && weighing.tubes >= 1, {
    field: 'tubes',
    value: weighing.tubes,
    accepted: 'a whole number of 1 tube or more',
  });
  return Math.sqrt(
    weighing.tubes * (weighing.tubeRepeatabilityGrams ** 2 + weighing.tubeDivisionGrams ** 2 / 12) +
      weighing.boxTareStandardDeviationGrams ** 2 +
      weighing.boxRepeatabilityGrams ** 2 +
      weighing.boxDivisionGrams ** 2 / 12 +
      2 * (weighing.massGrams * weighing.gainRelativeEachScale) ** 2,
  );
}

/** Risk above which the difference cannot tell one piece from none. */
const provableRisk = 1e-3;
/** Standard uncertainties within which the difference is taken as nothing. */
const warnFactor = 3;

/**
 * A closed box against the closed tubes that went into it: whether anything left or entered between
 * the two weighings.
 *
 * Formula: D = box gross − box tare − sum of tube gross; the nearest whole number of pieces is D/μ
 * rounded; unchanged where |D| is at most 3 standard uncertainties, weigh again up to half a piece,
 * changed beyond. Where half a piece is not told from none at a risk of 1e-3, it cannot prove.
 *
 * It says nothing about how many pieces there are: a tube filled with nineteen is nineteen on both
 * sides. The box is no second proof of its tubes' counts, for the errors are the same ones.
 *
 * @param box gross readings of the tubes and of the box, tare of the box, in grams above 0, piece
 * mass above 0; how they were weighed, the mass on both scales being the sum of the tubes
 * @returns difference and standard uncertainty in grams, pieces that left (negative) or entered,
 * probability that one piece is mistaken for none, verdict; not rounded
 * @throws DomainError for no tube, or an uncertainty of 0
 * Validity: normal errors; shown in reference/counting.
 * Source: law of propagation of uncertainty, JCGM 100:2008, 5.1.2; common practice
 * @example boxAgainstTubes({ tubeGrossGrams: [640, 640], boxGrossGrams: 1680, boxTareGrams: 400,
 *   pieceMassGrams: 31.1, weighing: { tubeRepeatabilityGrams: 0.05, tubeDivisionGrams: 0.1,
 *   boxTareStandardDeviationGrams: 0.2, boxRepeatabilityGrams: 0.5, boxDivisionGrams: 1,
 *   gainRelativeEachScale: 0 } }).verdict // 'unchanged'
 */
export function boxAgainstTubes(box: {
  readonly tubeGrossGrams: readonly number[];
  readonly boxGrossGrams: number;
  readonly boxTareGrams: number;
  readonly pieceMassGrams: number;
  readonly weighing: Omit<BoxWeighing, 'tubes' | 'massGrams'>;
}): {
  readonly differenceGrams: number;
  readonly standardUncertaintyGrams: number;
  readonly halfPieceOverStandardUncertainty: number;
  readonly misclassificationProbability: number;
  readonly differencePieces: number;
  readonly verdict: 'unchanged' | 'weigh-again' | 'changed' | 'cannot-prove';
} {
  const massGrams = compensatedSum(box.tubeGrossGrams);
  const standardUncertaintyGrams = boxDifferenceUncertainty({
    ...box.weighing,
    tubes: box.tubeGrossGrams.length,
    massGrams,
  });
  const differenceGrams = compensatedSum([
    box.boxGrossGrams,
    -box.boxTareGrams,
    ...box.tubeGrossGrams.map((gross) => -gross),
  ]);
  const wrong = misclassificationProbability(box.pieceMassGrams, standardUncertaintyGrams);
  const size = Math.abs(differenceGrams);
  const decided = size <= warnFactor * standardUncertaintyGrams ? 'unchanged' : 'weigh-again';
  return {
    differenceGrams,
    standardUncertaintyGrams,
    halfPieceOverStandardUncertainty: box.pieceMassGrams / (2 * standardUncertaintyGrams),
    misclassificationProbability: wrong,
    // Adding zero turns the minus zero of a small negative difference into zero.
    differencePieces: Math.round(differenceGrams / box.pieceMassGrams) + 0,
    verdict:
      wrong > provableRisk ? 'cannot-prove' : size >= box.pieceMassGrams / 2 ? 'changed' : decided,
  };
}
