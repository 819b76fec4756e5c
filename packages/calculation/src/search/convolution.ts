/** One way a factor can turn out: what it adds to the residuals, and its weight. */
export interface Term {
  readonly vector: readonly number[];
  readonly weight: number;
}

/** Everything that one independent part of a model can add to the residuals. */
export type Factor = readonly Term[];

/** The partial sums after some factors, over the residuals that later factors still touch. */
interface Level {
  readonly active: readonly number[];
  /** Row by row, one value for each active residual. */
  readonly values: Int32Array;
  /** Scaled so that they sum to 1. */
  readonly weights: Float64Array;
  /** From each state of the level before, by each term: the state here, or -1. */
  readonly targets: Int32Array;
  readonly logScale: number;
}

/** A product of factors, convolved from the first to the last, ready to be read backwards. */
export interface Convolution {
  readonly factors: readonly Factor[];
  readonly levels: readonly Level[];
  /** Natural logarithm of the sum over all combinations that fit; minus infinity when none fits. */
  readonly logTotal: number;
}

/** Logarithm of the sum of the weights of a factor. */
export const logSum = (factor: Factor): number =>
  Math.log(factor.reduce((sum, { weight }) => sum + weight, 0));

/** A dimension that must come to a fixed sum, or `null` where any sum is kept apart. */
export type Target = readonly (number | null)[];

const touches = (factor: Factor, dimension: number): boolean =>
  factor.some(({ vector }) => vector[dimension] !== 0);

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

/** Finds the state of given values, or makes it; short keys are numbers, long ones text. */
class States {
  readonly values: number[] = [];
  readonly weights: number[] = [];
  readonly #index = new Map<number | string, number>();
  readonly #width: number;
  readonly #half: number;
  readonly #radix: number;

  constructor(width: number) {
    this.#width = width;
    this.#radix = width === 0 ? 1 : 2 ** Math.floor(52 / width);
    this.#half = this.#radix / 2;
  }

  add(row: readonly number[], weight: number): number {
    const key = this.#keyOf(row);
    const found = this.#index.get(key);
    if (found !== undefined) {
      this.weights[found] = (this.weights[found] ?? 0) + weight;
      return found;
    }
    const at = this.weights.length;
    this.#index.set(key, at);
    this.weights.push(weight);
    for (const value of row) this.values.push(value);
    return at;
  }

  #keyOf(row: readonly number[]): number | string {
    let key = 0;
    for (let at = 0; at < this.#width; at += 1) {
      const value = (row[at] ?? 0) + this.#half;
      if (value < 0 || value >= this.#radix) return row.join(' ');
      key = key * this.#radix + value;
    }
    return key;
  }
}

/**
 * From where each residual of a level takes its value (-1 for nothing yet), and what each term adds to
 * it; the residuals that end here come after those that stay open, with the sum that they must reach.
 */
interface Step {
  readonly from: Int32Array;
  readonly open: number;
  readonly sums: readonly number[];
  readonly added: Int32Array;
}

function stepBetween(
  before: readonly number[],
  level: { readonly active: readonly number[]; readonly closed: readonly number[] },
  factor: Factor,
  target: Target,
): Step {
  const dimensions = [...level.active, ...level.closed];
  return {
    from: Int32Array.from(dimensions, (dimension) => before.indexOf(dimension)),
    open: level.active.length,
    sums: level.closed.map((dimension) => target[dimension] ?? 0),
    added: Int32Array.from(
      factor.flatMap(({ vector }) => dimensions.map((dimension) => vector[dimension] ?? 0)),
    ),
  };
}

/** A contribution this much below the least weight worth keeping cannot lift a state above it. */
const unseenPart = 1e-3;

function convolveLevel(before: Level, factor: Factor, step: Step, leastLog: number) {
  const width = before.active.length;
  const count = before.weights.length;
  const terms = factor.length;
  const places = step.from.length;
  const leastWeight = Math.exp(leastLog);
  const states = new States(step.open);
  const targets = new Int32Array(count * terms).fill(-1);
  const held = new Int32Array(places);
  const row = new Array<number>(step.open).fill(0);
  for (let state = 0; state < count; state += 1) {
    const weight = before.weights[state] as number;
    for (let place = 0; place < places; place += 1) {
      const from = step.from[place] as number;
      held[place] = from < 0 ? 0 : (before.values[state * width + from] as number);
    }
    for (let term = 0; term < terms; term += 1) {
      const product = weight * (factor[term] as Term).weight;
      if (product < leastWeight * unseenPart) continue;
      let fits = true;
      for (let place = step.open; place < places && fits; place += 1) {
        const sum = (held[place] as number) + (step.added[term * places + place] as number);
        fits = sum === step.sums[place - step.open];
      }
      if (!fits) continue;
      for (let place = 0; place < step.open; place += 1) {
        row[place] = (held[place] as number) + (step.added[term * places + place] as number);
      }
      targets[state * terms + term] = states.add(row, product);
    }
  }
  return { states, targets, leastWeight };
}

