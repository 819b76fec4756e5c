import { requireDomain } from '../quantity/domain.ts';
import { firstWhole } from '../quantity/halving.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';

/** What is known of a product, its containers and the scale; masses and deviations in grams. */
export interface NetMassModel {
  /** Mean mass of one piece. */
  readonly pieceMassGrams: number;
  /** Piece to piece within one lot. */
  readonly pieceStandardDeviationGrams: number;
  /** Lot or die mean against the reference lot. */
  readonly lotStandardDeviationGrams: number;
  /** Standard uncertainty of the mean piece mass. */
  readonly referenceMeanStandardUncertaintyGrams: number;
  /** Relative standard uncertainty of the scale's span. */
  readonly gainRelative: number;
  /** Tare and packaging, one container against another. */
  readonly tareStandardDeviationGrams: number;
  readonly repeatabilityGrams: number;
  readonly divisionGrams: number;
  /** 2 when the tare is weighed too, 1 when it is a stored constant. */
  readonly readingsTaken: 1 | 2;
}

/** Variance of a net mass in two parts: what all weighings of a container share, and their noise. */
export interface NetMassVariance {
  readonly sharedSquareGrams: number;
  readonly repeatabilitySquareGrams: number;
  readonly roundingSquareGrams: number;
}

/**
 * Variance of the net reading of a container with a known number of pieces.
 *
 * Formula: n·sp² + n²·(sb² + sμ²) + (n·μ·g)² + sT² is shared by every weighing of the container;
 * sr² and Q·d²/12 are the noise of one weighing; sp piece, sb lot, sμ reference mean, g gain,
 * sT tare, sr repeatability, d division, Q readings taken. The terms in n² are shared by all
 * pieces and do not show in a sample of single pieces from one lot.
 *
 * @param model masses in grams, each 0 or more, piece mass above 0
 * @param pieces number in the container, 0 or more
 * @returns variances in square grams, not rounded
 * @throws DomainError for a negative number of pieces
 * Validity: small relative uncertainties, independent sources; shown in reference/counting.
 * Source: law of propagation of uncertainty, JCGM 100:2008, 5.1.2; S. H. Steiner and R. J. MacKay,
 * Scale counting, for the sources of error
 * @example netMassVariance({ pieceMassGrams: 31.1, pieceStandardDeviationGrams: 0.05,
 *   lotStandardDeviationGrams: 0.02, referenceMeanStandardUncertaintyGrams: 0.0070710678,
 *   gainRelative: 1e-4, tareStandardDeviationGrams: 0.15, repeatabilityGrams: 0.05,
 *   divisionGrams: 0.1, readingsTaken: 2 },
 *   20).repeatabilitySquareGrams // 0.0025
 */
export function netMassVariance(model: NetMassModel, pieces: number): NetMassVariance {
  requireDomain(pieces >= 0, {
    field: 'pieces',
    value: pieces,
    accepted: 'a number of 0 or more',
  });
  const perPieceShared =
    model.lotStandardDeviationGrams ** 2 +
    model.referenceMeanStandardUncertaintyGrams ** 2 +
    (model.pieceMassGrams * model.gainRelative) ** 2;
  return {
    sharedSquareGrams:
      pieces * model.pieceStandardDeviationGrams ** 2 +
      pieces ** 2 * perPieceShared +
      model.tareStandardDeviationGrams ** 2,
    repeatabilitySquareGrams: model.repeatabilityGrams ** 2,
    roundingSquareGrams: (model.readingsTaken * model.divisionGrams ** 2) / 12,
  };
}

/**
 * Standard uncertainty of the net reading of a container with a known number of pieces.
 *
 * Formula: the root of the sum of the parts of `netMassVariance`.
 *
 * @param model masses in grams, each 0 or more, piece mass above 0
 * @param pieces number in the container, 0 or more
 * @returns standard uncertainty in grams, not rounded
 * @throws DomainError for a negative number of pieces
 * Validity: as `netMassVariance`; shown in reference/counting.
 * Source: JCGM 100:2008, 5.1.2
 * @example netStandardUncertainty({ pieceMassGrams: 31.1, pieceStandardDeviationGrams: 0.05,
 *   lotStandardDeviationGrams: 0.02, referenceMeanStandardUncertaintyGrams: 0.0070710678,
 *   gainRelative: 1e-4, tareStandardDeviationGrams: 0.15, repeatabilityGrams: 0.05,
 *   divisionGrams: 0.1, readingsTaken: 2 }, 20) // 0.5104
 */
