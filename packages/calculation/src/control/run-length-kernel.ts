import { gaussLegendre } from '../quantity/gauss-legendre.ts';
import { normalDistribution } from '../quantity/normal.ts';
import { solveDense } from './linear-system.ts';

/**
 * One step of a chart as a chain that ends at a signal. Readings have mean `shift` and standard
 * deviation 1. The state lies between `lower` and `upper`; a reflecting chart also has a lump of
 * probability at its lower end.
 */
interface RunLengthKernel {
  readonly lower: number;
  readonly upper: number;
  /** Width of the density in units of the state: it sets how many nodes are needed. */
  readonly width: number;
  /** Mean of the next state before reflection, without the shift: `carry`·state + `offset`. */
  readonly carry: number;
  readonly offset: number;
  readonly reflects: boolean;
}

/** State of a one-sided cumulative sum: max(0, state + reading − k), signal above h. */
export function cusumKernel(referenceValue: number, decisionInterval: number): RunLengthKernel {
  return {
    lower: 0,
    upper: decisionInterval,
    width: 1,
    carry: 1,
    offset: -referenceValue,
    reflects: true,
  };
}

/** State of a weighted average (1 − λ)·state + λ·reading; a one-sided one is held at 0 from below. */
export function ewmaKernel(smoothing: number, limit: number, reflects: boolean): RunLengthKernel {
  const lower = reflects ? 0 : -limit;
  return { lower, upper: limit, width: smoothing, carry: 1 - smoothing, offset: 0, reflects };
}

/** Beyond so many standard deviations a density is 0 for a run length: it is below 1e-19 of its peak. */
const densityReach = 9.5;
const densityFactor = 1 / Math.sqrt(2 * Math.PI);

/** States at which the chain is followed, with the probability of stepping from any state to each. */
interface DiscreteChain {
  /** The lump first, where there is one, then the nodes. */
  readonly states: Float64Array;
  readonly reflects: boolean;
  readonly step: (from: number, shift: number) => Float64Array;
  /** Probability that the next step goes beyond the upper limit. */
  readonly beyond: (from: number, shift: number) => number;
  /** I − Q over the nodes without the lump, row after row. */
  readonly restMatrix: (shift: number) => Float64Array;
}

/** Nodes per width of the density: two keep the error of the rule below 1e-11, as six times as many show. */
const nodesPerWidth = 2;
const leastNodes = 14;

/** The integral equation of a chart as a chain over the nodes of a quadrature rule. */
function discretise(kernel: RunLengthKernel): DiscreteChain {
  const { lower, upper, width, carry, offset, reflects } = kernel;
  const count = Math.ceil(leastNodes + (nodesPerWidth * (upper - lower)) / width);
  const { nodes, weights } = gaussLegendre(count, lower, upper);
  const lump = reflects ? 1 : 0;
  const states = new Float64Array(count + lump);
  if (reflects) states[0] = lower;
  states.set(nodes, lump);
  const factors = weights.map((weight) => (weight * densityFactor) / width);
  const meanFrom = (from: number, shift: number) => carry * from + offset + width * shift;
  const step = (from: number, shift: number): Float64Array => {
    const row = new Float64Array(count + lump);
    const mean = meanFrom(from, shift);
    if (reflects) row[0] = normalDistribution((lower - mean) / width, 0, 1);
    for (let index = 0; index < count; index += 1) {
      const z = ((nodes[index] as number) - mean) / width;
      if (z > -densityReach && z < densityReach) {
        row[index + lump] = (factors[index] as number) * Math.exp(-0.5 * z * z);
      }
    }
    return row;
  };
  const beyond = (from: number, shift: number): number =>
    normalDistribution((meanFrom(from, shift) - upper) / width, 0, 1);
  const restMatrix = shiftedMatrix({
    ends: nodes.map((node) => node / width),
    starts: nodes.map((node) => meanFrom(node, 0) / width),
    factors,
  });
  return { states, reflects, step, beyond, restMatrix };
}

/**
 * I − Q for any shift μ, from the densities without shift: exp(−(a − b − μ)²/2) is their product with
 * exp(μa) and exp(−μb − μ²/2), so that each shift costs two exponentials for a node instead of one for
 * each pair. The exponents stay below 700 for shifts up to 10 and states up to 60 widths.
 */
