import { logOfSum } from '../quantity/log-sum.ts';
import {
  type Factor,
  type LevelStates,
  runStep,
  settled,
  stepBetween,
  type Target,
  type Ways,
} from './lattice-step.ts';

/** How a factor led from the states before it to those after it. */
interface Level {
  readonly weightsBefore: Float64Array;
  readonly ways: Ways;
}

/** A product of factors, convolved from the first to the last, ready to be read backwards. */
export interface Convolution {
  readonly factors: readonly Factor[];
  readonly levels: readonly Level[];
  /** The states at the end: one alone when every residual has a target. */
  readonly end: LevelStates;
  /** Natural logarithm of the sum over all combinations that fit; minus infinity when none fits. */
  readonly logTotal: number;
  /** Logarithm of what the combinations that were not followed can weigh at most. */
  readonly logDropped: number;
}

/** Logarithm of the sum of the weights of a factor. */
export const logSum = (factor: Factor): number =>
  Math.log(factor.reduce((sum, { weight }) => sum + weight, 0));

const touches = (factor: Factor, dimension: number): boolean =>
  factor.some(({ vector }) => (vector[dimension] ?? 0) !== 0);

/**
 * An order of the factors in which few residuals are open at any time: the residual whose factors
 * open the fewest others is closed next.
 */
export function eliminationOrder(factors: readonly Factor[], dimensions: number): number[] {
  const touched = factors.map((factor) =>
    Array.from({ length: dimensions }, (_, at) => at).filter((at) => touches(factor, at)),
  );
  const open = new Set<number>();
  const left = new Set(Array.from({ length: dimensions }, (_, at) => at));
  const waiting = new Set(factors.keys());
  const order: number[] = [];
  while (left.size > 0) {
    const opened = (dimension: number): Set<number> =>
      new Set(
        [...waiting].flatMap((at) => {
          const own = touched[at] ?? [];
          return own.includes(dimension) ? own.filter((one) => !open.has(one)) : [];
        }),
      );
    const costs = [...left].map((dimension) => ({ dimension, new: opened(dimension) }));
    costs.sort(
      (a, b) =>
        a.new.size - Number(open.has(a.dimension)) - (b.new.size - Number(open.has(b.dimension))),
    );
    const [best] = costs;
    if (!best) break;
    left.delete(best.dimension);
    for (const one of best.new) open.add(one);
    for (const at of [...waiting]) {
      if (!(touched[at] ?? []).includes(best.dimension)) continue;
      order.push(at);
      waiting.delete(at);
    }
    open.delete(best.dimension);
  }
  return [...order, ...waiting];
}

/** Which residuals are open after a factor, and which end with it. */
function residualsAt(factors: readonly Factor[], target: Target) {
  const ends = target.map((_, dimension) => ({
    first: factors.findIndex((factor) => touches(factor, dimension)),
    last: factors.findLastIndex((factor) => touches(factor, dimension)),
  }));
  const neverReached = target.some((sum, at) => sum !== null && sum !== 0 && ends[at]?.last === -1);
  const at = (place: number) => {
    const active: number[] = [];
    const closed: number[] = [];
    for (const [dimension, sum] of target.entries()) {
      const { first, last } = ends[dimension] as { first: number; last: number };
      if (first < 0 || first > place) continue;
      if (sum === null || last > place) active.push(dimension);
      else if (last === place) closed.push(dimension);
    }
    return { active, closed };
  };
  return { neverReached, at };
}

/**
 * Convolves independent factors on the lattice of residuals, in the order given: the sum of the
 * weights of every combination of terms whose vectors add up to the target. A residual is dropped
 * as soon as no later factor touches it, so that only few are open at a time. `logFloor` is the
 * logarithm of the least weight worth keeping: a partial sum that stays below it even when
 * everything that is left is added, fitting or not, is dropped; what was dropped so is bounded.
 */
export function convolve(
  factors: readonly Factor[],
  target: Target,
  logFloor = Number.NEGATIVE_INFINITY,
): Convolution {
  const residuals = residualsAt(factors, target);
  let states: LevelStates = {
    width: 0,
    values: new Int32Array(0),
    weights: Float64Array.of(1),
  };
  let active: readonly number[] = [];
  const levels: Level[] = [];
  const logDropped: number[] = [];
  let logScale = 0;
  let logRest = factors.reduce((sum, factor) => sum + logSum(factor), 0);
  for (const [at, factor] of factors.entries()) {
    const next = residuals.at(at);
    logRest -= logSum(factor);
    const step = stepBetween(active, next, factor, target);
    const leastWeight = Math.exp(logFloor - logRest - logScale);
    const raw = runStep(states, step, leastWeight);
    const level = settled(raw, next.active.length, leastWeight);
    levels.push({ weightsBefore: states.weights, ways: level.ways });
    logDropped.push(Math.log(level.dropped) + logScale + logRest);
    logScale += Math.log(level.total);
    ({ states } = level);
    ({ active } = next);
  }
  return {
    factors,
    levels,
    end: states,
    logTotal: residuals.neverReached ? Number.NEGATIVE_INFINITY : logScale,
    logDropped: logOfSum(logDropped),
  };
}

/**
 * The probability of each term of each factor, given that the sums come out as they did. `ends`
 * weighs the states of the last level; without it each counts as it is.
 */
export function termProbabilities(
  convolution: Convolution,
  ends?: (values: readonly number[]) => number,
): readonly (readonly number[])[] {
  const { factors, levels, end } = convolution;
  const { width } = end;
  let backward: Float64Array = Float64Array.from(end.weights, (_, state) =>
    ends ? ends([...end.values.subarray(state * width, (state + 1) * width)]) : 1,
  );
  const found = new Array<readonly number[]>(factors.length);
  for (let at = factors.length - 1; at >= 0; at -= 1) {
    const { weightsBefore, ways } = levels[at] as Level;
    const weights = Float64Array.from(factors[at] as Factor, (term) => term.weight);
    const earlier = new Float64Array(weightsBefore.length);
    const shares = new Float64Array(weights.length);
    for (let way = 0; way < ways.targets.length; way += 1) {
      const target = ways.targets[way] as number;
      if (target < 0) continue;
      const source = ways.sources[way] as number;
      const term = ways.terms[way] as number;
      const part = (weights[term] as number) * (backward[target] as number);
      earlier[source] = (earlier[source] as number) + part;
      shares[term] = (shares[term] as number) + (weightsBefore[source] as number) * part;
    }
    const total = shares.reduce((sum, share) => sum + share, 0);
    found[at] = Array.from(shares, (share) => (total > 0 ? share / total : 0));
    const greatest = earlier.reduce((most, value) => Math.max(most, value), 0);
    backward = earlier.map((value) => (greatest > 0 ? value / greatest : 0));
  }
  return found;
}