export function netStandardUncertainty(model: NetMassModel, pieces: number): number {
  const variance = netMassVariance(model, pieces);
  return Math.sqrt(
    variance.sharedSquareGrams + variance.repeatabilitySquareGrams + variance.roundingSquareGrams,
  );
}

/**
 * Probability that the nearest count to a net mass is not the true one, before any weighing.
 *
 * Formula: 2·Q(μ/(2s)), Q the upper tail of the normal distribution.
 *
 * @param pieceMassGrams mean mass of one piece, above 0
 * @param standardUncertaintyGrams of the net reading, above 0
 * @returns probability in [0, 1], not rounded; the far tail keeps its relative accuracy
 * @throws DomainError for values that are not above 0
 * Validity: normal errors. Below 1e-4 the figure says only that the weighing itself, done rightly,
 * is no longer the weak point. Shown in reference/counting.
 * Source: common practice of counting by weight; normal distribution
 * @example misclassificationProbability(3.11, 0.5225948288) // 0.002924765
 */
export function misclassificationProbability(
  pieceMassGrams: number,
  standardUncertaintyGrams: number,
): number {
  requireDomain(pieceMassGrams > 0, {
    field: 'pieceMassGrams',
    value: pieceMassGrams,
    accepted: 'a mass above 0 g',
  });
  return 2 * normalDistribution(-pieceMassGrams / 2, 0, standardUncertaintyGrams);
}

/**
 * Largest count that a scale can prove at a stated risk.
 *
 * Formula: the largest whole n with μ/2 ≥ z·s(n), z the quantile of the standard normal distribution at
 * 1 − risk/2; s(n) grows with n, so that n is found by halving.
 *
 * @param model masses in grams; a deviation that grows with the count must be above 0
 * @param risk accepted probability of a wrong count, open range (0, 1)
 * @returns whole number of pieces; 0 where not even one piece can be told from two
 * @throws DomainError for a risk outside its range or a model without growing deviation
 * Validity: as `netMassVariance`; shown in reference/counting.
 * Source: common practice of counting by weight; normal distribution
 * @example largestProvableCount({ pieceMassGrams: 31.1, pieceStandardDeviationGrams: 0.05,
 *   lotStandardDeviationGrams: 0.02, referenceMeanStandardUncertaintyGrams: 0.0070710678,
 *   gainRelative: 1e-4, tareStandardDeviationGrams: 0.15, repeatabilityGrams: 0.05,
 *   divisionGrams: 0.1, readingsTaken: 2 }, 1e-3) // 217
 */
export function largestProvableCount(model: NetMassModel, risk: number): number {
  requireDomain(risk > 0 && risk < 1, {
    field: 'risk',
    value: risk,
    accepted: 'a number above 0 and below 1',
  });
  const growing = [
    model.pieceStandardDeviationGrams,
    model.lotStandardDeviationGrams,
    model.referenceMeanStandardUncertaintyGrams,
    model.gainRelative,
  ];
  requireDomain(
    growing.some((value) => value > 0),
    {
      field: 'pieceStandardDeviationGrams',
      value: model.pieceStandardDeviationGrams,
      accepted: 'a deviation above 0 g: no two pieces are equal',
    },
  );
  const z = -normalQuantile(risk / 2);
  const canProve = (pieces: number): boolean =>
    model.pieceMassGrams / 2 >= z * netStandardUncertainty(model, pieces);
  if (!canProve(1)) return 0;
  let proved = 1;
  while (canProve(2 * proved) && proved < 2 ** 51) proved *= 2;
  return firstWhole((pieces) => !canProve(pieces), proved, 2 * proved) - 1;
}
