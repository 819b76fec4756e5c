import { compensatedSum } from '../quantity/sum.ts';

export const meanOf = (values: readonly number[]): number => compensatedSum(values) / values.length;

function sumOfSquares(values: readonly number[]): number {
  const mean = meanOf(values);
  return compensatedSum(values.map((value) => (value - mean) ** 2));
}

/** Standard deviation of one reading; nothing where there are not two. */
export function deviationOf(values: readonly number[]): number | undefined {
  return values.length < 2 ? undefined : Math.sqrt(sumOfSquares(values) / (values.length - 1));
}

/** Standard deviation of one reading from several groups of like spread; 0 where none was repeated. */
export function pooledDeviation(groups: readonly (readonly number[])[]): number {
  const repeated = groups.filter(({ length }) => length > 1);
  const degreesOfFreedom = repeated.reduce((sum, { length }) => sum + length - 1, 0);
  if (degreesOfFreedom === 0) return 0;
  return Math.sqrt(compensatedSum(repeated.map(sumOfSquares)) / degreesOfFreedom);
}

/** A standard deviation that is known at some signals. */
export interface SpreadAt {
  readonly signal: number;
  readonly deviation: number;
}

/**
 * Standard deviation of a reading at a signal: linear between the known ones, as at the nearest below
 * all of them, and in proportion to the signal above all of them.
 */
export function spreadBetween(known: readonly SpreadAt[], signal: number): number {
  const inOrder = known.toSorted((a, b) => a.signal - b.signal);
  const [lowest] = inOrder;
  const highest = inOrder.at(-1);
  if (!lowest || !highest) return 0;
  if (signal <= lowest.signal) return lowest.deviation;
  if (signal >= highest.signal) {
    return highest.signal > 0 ? (highest.deviation * signal) / highest.signal : highest.deviation;
  }
  const after = inOrder.findIndex((one) => one.signal >= signal);
  const [left, right] = [inOrder[after - 1], inOrder[after]];
  if (!left || !right) return highest.deviation;
  const share = (signal - left.signal) / (right.signal - left.signal);
  return (1 - share) * left.deviation + share * right.deviation;
}
