import { compensatedSum } from '../../quantity/sum.ts';

/** Means, variances and covariance of pairs, divisor n − 1. */
export interface PairScatter {
  readonly count: number;
  readonly firstMean: number;
  readonly secondMean: number;
  readonly firstVariance: number;
  readonly secondVariance: number;
  readonly covariance: number;
}

/** Means, variances and covariance of two or more pairs. */
export function pairScatter(pairs: readonly (readonly [number, number])[]): PairScatter {
  const count = pairs.length;
  const firstMean = compensatedSum(pairs.map(([first]) => first)) / count;
  const secondMean = compensatedSum(pairs.map(([, second]) => second)) / count;
  const products = (of: (a: number, b: number) => number) =>
    compensatedSum(pairs.map(([a, b]) => of(a - firstMean, b - secondMean))) / (count - 1);
  return {
    count,
    firstMean,
    secondMean,
    firstVariance: products((a) => a * a),
    secondVariance: products((_, b) => b * b),
    covariance: products((a, b) => a * b),
  };
}

/**
 * Square of the distance of a pair from the means that one of n normal pairs, itself counted in the
 * means and variances, exceeds with a given probability.
 *
 * Formula: (n − 1)²/n · (1 − α^(2/(n − 3))): n·T²/(n − 1)² has a beta distribution with parameters 1 and (n − 3)/2.
 *
 * @param count number of pairs, 4 or more
 * @param probability of a farther pair, open range (0, 1)
 * @returns squared distance in units of the covariance matrix
 * Validity: exact for normal pairs.
 * Source: N. D. Tracy, J. C. Young and R. L. Mason (1992), Journal of Quality Technology 24, 88-95
 * @example pairDistanceLimit(25, 0.05) // 5.4927
 */
export function pairDistanceLimit(count: number, probability: number): number {
  return ((count - 1) ** 2 / count) * (1 - probability ** (2 / (count - 3)));
}

/** Square of the distance of a pair from the means in units of the covariance matrix. */
export function pairDistance(scatter: PairScatter, first: number, second: number): number {
  const { firstVariance: u, secondVariance: v, covariance: c } = scatter;
  const [a, b] = [first - scatter.firstMean, second - scatter.secondMean];
  return (v * a * a - 2 * c * a * b + u * b * b) / (u * v - c * c);
}

const ellipsePoints = 72;

/** Points on the ellipse of a given squared distance, the first one again at the end. */
export function ellipseOf(
  scatter: PairScatter,
  squaredDistance: number,
): { first: number[]; second: number[] } {
  const reach = Math.sqrt(squaredDistance);
  const a = Math.sqrt(scatter.firstVariance);
  const b = scatter.covariance / a;
  const c = Math.sqrt(Math.max(0, scatter.secondVariance - b * b));
  const angles = Array.from(
    { length: ellipsePoints + 1 },
    (_, index) => (2 * Math.PI * index) / ellipsePoints,
  );
  return {
    first: angles.map((angle) => scatter.firstMean + reach * a * Math.cos(angle)),
    second: angles.map(
      (angle) => scatter.secondMean + reach * (b * Math.cos(angle) + c * Math.sin(angle)),
    ),
  };
}
