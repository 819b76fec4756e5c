import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';

/**
 * Standard deviations of pieces within a lot and of lot means, from single pieces of several lots:
 * the two figures that counting by weight rests on.
 *
 * Formula: one-way analysis of variance; piece variance = mean square within; lot variance =
 * (mean square between − mean square within)/n₀, 0 where that is negative, with n₀ the common number of
 * pieces per lot, or (N − Σn²/N)/(k − 1) where numbers differ.
 *
 * @param lotsGrams masses in grams of 2 or more lots with 2 or more pieces each
 * @returns mean squares in square grams and standard deviations in grams, not rounded
 * @throws DomainError for fewer lots or pieces
 * Validity: unbiased for the variances. Shown in reference/euro-coin-weights.
 * Source: R. A. Fisher (1925), Statistical Methods for Research Workers; ISO 5725-2:1994, 7.4
 * @example nestedSample([[1, 3], [5, 7]]).meanSquareBetween // 16
 */
export function nestedSample(lotsGrams: readonly (readonly number[])[]): {
  readonly meanSquareBetween: number;
  readonly meanSquareWithin: number;
  readonly pieceStandardDeviationGrams: number;
  readonly lotStandardDeviationGrams: number;
} {
  requireDomain(lotsGrams.length >= 2 && lotsGrams.every((lot) => lot.length >= 2), {
    field: 'lotsGrams',
    value: lotsGrams.map((lot) => lot.length),
    accepted: 'at least 2 lots with at least 2 pieces each',
  });
  const counts = lotsGrams.map((lot) => lot.length);
  const total = compensatedSum(counts);
  const grandMean = compensatedSum(lotsGrams.flat()) / total;
  const means = lotsGrams.map((lot) => compensatedSum(lot) / lot.length);
  const between = compensatedSum(
    means.map((mean, index) => (counts[index] ?? 0) * (mean - grandMean) ** 2),
  );
  const within = compensatedSum(
    lotsGrams.flatMap((lot, index) => lot.map((mass) => (mass - (means[index] ?? 0)) ** 2)),
  );
  const meanSquareBetween = between / (lotsGrams.length - 1);
  const meanSquareWithin = within / (total - lotsGrams.length);
  const effectiveCount =
    (total - compensatedSum(counts.map((count) => count ** 2)) / total) / (lotsGrams.length - 1);
  return {
    meanSquareBetween,
    meanSquareWithin,
    pieceStandardDeviationGrams: Math.sqrt(meanSquareWithin),
    lotStandardDeviationGrams: Math.sqrt(
      Math.max(0, (meanSquareBetween - meanSquareWithin) / effectiveCount),
    ),
  };
}
