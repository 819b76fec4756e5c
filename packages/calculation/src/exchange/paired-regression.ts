import betainc from '@stdlib/math-base-special-betainc';
import { compensatedSum } from '../quantity/sum.ts';

/** Sums of products about the means of two lists of equal length. */
function centredSums(x: readonly number[], y: readonly number[]) {
  const meanX = compensatedSum(x) / x.length;
  const meanY = compensatedSum(y) / x.length;
  let [xx, xy, yy] = [0, 0, 0];
  for (let index = 0; index < x.length; index += 1) {
    const fromX = (x[index] as number) - meanX;
    const fromY = (y[index] as number) - meanY;
    xx += fromX * fromX;
    xy += fromX * fromY;
    yy += fromY * fromY;
  }
  return { xx, xy, yy };
}

/** A spread that is rounding alone counts as none. */
function isSpread(square: number, values: readonly number[]): boolean {
  return square > values.length * (1e-12 * Math.max(...values.map(Math.abs))) ** 2;
}

/** Correlation of two lists of equal length; none when one of them is constant. */
export function correlationOf(x: readonly number[], y: readonly number[]): number | null {
  const { xx, xy, yy } = centredSums(x, y);
  if (!isSpread(xx, x) || !isSpread(yy, y)) return null;
  return Math.max(-1, Math.min(1, xy / Math.sqrt(xx * yy)));
}

/** Probability that |t| is at least as large, both tails. */
export function studentTail(ratio: number, degreesOfFreedom: number): number {
  return betainc(
    degreesOfFreedom / (degreesOfFreedom + ratio * ratio),
    degreesOfFreedom / 2,
    0.5,
    true,
    false,
  );
}

/** Whether the bias depends on the level: line of the difference on the mean of each pair. */
export interface PairedSlope {
  readonly slope: number;
  readonly slopeStandardError: number;
  readonly slopeProbability: number;
}

/**
 * Slope of the difference of two results on their mean.
 *
 * Formula: least squares of d = first − second on m = (first + second)/2; standard error from the
 * residuals with n − 2 degrees of freedom; probability of |slope/error| by Student's distribution.
 * When both parties err alike, d and m are uncorrelated while the bias is the same at all levels.
 *
 * @param first results of one party, 3 or more
 * @param second results of the other for the same melts, in the same order
 * @returns slope, its standard error and probability; null for fewer than three melts or one level
 * Validity: spreads of the two parties alike; accuracy that of doubles on centred sums.
 * Source: J. M. Bland and D. G. Altman (1986), The Lancet 327, 307-310; least squares: Draper and
 * Smith (1998), Applied Regression Analysis, 1.4
 * @example pairedSlope([1, 2, 4], [1, 1, 1])?.slope // 2
 */
export function pairedSlope(
  first: readonly number[],
  second: readonly number[],
): PairedSlope | null {
  const differences = first.map((value, index) => value - (second[index] ?? 0));
  const levels = first.map((value, index) => (value + (second[index] ?? 0)) / 2);
  const { xx, xy, yy } = centredSums(levels, differences);
  if (first.length < 3 || !isSpread(xx, levels)) return null;
  const freedom = first.length - 2;
  const residual = Math.max(0, yy - (xy * xy) / xx);
  const slope = xy / xx;
  const slopeStandardError = Math.sqrt(residual / freedom / xx);
  if (slopeStandardError === 0)
    return { slope, slopeStandardError, slopeProbability: slope === 0 ? 1 : 0 };
  return {
    slope,
    slopeStandardError,
    slopeProbability: studentTail(slope / slopeStandardError, freedom),
  };
}
