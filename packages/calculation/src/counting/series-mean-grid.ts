import { requireDomain } from '../quantity/domain.ts';
import type { TubeEvidence } from './series-model.ts';

/** Mean piece mass before the first tube, and how far it may wander from tube to tube. */
export interface MeanPrior {
  readonly meanGrams: number;
  readonly variance: number;
  readonly driftVariance: number;
}

const reach = 7.5;
/** Steps of the grid in the least standard deviation that the mean will have. */
const stepShare = 0.5;
/** A drift should span at least this many steps; the step is made finer for it down to a least share. */
const leastDriftSteps = 1.1;
const leastStepShare = 0.08;
const mostSteps = 50_000;
/** Weights below this share of the greatest are left out. */
const leastShare = 1e-40;

/** Even grid of the mean piece mass, and how the drift spreads a weight over it. */
export interface Grid {
  readonly size: number;
  readonly step: number;
  /** Mean piece mass at the first place. */
  readonly origin: number;
  /** Weights of the drift over steps to either side; empty without drift. */
  readonly kernel: Float64Array;
  readonly tubesPerDrift: number;
}

/** Least variance of the mean along the series if every weighing were good. */
function leastVariance(tubes: readonly TubeEvidence[], prior: MeanPrior): number {
  let variance = prior.variance;
  let least = variance;
  for (const tube of tubes) {
    const square = tube.bookedPieces ** 2;
    if (square > 0) variance = 1 / (1 / variance + square / tube.variance);
    least = Math.min(least, variance);
    variance += prior.driftVariance;
  }
  return least;
}

/** Narrowest edge of a rounded reading, in grams of the mean piece mass. */
function narrowestEdge(tubes: readonly TubeEvidence[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const tube of tubes) {
    if (tube.roundedToGrams === null) continue;
    for (const { pieces, terms } of tube.hypotheses) {
      for (const term of terms) {
        if (pieces > 0) least = Math.min(least, Math.sqrt(term.variance) / pieces);
      }
    }
  }
  return least;
}

export function gridFor(tubes: readonly TubeEvidence[], prior: MeanPrior): Grid {
  const spread = Math.sqrt(prior.variance + tubes.length * prior.driftVariance);
  const least = Math.sqrt(leastVariance(tubes, prior));
  const drift = Math.sqrt(prior.driftVariance);
  const forDrift = drift === 0 ? Number.POSITIVE_INFINITY : drift / leastDriftSteps;
  const step = Math.min(
    stepShare * least,
    Math.max(leastStepShare * least, forDrift),
    0.7 * narrowestEdge(tubes),
  );
  const half = Math.ceil((reach * spread) / step);
  const size = 2 * half + 1;
  requireDomain(size <= mostSteps, {
    field: 'referenceMeanStandardUncertaintyGrams',
    value: Math.sqrt(prior.variance),
    accepted: `a better known mean piece mass: it would have to be followed over ${size} steps, ${mostSteps} at most`,
  });
  const grid = { size, step, origin: prior.meanGrams - half * step };
  if (drift === 0) return { ...grid, kernel: new Float64Array(0), tubesPerDrift: 1 };
  const tubesPerDrift = Math.max(1, Math.ceil(((leastDriftSteps * step) / drift) ** 2 - 1e-9));
  const width = (drift * Math.sqrt(tubesPerDrift)) / step;
  const arm = Math.ceil(reach * width);
  const kernel = Float64Array.from({ length: 2 * arm + 1 }, (_, k) =>
    Math.exp(-0.5 * ((k - arm) / width) ** 2),
  );
  const sum = total(kernel);
  for (let k = 0; k < kernel.length; k += 1) kernel[k] = (kernel[k] as number) / sum;
  return { ...grid, kernel, tubesPerDrift };
}

/** Weights of the mean piece mass on a stretch of the grid; nothing outside it. */
export interface Stretch {
  /** Place of the first value on the grid. */
  readonly first: number;
  readonly values: Float64Array;
}

