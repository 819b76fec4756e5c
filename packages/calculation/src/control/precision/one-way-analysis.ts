import { requireDomain } from '../../quantity/domain.ts';
import { upperFisherProbability } from '../../quantity/fisher.ts';
import { compensatedSum } from '../../quantity/sum.ts';
import { meanOfDistances, showCentred, squaresAbout } from './centred-readings.ts';

/** A one-way analysis of variance. Squares are in the square of the unit of the readings. */
export interface OneWayAnalysis {
  readonly counts: readonly number[];
  readonly means: readonly number[];
  /** Standard deviation within each group; null for a single reading. */
  readonly standardDeviations: readonly (number | null)[];
  /** Mean of all readings. */
  readonly mean: number;
  readonly sumOfSquaresBetween: number;
  readonly sumOfSquaresWithin: number;
  readonly degreesOfFreedomBetween: number;
  readonly degreesOfFreedomWithin: number;
  readonly meanSquareBetween: number;
  readonly meanSquareWithin: number;
  /** Ratio of the mean squares; null where nothing varies within the groups. */
  readonly ratio: number | null;
  /** Probability of a ratio at least as large when the groups are alike; null with the ratio. */
  readonly probability: number | null;
  /** Readings per group that stand for unequal numbers. */
  readonly effectiveCount: number;
}

/**
 * One-way analysis of variance of readings in groups, equal or unequal in size.
 *
 * Formula: SS between = Σ nᵢ(x̄ᵢ − x̄)², SS within = ΣΣ (x − x̄ᵢ)², mean squares by k − 1 and N − k
 * degrees of freedom, F their ratio; effective count n₀ = (N − Σnᵢ²/N)/(k − 1). Readings are taken
 * from an origin among them and as whole numbers of their last decimal place.
 *
 * @param groups 2 or more groups of 1 or more readings, more readings than groups, of one unit
 * @returns means, sums of squares, ratio and probability, not rounded
 * @throws DomainError for fewer groups or readings
 * Validity: accuracy that of doubles, 14 digits of F and more also where readings share thirteen
 * leading digits. See reference/nist-strd-anova.
 * Source: R. A. Fisher (1925), Statistical Methods for Research Workers, chapter VII
 * @example oneWayAnalysis([[1, 3], [5, 7]]).ratio // 8
 */
export function oneWayAnalysis(groups: readonly (readonly number[])[]): OneWayAnalysis {
  const counts = groups.map((group) => group.length);
  const total = compensatedSum(counts);
  const groupCount = groups.length;
  requireDomain(groupCount >= 2 && counts.every((count) => count >= 1), {
    field: 'groups',
    value: counts.join(', '),
    accepted: 'at least 2 groups with at least 1 reading each',
  });
  requireDomain(total > groupCount, {
    field: 'groups',
    value: counts.join(', '),
    accepted: 'at least one group with 2 readings or more',
  });
  const means: number[] = [];
  const squares: number[] = [];
  const centred = showCentred(groups, (distances, index, isWhole) => {
    const one = meanOfDistances(distances, isWhole);
    means[index] = one;
    squares[index] = squaresAbout(distances, one);
  });
  const mean = compensatedSum(means.map((one, i) => one * (counts[i] as number))) / total;
  const between = compensatedSum(means.map((one, i) => (counts[i] as number) * (one - mean) ** 2));
  const within = compensatedSum(squares);
  const [dfBetween, dfWithin] = [groupCount - 1, total - groupCount];
  const ratio = within > 0 ? between / dfBetween / (within / dfWithin) : null;
  const square = centred.scale ** 2;
  const sumOfSquares = compensatedSum(counts.map((count) => count * count));
  return {
    counts,
    means: means.map((one) => centred.origin + one / centred.scale),
    standardDeviations: squares.map((one, i) => {
      const count = counts[i] as number;
      return count < 2 ? null : Math.sqrt(Math.max(0, one) / (count - 1)) / centred.scale;
    }),
    mean: centred.origin + mean / centred.scale,
    sumOfSquaresBetween: between / square,
    sumOfSquaresWithin: within / square,
    degreesOfFreedomBetween: dfBetween,
    degreesOfFreedomWithin: dfWithin,
    meanSquareBetween: between / dfBetween / square,
    meanSquareWithin: within / dfWithin / square,
    ratio,
    probability: ratio === null ? null : upperFisherProbability(ratio, dfBetween, dfWithin),
    effectiveCount: (total - sumOfSquares / total) / (groupCount - 1),
  };
}
