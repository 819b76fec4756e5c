import { normalDistribution } from '../quantity/normal.ts';
import {
  type ArmRunLengths,
  type CusumDesign,
  combineArms,
  requireCusum,
} from './cusum-run-length.ts';
import { type EwmaDesign, requireEwma, settledEwmaDeviation } from './ewma-run-length.ts';
import { solveDense, solveToeplitz } from './linear-system.ts';

const tail = (z: number): number => normalDistribution(z, 0, 1);

/** One arm as a chain of `count` cells of equal width; the first is centred on 0. */
function cusumArm(design: CusumDesign, shift: number, count: number): ArmRunLengths {
  const { referenceValue: k, decisionInterval: h, headstart = 0 } = design;
  const width = (2 * h) / (2 * count - 1);
  // Entry i: probability that one reading moves the sum by less than (i − count + 1/2) cells.
  const below = Float64Array.from({ length: 2 * count }, (_, index) =>
    tail((index - count + 0.5) * width + k - shift),
  );
  const diagonals = new Float64Array(2 * count - 1);
  for (let index = 0; index < diagonals.length; index += 1) {
    diagonals[index] = (below[index] as number) - (below[index + 1] as number);
  }
  diagonals[count - 1] = (diagonals[count - 1] as number) + 1;
  const ones = new Float64Array(count).fill(1);
  const ends = Float64Array.from({ length: count }, (_, from) =>
    tail(-((count - 0.5 - from) * width + k - shift)),
  );
  // Steps until 0 or a signal, and the probability that it is the signal: no digits cancel.
  const [steps, signals] = solveToeplitz(diagonals, [ones, ends]) as [Float64Array, Float64Array];
  const fromZero = (steps[0] as number) / (signals[0] as number);
  let fromStart = 1 + tail(width / 2 + k - shift - headstart) * fromZero;
  for (let to = 1; to < count; to += 1) {
    const upper = tail((to + 0.5) * width + k - shift - headstart);
    const probability = upper - tail((to - 0.5) * width + k - shift - headstart);
    fromStart += probability * ((steps[to] as number) + (1 - (signals[to] as number)) * fromZero);
  }
  return { fromZero, fromStart };
}

/**
 * Average run length of a cumulative sum chart by a Markov chain: the second road beside
 * `cusumAverageRunLength`, for the chart that starts with the shift.
 *
 * Formula: the sum is rounded to cells of width 2h/(2m − 1), the first centred on 0;
 * (I − Q)·L = 1 over the m cells, whose matrix has equal diagonals but for the first column. The
 * error falls as 1/m².
 *
 * @param options as `cusumAverageRunLength`
 * @param shift in standard deviations, -10 to 10
 * @param states number of cells m, 5 or more
 * @returns average run length, not rounded
 * @throws DomainError for a value outside its range
 * Validity: with 400 cells within about 1e-4 of the integral equation up to h = 5.
 * Source: D. Brook and D. A. Evans (1972), Biometrika 59, 539-549
 * @example cusumRunLengthByMarkovChain({ referenceValue: 0.5, decisionInterval: 4, sides: 'one' }, 0, 400) // 335.4
 */
export function cusumRunLengthByMarkovChain(
  options: CusumDesign,
  shift: number,
  states: number,
): number {
  requireCusum(options, shift);
  const upper = cusumArm(options, shift, states);
  return options.sides === 'one'
    ? upper.fromStart
    : combineArms(upper, cusumArm(options, -shift, states));
}

/**
 * Average run length of a chart of exponentially weighted averages by a Markov chain: the second
 * road beside `ewmaAverageRunLength`, for the chart that starts with the shift.
 *
 * Formula: the average is rounded to m cells of equal width between the limits (between 0 and the
 * limit, the first centred on 0, for one side); (I − Q)·L = 1. The error falls as 1/m².
 *
 * @param options as `ewmaAverageRunLength`
 * @param shift in standard deviations, -10 to 10
 * @param states number of cells m, 5 or more
 * @returns average run length, not rounded
 * @throws DomainError for a value outside its range
 * Validity: with 201 cells within about 1e-4 of the integral equation for λ of 0.1 or more.
 * Source: J. M. Lucas and M. S. Saccucci (1990), Technometrics 32, 1-12
 * @example ewmaRunLengthByMarkovChain({ smoothing: 0.5, limitFactor: 3.071, sides: 'two' }, 0, 201) // 499.85
 */
export function ewmaRunLengthByMarkovChain(
  options: EwmaDesign,
  shift: number,
  states: number,
): number {
  requireEwma(options, shift);
  const { smoothing, sides } = options;
  const limit = options.limitFactor * settledEwmaDeviation(smoothing);
  const width = sides === 'two' ? (2 * limit) / states : (2 * limit) / (2 * states - 1);
  const first = sides === 'two' ? width / 2 - limit : 0;
  const rowFrom = (from: number): Float64Array => {
    const edge = (cell: number): number =>
      tail((first + (cell - 0.5) * width - (1 - smoothing) * from) / smoothing - shift);
    const row = new Float64Array(states);
    // A one-sided average that would fall below 0 is held there, in the first cell.
    let below = sides === 'two' ? edge(0) : 0;
    for (let cell = 0; cell < states; cell += 1) {
      const above = edge(cell + 1);
      row[cell] = above - below;
      below = above;
    }
    return row;
  };
  const matrix = new Float64Array(states * states);
  for (let index = 0; index < states; index += 1) {
    rowFrom(first + index * width).forEach((probability, cell) => {
      matrix[index * states + cell] = (cell === index ? 1 : 0) - probability;
    });
  }
  const runLengths = solveDense(matrix, [new Float64Array(states).fill(1)])[0] as Float64Array;
  return rowFrom(0).reduce((sum, p, index) => sum + p * (runLengths[index] as number), 1);
}