/** Drops what no end can make count and scales the rest to the sum 1. */
function settled(raw: {
  readonly active: readonly number[];
  readonly states: States;
  readonly targets: Int32Array;
  readonly leastWeight: number;
}): Level {
  const { active, states, targets, leastWeight } = raw;
  const total = states.weights.reduce((sum, weight) => sum + weight, 0);
  const kept = new Int32Array(states.weights.length).fill(-1);
  const values: number[] = [];
  const weights: number[] = [];
  for (let state = 0; state < kept.length; state += 1) {
    const weight = states.weights[state] as number;
    if (!(weight > 0 && weight >= leastWeight)) continue;
    kept[state] = weights.length;
    weights.push(weight / total);
    for (let at = 0; at < active.length; at += 1) {
      values.push(states.values[state * active.length + at] ?? 0);
    }
  }
  for (let at = 0; at < targets.length; at += 1) {
    const target = targets[at] as number;
    if (target >= 0) targets[at] = kept[target] as number;
  }
  return {
    active,
    values: Int32Array.from(values),
    weights: Float64Array.from(weights),
    targets,
    logScale: Math.log(total),
  };
}

/**
 * Convolves independent factors on the lattice of residuals, in the order given: the sum of the
 * weights of every combination of terms whose vectors add up to the target. A residual is dropped
 * as soon as no later factor touches it, so that only few are open at a time. `logFloor` is the
 * logarithm of the least weight worth keeping: a partial sum that stays below it even when
 * everything that is left is added, fitting or not, is dropped.
 */
export function convolve(
  factors: readonly Factor[],
  target: Target,
  logFloor = Number.NEGATIVE_INFINITY,
): Convolution {
  const last = target.map((_, dimension) =>
    factors.findLastIndex((factor) => touches(factor, dimension)),
  );
  const first = target.map((_, dimension) =>
    factors.findIndex((factor) => touches(factor, dimension)),
  );
  const neverReached = target.some((sum, at) => sum !== null && sum !== 0 && last[at] === -1);
  const start: Level = {
    active: [],
    values: new Int32Array(0),
    weights: Float64Array.of(1),
    targets: new Int32Array(0),
    logScale: 0,
  };
  const levels = [start];
  let logScale = 0;
  let logRest = factors.reduce((sum, factor) => sum + logSum(factor), 0);
  for (const [at, factor] of factors.entries()) {
    const before = levels[at] as Level;
    const isOpen = (sum: number | null, dimension: number): boolean =>
      (first[dimension] ?? -1) >= 0 &&
      (first[dimension] ?? 0) <= at &&
      (sum === null || (last[dimension] ?? -1) > at);
    const active = target.flatMap((sum, dimension) => (isOpen(sum, dimension) ? [dimension] : []));
    const closed = target.flatMap((sum, dimension) =>
      sum !== null && last[dimension] === at ? [dimension] : [],
    );
    logRest -= logSum(factor);
    const step = stepBetween(before.active, { active, closed }, factor, target);
    const raw = convolveLevel(before, factor, step, logFloor - logRest - logScale);
    const level = settled({ active, ...raw });
    logScale += level.logScale;
    levels.push(level);
  }
  const logTotal = neverReached ? Number.NEGATIVE_INFINITY : logScale;
  return { factors, levels, logTotal };
}

/**
 * The probability of each term of each factor, given that the sums come out as they did. `ends`
 * weighs the states of the last level; without it each counts as it is.
 */
export function termProbabilities(
  convolution: Convolution,
  ends?: (values: readonly number[]) => number,
): readonly (readonly number[])[] {
  const { factors, levels } = convolution;
  const end = levels.at(-1) as Level;
  const width = end.active.length;
  let backward: Float64Array = Float64Array.from(end.weights, (_, state) =>
    ends ? ends([...end.values.subarray(state * width, (state + 1) * width)]) : 1,
  );
  const found = new Array<readonly number[]>(factors.length);
  for (let at = factors.length - 1; at >= 0; at -= 1) {
    const factor = factors[at] as Factor;
    const before = levels[at] as Level;
    const { targets } = levels[at + 1] as Level;
    const earlier = new Float64Array(before.weights.length);
    const shares = new Float64Array(factor.length);
    for (let state = 0; state < earlier.length; state += 1) {
      const weight = before.weights[state] ?? 0;
      let sum = 0;
      for (let term = 0; term < factor.length; term += 1) {
        const target = targets[state * factor.length + term] ?? -1;
        if (target < 0) continue;
        const part = (factor[term]?.weight ?? 0) * (backward[target] ?? 0);
        sum += part;
        shares[term] = (shares[term] ?? 0) + weight * part;
      }
      earlier[state] = sum;
    }
    const total = shares.reduce((sum, share) => sum + share, 0);
    found[at] = Array.from(shares, (share) => (total > 0 ? share / total : 0));
    const greatest = earlier.reduce((most, value) => Math.max(most, value), 0);
    backward = earlier.map((value) => (greatest > 0 ? value / greatest : 0));
  }
  return found;
}

/** The sums that a product of factors along one line can come to, with their weights scaled by `logScale`. */
export function lineSums(convolution: Convolution): {
  readonly sums: readonly { readonly sum: number; readonly weight: number }[];
  readonly logScale: number;
} {
  const end = convolution.levels.at(-1) as Level;
  const sums = Array.from(end.weights, (weight, state) => ({
    sum: end.values[state] ?? 0,
    weight,
  }));
  return { sums, logScale: convolution.logTotal };
}
