import { bookedDensity, densitiesOf, type TubeDensities } from './series-densities.ts';
import {
  absorb,
  fitted,
  type Grid,
  gridFor,
  type MeanPrior,
  momentsOf,
  movesBefore,
  priorWeights,
  type Stretch,
  spreadBy,
  total,
  trimmed,
} from './series-mean-grid.ts';
import type { TubeEvidence } from './series-model.ts';

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

function dot(left: Float64Array, right: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < right.length; k += 1) sum += (left[k] as number) * (right[k] as number);
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
