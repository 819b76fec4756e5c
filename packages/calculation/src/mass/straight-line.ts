import { compensatedSum } from '../quantity/sum.ts';

/** A least-squares straight line and what is needed for its intervals. */
export interface StraightLine {
  readonly meanX: number;
  readonly meanY: number;
  readonly slope: number;
  /** Sum of squares of x about its mean. */
  readonly spreadX: number;
  readonly residuals: readonly number[];
  readonly residualStandardDeviation: number;
  readonly degreesOfFreedom: number;
}

/**
 * Least-squares line through points of equal weight; at least two different x. With two points the
 * residuals are nil and no degree of freedom is left.
 */
export function fitStraightLine(x: readonly number[], y: readonly number[]): StraightLine {
  const meanX = compensatedSum(x) / x.length;
  const meanY = compensatedSum(y) / y.length;
  const deviations = x.map((value) => value - meanX);
  const spreadX = compensatedSum(deviations.map((value) => value * value));
  const shared = deviations.map((value, at) => value * ((y[at] ?? 0) - meanY));
  const slope = compensatedSum(shared) / spreadX;
  const residuals = y.map((value, at) => value - meanY - slope * (deviations[at] ?? 0));
  const degreesOfFreedom = x.length - 2;
  const squares = compensatedSum(residuals.map((value) => value * value));
  return {
    meanX,
    meanY,
    slope,
    spreadX,
    residuals,
    residualStandardDeviation: degreesOfFreedom > 0 ? Math.sqrt(squares / degreesOfFreedom) : 0,
    degreesOfFreedom,
  };
}

/** Value of the line at x. */
export function lineAt(line: StraightLine, x: number): number {
  return line.meanY + line.slope * (x - line.meanX);
}

/** Standard error of the line at x, and of one new value there. */
export function lineErrorsAt(line: StraightLine, x: number): { mean: number; single: number } {
  const share = 1 / line.residuals.length + (x - line.meanX) ** 2 / line.spreadX;
  const s = line.residualStandardDeviation;
  return { mean: s * Math.sqrt(share), single: s * Math.sqrt(1 + share) };
}