function shiftedMatrix(grid: {
  readonly ends: Float64Array;
  readonly starts: Float64Array;
  readonly factors: Float64Array;
}): (shift: number) => Float64Array {
  const { ends, starts, factors } = grid;
  const size = ends.length;
  const unshifted = new Float64Array(size * size);
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      const z = (ends[column] as number) - (starts[row] as number);
      unshifted[row * size + column] = (factors[column] as number) * Math.exp(-0.5 * z * z);
    }
  }
  return (shift) => {
    const matrix = new Float64Array(size * size);
    const columns = ends.map((end) => Math.exp(shift * end));
    for (let row = 0; row < size; row += 1) {
      const scale = -Math.exp(-shift * (starts[row] as number) - 0.5 * shift * shift);
      for (let at = row * size, column = 0; column < size; at += 1, column += 1) {
        matrix[at] = (unshifted[at] as number) * (columns[column] as number) * scale;
      }
      matrix[row * size + row] = (matrix[row * size + row] as number) + 1;
    }
    return matrix;
  };
}

function product(row: Float64Array, values: Float64Array): number {
  let sum = 0;
  for (let index = 0; index < row.length; index += 1) {
    sum += (row[index] as number) * (values[index] as number);
  }
  return sum;
}

/**
 * Average run length from each state of a chain: the solution of (I − Q)·L = 1. A chart that reflects
 * is followed from visit to visit of 0: steps until 0 or a signal, over the probability that it is the
 * signal. However rare that is, no digits cancel.
 */
function runLengthsFromStates(chain: DiscreteChain, shift: number): Float64Array {
  const first = chain.reflects ? 1 : 0;
  const matrix = chain.restMatrix(shift);
  const ones = new Float64Array(chain.states.length - first).fill(1);
  if (!chain.reflects) return solveDense(matrix, [ones])[0] as Float64Array;
  const ends = chain.states.subarray(1).map((from) => chain.beyond(from, shift));
  const [steps, signals] = solveDense(matrix, [ones, ends]) as [Float64Array, Float64Array];
  const start = chain.states[0] as number;
  const row = chain.step(start, shift).subarray(1);
  const fromZero = (1 + product(row, steps)) / (chain.beyond(start, shift) + product(row, signals));
  const rest = steps.map((step, index) => step + (1 - (signals[index] as number)) * fromZero);
  return Float64Array.of(fromZero, ...rest);
}

/** Average run length from any starting state, given those from the states of the chain. */
function runLengthFrom(
  start: number,
  chain: DiscreteChain,
  shift: number,
  runLengths: Float64Array,
): number {
  return 1 + product(chain.step(start, shift), runLengths);
}

/** Run lengths beyond this are not told apart from never: no plant plots so many values. */
export const greatestRunLength = 1e12;

/** A computed run length, or null where it is beyond all use and its digits are no longer sure. */
export function tellableRunLength(runLength: number): number | null {
  return runLength >= 1 && runLength <= greatestRunLength ? runLength : null;
}

/** The distribution has settled when no probability moves by more than this. */
const settled = 1e-13;
const mostSteps = 20_000;

/**
 * Distribution over the states of a chart that has run for long without a signal while nothing was
 * wrong: the left eigenvector of the chain, by repeated steps.
 */
function settledDistribution(chain: DiscreteChain): Float64Array {
  const rows = Array.from(chain.states, (from) => chain.step(from, 0));
  const size = rows.length;
  let current = new Float64Array(size).fill(1 / size);
  for (let count = 0; count < mostSteps; count += 1) {
    const next = new Float64Array(size);
    rows.forEach((row, from) => {
      const weight = current[from] as number;
      for (let to = 0; to < size; to += 1) {
        next[to] = (next[to] as number) + weight * (row[to] as number);
      }
    });
    const total = next.reduce((sum, value) => sum + value, 0);
    let change = 0;
    for (let to = 0; to < size; to += 1) {
      next[to] = (next[to] as number) / total;
      change = Math.max(change, Math.abs((next[to] as number) - (current[to] as number)));
    }
    current = next;
    if (change < settled) break;
  }
  return current;
}

/**
 * Average run lengths of a chart at several shifts: from its lower end or middle 0, and from the
 * start in question. The nodes, and the settled distribution, are found once.
 */
export function runLengthsOfKernel(
  kernel: RunLengthKernel,
  shifts: readonly number[],
  start: number | 'settled',
): { readonly fromZero: number; readonly fromStart: number }[] {
  const chain = discretise(kernel);
  const settled = start === 'settled' ? settledDistribution(chain) : null;
  return shifts.map((shift) => {
    const runLengths = runLengthsFromStates(chain, shift);
    const fromZero = runLengthFrom(0, chain, shift, runLengths);
    if (settled) return { fromZero, fromStart: product(settled, runLengths) };
    const fromStart =
      start === 0 ? fromZero : runLengthFrom(start as number, chain, shift, runLengths);
    return { fromZero, fromStart };
  });
}