/** Weights after the drift, on a stretch that reaches an arm of the kernel farther. */
export function spreadBy(grid: Grid, stretch: Stretch): Stretch {
  const { kernel } = grid;
  const arm = (kernel.length - 1) / 2;
  const size = stretch.values.length;
  const values = new Float64Array(size + 2 * arm);
  for (let from = 0; from < size; from += 1) {
    const value = stretch.values[from] as number;
    for (let k = 0; k < kernel.length; k += 1) {
      values[from + k] = (values[from + k] as number) + value * (kernel[k] as number);
    }
  }
  return trimmed(grid, { first: stretch.first - arm, values });
}

/** The part of a stretch that lies on the grid and is not negligible. */
export function trimmed(grid: Grid, stretch: Stretch): Stretch {
  const { values } = stretch;
  let greatest = 0;
  for (let k = 0; k < values.length; k += 1) greatest = Math.max(greatest, values[k] as number);
  const least = leastShare * greatest;
  let from = Math.max(0, -stretch.first);
  let to = Math.min(values.length, grid.size - stretch.first);
  while (from < to - 1 && (values[from] as number) < least) from += 1;
  while (to - 1 > from && (values[to - 1] as number) < least) to -= 1;
  return { first: stretch.first + from, values: values.subarray(from, to) };
}

/** Sum of all weights. */
export function total(values: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < values.length; k += 1) sum += values[k] as number;
  return sum;
}

/** Mean and variance of the mean piece mass under the weights of a stretch. */
export function momentsOf(grid: Grid, stretch: Stretch): { mean: number; variance: number } {
  const { values } = stretch;
  let [sum, first, second] = [0, 0, 0];
  const middle = values.length >> 1;
  for (let k = 0; k < values.length; k += 1) {
    const value = values[k] as number;
    const distance = k - middle;
    sum += value;
    first += value * distance;
    second += value * distance * distance;
  }
  const mean = first / sum;
  return {
    mean: grid.origin + (stretch.first + middle + mean) * grid.step,
    variance: (second / sum - mean * mean) * grid.step ** 2,
  };
}

/** Product of weights and a density on the same stretch, brought to sum 1, with the logarithm of the sum. */
export function absorb(stretch: Stretch, density: Float64Array): { next: Stretch; log: number } {
  const values = new Float64Array(density.length);
  let sum = 0;
  for (let k = 0; k < values.length; k += 1) {
    const value = (stretch.values[k] as number) * (density[k] as number);
    values[k] = value;
    sum += value;
  }
  // Where nothing is left the weights stay as they were, and the logarithm says so.
  if (sum === 0) return { next: stretch, log: Number.NEGATIVE_INFINITY };
  for (let k = 0; k < values.length; k += 1) values[k] = (values[k] as number) / sum;
  return { next: { first: stretch.first, values }, log: Math.log(sum) };
}

/** Weights of the mean piece mass before the first tube, with sum 1. */
export function priorWeights(grid: Grid, prior: MeanPrior): Stretch {
  const values = new Float64Array(grid.size);
  const half = (grid.size - 1) / 2;
  for (let k = 0; k < grid.size; k += 1) {
    values[k] = Math.exp((-0.5 * ((k - half) * grid.step) ** 2) / prior.variance);
  }
  const sum = total(values);
  for (let k = 0; k < grid.size; k += 1) values[k] = (values[k] as number) / sum;
  return { first: 0, values };
}

/** A stretch cut or filled with nothing to begin and end where another one does. */
export function fitted(stretch: Stretch, first: number, length: number): Stretch {
  if (stretch.first === first && stretch.values.length === length) return stretch;
  const values = new Float64Array(length);
  const from = Math.max(first, stretch.first);
  const to = Math.min(first + length, stretch.first + stretch.values.length);
  if (to > from) {
    values.set(stretch.values.subarray(from - stretch.first, to - stretch.first), from - first);
  }
  return { first, values };
}

/** Whether the drift acts between a tube and the one before it. */
export function movesBefore(grid: Grid, index: number): boolean {
  return index > 0 && grid.kernel.length > 0 && index % grid.tubesPerDrift === 0;
}
