import erfc from '@stdlib/math-base-special-erfc';
import { requireDomain } from '../quantity/domain.ts';
import type { CountHypothesis, ReadingTerm, TubeEvidence } from './series-model.ts';

/** Mean piece mass before the first tube, and how far it may wander from tube to tube. */
export interface MeanPrior {
  readonly meanGrams: number;
  readonly variance: number;
  readonly driftVariance: number;
}

/** Probabilities of one tube: of each count, of each count by a good weighing, of bad weighings only. */
export interface TubeProbabilities {
  readonly counts: readonly number[];
  readonly weighed: readonly number[];
  readonly bad: number;
}

/** Result of a pass over a series with the spread of the pieces known. */
export interface SeriesPass {
  /** From the tubes up to each one. */
  readonly live: readonly TubeProbabilities[];
  /** From all tubes. */
  readonly afterwards: readonly TubeProbabilities[];
  /** Mean piece mass before and after each tube, as the tubes up to it tell. */
  readonly before: readonly { readonly mean: number; readonly variance: number }[];
  readonly after: readonly { readonly mean: number; readonly variance: number }[];
  /** Logarithm of the density of the readings up to each tube. */
  readonly logEvidence: readonly number[];
  /** The same for all tubes with every count as booked. */
  readonly bookedLogEvidence: number;
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
const sqrtHalf = Math.SQRT1_2;

interface Grid {
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

function gridFor(tubes: readonly TubeEvidence[], prior: MeanPrior): Grid {
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
interface Stretch {
  /** Place of the first value on the grid. */
  readonly first: number;
  readonly values: Float64Array;
}

/** Weights after the drift, on a stretch that reaches an arm of the kernel farther. */
function spreadBy(grid: Grid, stretch: Stretch): Stretch {
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
function trimmed(grid: Grid, stretch: Stretch): Stretch {
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

/** Greatest logarithm of a term over a stretch. */
function peakLog(term: ReadingTerm, pieces: number, grid: Grid, stretch: Stretch): number {
  const low = pieces * (grid.origin + stretch.first * grid.step);
  const high = low + pieces * (stretch.values.length - 1) * grid.step;
  const distance = Math.max(0, low - term.netGrams, term.netGrams - high);
  return term.logWeight - 0.5 * (distance ** 2 / term.variance + Math.log(term.variance));
}

const halfLogTwoPi = 0.5 * Math.log(2 * Math.PI);
/** Terms this far below the greatest do not matter. */
const negligible = 80;

/** Adds the density of the net mass at each mean piece mass of a stretch, over e to the power of scale. */
function addTerm(
  term: ReadingTerm,
  hypothesis: CountHypothesis,
  into: { readonly values: Float64Array; readonly start: number; readonly step: number },
  at: { readonly scale: number; readonly rounded: number | null },
): void {
  const { values } = into;
  const { pieces } = hypothesis;
  const base = term.logWeight + hypothesis.logPrior - at.scale;
  const origin = term.netGrams - pieces * into.start;
  const perStep = pieces * into.step;
  if (at.rounded !== null) {
    const factor = sqrtHalf / Math.sqrt(term.variance);
    const weight = 0.5 * Math.exp(base);
    const width = at.rounded * factor;
    for (let k = 0; k < values.length; k += 1) {
      const inner = Math.abs(origin - perStep * k) * factor - width / 2;
      if (inner > 27) continue;
      values[k] = (values[k] as number) + weight * (erfc(inner) - erfc(inner + width));
    }
    return;
  }
  const log = base - halfLogTwoPi - 0.5 * Math.log(term.variance);
  const factor = 0.5 / term.variance;
  for (let k = 0; k < values.length; k += 1) {
    const distance = origin - perStep * k;
    values[k] = (values[k] as number) + Math.exp(log - factor * distance * distance);
  }
}

/** Densities of one tube over a stretch, for each count by a good weighing; scaled by a common factor. */
interface TubeDensities {
  readonly first: number;
  readonly scale: number;
  readonly good: readonly Float64Array[];
  /** Over all counts, bad weighings included. */
  readonly all: Float64Array;
  /** Weight of bad weighings only, before the prior of the counts. */
  readonly bad: number;
}

const emptyDensity = new Float64Array(0);

function densitiesOf(tube: TubeEvidence, grid: Grid, stretch: Stretch): TubeDensities {
  const logs = tube.hypotheses.map((hypothesis) =>
    hypothesis.terms.reduce(
      (greatest, term) =>
        Math.max(greatest, peakLog(term, hypothesis.pieces, grid, stretch) + hypothesis.logPrior),
      Number.NEGATIVE_INFINITY,
    ),
  );
  const scale = Math.max(tube.badLogWeight, ...logs);
  const bad = Math.exp(tube.badLogWeight - scale);
  const size = stretch.values.length;
  const all = new Float64Array(size).fill(bad);
  const start = grid.origin + stretch.first * grid.step;
  const good = tube.hypotheses.map((hypothesis, index) => {
    if ((logs[index] as number) < scale - negligible) return emptyDensity;
    const values = new Float64Array(size);
    for (const term of hypothesis.terms) {
      addTerm(
        term,
        hypothesis,
        { values, start, step: grid.step },
        { scale, rounded: tube.roundedToGrams },
      );
    }
    for (let k = 0; k < size; k += 1) all[k] = (all[k] as number) + (values[k] as number);
    return values;
  });
  return { first: stretch.first, scale, good, all, bad };
}

function dot(left: Float64Array, right: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < right.length; k += 1) sum += (left[k] as number) * (right[k] as number);
  return sum;
}

function total(values: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < values.length; k += 1) sum += values[k] as number;
  return sum;
}

/** Probabilities of a tube given a weight of each mean piece mass from the other tubes. */
function probabilitiesOf(
  tube: TubeEvidence,
  densities: TubeDensities,
  weights: Float64Array,
): TubeProbabilities {
  const whole = dot(weights, densities.all);
  const bad = (densities.bad * total(weights)) / whole;
  const weighed = densities.good.map((values) => dot(weights, values) / whole);
  return {
    weighed,
    counts: weighed.map(
      (value, index) => value + bad * Math.exp(tube.hypotheses[index]?.logPrior ?? -Infinity),
    ),
    bad,
  };
}

function momentsOf(grid: Grid, stretch: Stretch): { mean: number; variance: number } {
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
function absorb(stretch: Stretch, density: Float64Array): { next: Stretch; log: number } {
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

function priorWeights(grid: Grid, prior: MeanPrior): Stretch {
  const values = new Float64Array(grid.size);
  const half = (grid.size - 1) / 2;
  for (let k = 0; k < grid.size; k += 1) {
    values[k] = Math.exp((-0.5 * ((k - half) * grid.step) ** 2) / prior.variance);
  }
  const sum = total(values);
  for (let k = 0; k < grid.size; k += 1) values[k] = (values[k] as number) / sum;
  return { first: 0, values };
}

/** The density with the count as booked: bad weighings with the prior of that count, and good ones. */
function bookedDensity(tube: TubeEvidence, densities: TubeDensities): Float64Array {
  const index = tube.hypotheses.findIndex(({ pieces }) => pieces === tube.bookedPieces);
  const bad = densities.bad * Math.exp(tube.hypotheses[index]?.logPrior ?? -Infinity);
  const good = densities.good[index] ?? emptyDensity;
  const values = new Float64Array(densities.all.length).fill(bad);
  for (let k = 0; k < good.length; k += 1) values[k] = (values[k] as number) + (good[k] as number);
  return values;
}

/** A stretch cut or filled with nothing to begin and end where another one does. */
function fitted(stretch: Stretch, first: number, length: number): Stretch {
  if (stretch.first === first && stretch.values.length === length) return stretch;
  const values = new Float64Array(length);
  const from = Math.max(first, stretch.first);
  const to = Math.min(first + length, stretch.first + stretch.values.length);
  if (to > from) {
    values.set(stretch.values.subarray(from - stretch.first, to - stretch.first), from - first);
  }
  return { first, values };
}

/**
 * Counts of a series of tubes together with the mean piece mass that they share, followed over a grid of
 * that mean from tube to tube and back.
 *
 * Formula: p(mean | tubes up to t) ∝ p(mean | tubes before t)·Σ_n prior(n)·L_t(n, mean), moved on by the
 * normal drift between tubes; the same backwards; the probability of a count is the integral of
 * forward·backward·prior(n)·L_t(n, mean) over the mean. Sums over an even grid, whose error for normal
 * densities falls faster than any power of the step.
 *
 * @param tubes evidence of 1 or more tubes in the order weighed
 * @param prior mean piece mass, its variance above 0, drift variance 0 or more
 * @returns probabilities tube by tube, the mean along the series, evidence
 * @throws DomainError where the grid would be too large
 * Validity: exact but for a grid error below 1e-9; a drift narrower than a step of the grid is gathered
 * over several tubes. Held against the closed normal recursion and simulation in laws/counting-series.
 * Source: forward and backward recursion, L. E. Baum et al. (1970), Annals of Mathematical Statistics 41,
 * 164-171; trapezoidal rule for analytic functions, L. N. Trefethen and J. A. C. Weideman (2014), SIAM
 * Review 56, 385-458
 */
export function followSeries(tubes: readonly TubeEvidence[], prior: MeanPrior): SeriesPass {
  const grid = gridFor(tubes, prior);
  const densities: TubeDensities[] = [];
  const forward: Stretch[] = [];
  const live: TubeProbabilities[] = [];
  const before: { mean: number; variance: number }[] = [];
  const after: { mean: number; variance: number }[] = [];
  const logEvidence: number[] = [];
  let weights = priorWeights(grid, prior);
  let booked = weights;
  let sum = 0;
  let bookedLogEvidence = 0;
  for (const [index, tube] of tubes.entries()) {
    const moves = movesBefore(grid, index);
    weights = moves ? spreadBy(grid, weights) : trimmed(grid, weights);
    booked = moves ? spreadBy(grid, booked) : booked;
    const found = densitiesOf(tube, grid, weights);
    densities.push(found);
    forward.push(weights);
    before.push(momentsOf(grid, weights));
    live.push(probabilitiesOf(tube, found, weights.values));
    const kept = fitted(booked, weights.first, weights.values.length);
    const asBooked = absorb(kept, bookedDensity(tube, found));
    bookedLogEvidence += found.scale + asBooked.log;
    booked = asBooked.next;
    const next = absorb(weights, found.all);
    sum += found.scale + next.log;
    weights = next.next;
    logEvidence.push(sum);
    after.push(momentsOf(grid, weights));
  }
  const afterwards = goBack(tubes, grid, densities, forward);
  return { live, afterwards, before, after, logEvidence, bookedLogEvidence };
}

/** Whether the drift acts between a tube and the one before it. */
function movesBefore(grid: Grid, index: number): boolean {
  return index > 0 && grid.kernel.length > 0 && index % grid.tubesPerDrift === 0;
}

function goBack(
  tubes: readonly TubeEvidence[],
  grid: Grid,
  densities: readonly TubeDensities[],
  forward: readonly Stretch[],
): TubeProbabilities[] {
  const result = new Array<TubeProbabilities>(tubes.length);
  const last = forward[tubes.length - 1] as Stretch;
  let backward: Stretch = {
    first: last.first,
    values: new Float64Array(last.values.length).fill(1),
  };
  for (let index = tubes.length - 1; index >= 0; index -= 1) {
    const density = densities[index] as TubeDensities;
    const ahead = forward[index] as Stretch;
    const back = fitted(backward, ahead.first, ahead.values.length);
    const both = absorb(back, ahead.values).next;
    result[index] = probabilitiesOf(tubes[index] as TubeEvidence, density, both.values);
    const next = absorb(back, density.all).next;
    // The kernel is symmetric, so that the way back is spread as the way forth.
    backward = movesBefore(grid, index) ? spreadBy(grid, next) : next;
  }
  return result;
}
