import { requireDomain } from '../quantity/domain.ts';
import { greatestRangeSize, rangeMoments } from './range-moments.ts';

/** Greatest subgroup of a chart of standard deviations. */
export const greatestSubgroupSize = 1000;

/** Factors of the charts of one subgroup size, all for normal readings. */
export interface ControlConstants {
  /** Mean of the standard deviation of n readings, in units of the true one. */
  readonly c4: number;
  /** Mean of the range; null above 100 readings, as all factors of the range. */
  readonly d2: number | null;
  readonly d3: number | null;
  /** Limits of means: A times the true standard deviation, A2 the mean range, A3 the mean of s. */
  readonly a: number;
  readonly a2: number | null;
  readonly a3: number;
  /** Limits of standard deviations: B3, B4 times their mean, B5, B6 times the true one. */
  readonly b3: number;
  readonly b4: number;
  readonly b5: number;
  readonly b6: number;
  /** Limits of ranges: D1, D2 times the true standard deviation, D3, D4 times the mean range. */
  readonly d1Limit: number | null;
  readonly d2Limit: number | null;
  readonly d3Limit: number | null;
  readonly d4Limit: number | null;
}

function requireSize(sizePieces: number): void {
  requireDomain(
    Number.isInteger(sizePieces) && sizePieces >= 2 && sizePieces <= greatestSubgroupSize,
    {
      field: 'sizePieces',
      value: sizePieces,
      accepted: `a whole number from 2 to ${greatestSubgroupSize}`,
    },
  );
}

/**
 * Mean of the standard deviation of n normal readings, divisor n − 1, in units of the true
 * standard deviation: the factor c4 that removes its bias.
 *
 * Formula: c4 = √(2/(n − 1))·Γ(n/2)/Γ((n − 1)/2). The quotient q of the two gamma functions follows
 * from q(2) = 1/√π and q(n + 1) = (n − 1)/(2·q(n)), which loses no digits.
 *
 * @param sizePieces number of readings, whole, 2 to 1000
 * @returns c4, above 0 and below 1, not rounded
 * @throws DomainError for a number outside 2 to 1000
 * Validity: relative accuracy about 1e-15 times √n, normal readings. See reference/control-constants.
 * Source: ISO 7870-2:2013, Table 2; W. A. Shewhart (1931), Economic Control of Quality, chapter 14
 * @example meanStandardDeviationFactor(5) // 0.939986
 */
export function meanStandardDeviationFactor(sizePieces: number): number {
  requireSize(sizePieces);
  let quotient = 1 / Math.sqrt(Math.PI);
  for (let size = 2; size < sizePieces; size += 1) quotient = (size - 1) / (2 * quotient);
  return quotient * Math.sqrt(2 / (sizePieces - 1));
}

/**
 * Every factor of the three-sigma charts of means, ranges and standard deviations for one subgroup
 * size, computed from the distributions instead of read from a table.
 *
 * Formula: with c4, d2, d3 as in `meanStandardDeviationFactor` and `rangeMoments`: A = 3/√n,
 * A2 = A/d2, A3 = A/c4; with w = 3·√(1 − c4²): B5, B6 = c4 ∓ w, B3, B4 = 1 ∓ w/c4; D1, D2 = d2 ∓ 3·d3,
 * D3, D4 = 1 ∓ 3·d3/d2; lower factors below 0 are 0. The four factors of ranges are named with
 * `Limit` since d2 and d3 are taken.
 *
 * @param sizePieces readings in a subgroup, whole, 2 to 1000
 * @returns the factors, not rounded; those of the range are null above 100 readings
 * @throws DomainError for a number outside 2 to 1000
 * Validity: normal readings; tables of these factors round intermediate values and can differ in
 * their last figure. See reference/control-constants.
 * Source: ISO 7870-2:2013, Table 2; ASTM E2587-16, Table 1
 * @example controlConstants(5).a2 // 0.57682
 */
export function controlConstants(sizePieces: number): ControlConstants {
  const c4 = meanStandardDeviationFactor(sizePieces);
  const a = 3 / Math.sqrt(sizePieces);
  const width = 3 * Math.sqrt(1 - c4 ** 2);
  return {
    c4,
    a,
    a3: a / c4,
    b3: Math.max(0, 1 - width / c4),
    b4: 1 + width / c4,
    b5: Math.max(0, c4 - width),
    b6: c4 + width,
    ...rangeFactors(sizePieces, a),
  };
}

const noRangeFactors = {
  d2: null,
  d3: null,
  a2: null,
  d1Limit: null,
  d2Limit: null,
  d3Limit: null,
  d4Limit: null,
};

function rangeFactors(sizePieces: number, a: number) {
  const range = sizePieces > greatestRangeSize ? undefined : rangeMoments(sizePieces)[sizePieces];
  if (!range) return noRangeFactors;
  const { mean: d2, standardDeviation: d3 } = range;
  return {
    d2,
    d3,
    a2: a / d2,
    d1Limit: Math.max(0, d2 - 3 * d3),
    d2Limit: d2 + 3 * d3,
    d3Limit: Math.max(0, 1 - (3 * d3) / d2),
    d4Limit: 1 + (3 * d3) / d2,
  };
}
