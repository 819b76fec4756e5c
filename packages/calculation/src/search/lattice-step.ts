import { GrowingSums, GrowingWholes } from './growing-array.ts';
import { RowIndex, StateIndex } from './state-index.ts';

/** One way a factor can turn out: what it adds to the residuals, and its weight. */
export interface Term {
  readonly vector: readonly number[];
  readonly weight: number;
}

/** Everything that one independent part of a model can add to the residuals. */
export type Factor = readonly Term[];

/** A dimension that must come to a fixed sum, or `null` where any sum is kept apart. */
export type Target = readonly (number | null)[];

/** The partial sums after some factors, over the residuals that later factors still touch. */
export interface LevelStates {
  readonly width: number;
  /** Row by row, one value for each open residual. */
  readonly values: Int32Array;
  /** Scaled so that they sum to 1. */
  readonly weights: Float64Array;
}

/**
 * From where each residual of a level takes its value (-1 for nothing yet), and what each term adds to
 * it; the residuals that end here come after those that stay open, with the sum that they must reach.
 */
export interface Step {
  readonly from: Int32Array;
  readonly open: number;
  readonly sums: Int32Array;
  /** Places of the terms in their factor, the heaviest first. */
  readonly order: Int32Array;
  readonly weights: Float64Array;
  /** Weight of each term and all lighter ones together. */
  readonly weightsFrom: Float64Array;
  readonly added: Int32Array;
}

export function stepBetween(
  before: readonly number[],
  level: { readonly active: readonly number[]; readonly closed: readonly number[] },
  factor: Factor,
  target: Target,
): Step {
  const dimensions = [...level.active, ...level.closed];
  const order = [...factor.keys()].sort(
    (a, b) => (factor[b] as Term).weight - (factor[a] as Term).weight,
  );
  const weights = Float64Array.from(order, (at) => (factor[at] as Term).weight);
  const weightsFrom = Float64Array.from(weights);
  for (let at = weights.length - 2; at >= 0; at -= 1) {
    weightsFrom[at] = (weightsFrom[at] as number) + (weightsFrom[at + 1] as number);
  }
  return {
    from: Int32Array.from(dimensions, (dimension) => before.indexOf(dimension)),
    open: level.active.length,
    sums: Int32Array.from(level.closed, (dimension) => target[dimension] ?? 0),
    order: Int32Array.from(order),
    weights,
    weightsFrom,
    added: Int32Array.from(
      order.flatMap((at) =>
        dimensions.map((dimension) => (factor[at] as Term).vector[dimension] ?? 0),
      ),
    ),
  };
}

/** How rows of open residuals become keys: what is taken off each, and its weight in the key. */
interface Packing {
  readonly least: Int32Array;
  readonly strides: Float64Array;
  /** False where the keys would not fit a whole number. */
  readonly fits: boolean;
}

function packingOf(before: LevelStates, step: Step): Packing {
  const { open } = step;
  const places = step.from.length;
  const least = new Int32Array(open);
  const strides = new Float64Array(open);
  let size = 1;
  for (let place = 0; place < open; place += 1) {
    const from = step.from[place] as number;
    let low = 0;
    let high = 0;
    for (let state = 0; from >= 0 && state < before.weights.length; state += 1) {
      const value = before.values[state * before.width + from] as number;
      if (state === 0 || value < low) low = value;
      if (state === 0 || value > high) high = value;
    }
    let lowTerm = 0;
    let highTerm = 0;
    for (let term = 0; term < step.weights.length; term += 1) {
      const value = step.added[term * places + place] as number;
      lowTerm = Math.min(lowTerm, value);
      highTerm = Math.max(highTerm, value);
    }
    least[place] = low + lowTerm;
    strides[place] = size;
    size *= high + highTerm - low - lowTerm + 1;
  }
  return { least, strides, fits: size < 2 ** 52 };
}

/** A contribution this much below the least weight worth keeping cannot lift a state above it. */
const unseenPart = 1e-3;

/** From which state, by which term, to which state; -1 to one that was dropped. */
export interface Ways {
  readonly sources: Int32Array;
  readonly terms: Int32Array;
  readonly targets: Int32Array;
}

/** The states that a step comes to, and from where. */
interface Raw extends Ways {
  readonly values: Int32Array;
  readonly weights: Float64Array;
  /** Weight of what was not followed. */
  readonly dropped: number;
}

class StepRun {
  readonly #step: Step;
  readonly #packing: Packing;
  readonly #keys = new StateIndex();
  readonly #rows = new RowIndex();
  readonly #values = new GrowingWholes();
  readonly #weights = new GrowingSums();
  readonly #sources = new GrowingWholes();
  readonly #terms = new GrowingWholes();
  readonly #targets = new GrowingWholes();
  readonly #row: Int32Array;
  #dropped = 0;

  constructor(before: LevelStates, step: Step) {
    this.#step = step;
    this.#packing = packingOf(before, step);
    this.#row = new Int32Array(step.open);
  }

  /** Follows every term from a state, the heaviest first, until the rest is too light. */
  follow(state: number, weight: number, held: Int32Array, leastWeight: number): void {
    const { weights, weightsFrom, order } = this.#step;
    for (let term = 0; term < weights.length; term += 1) {
      const product = weight * (weights[term] as number);
      if (product < leastWeight * unseenPart) {
        this.#dropped += weight * (weightsFrom[term] as number);
        return;
      }
      const target = this.#stateBy(term, held);
      if (target < 0) continue;
      this.#weights.add(target, product);
      this.#sources.push(state);
      this.#terms.push(order[term] as number);
      this.#targets.push(target);
    }
  }

  /** The state to which a term leads, or -1 where a residual that ends misses its sum. */
  #stateBy(term: number, held: Int32Array): number {
    const { open, sums, added } = this.#step;
    const places = open + sums.length;
    const offset = term * places;
    for (let place = open; place < places; place += 1) {
      const sum = (held[place] as number) + (added[offset + place] as number);
      if (sum !== sums[place - open]) return -1;
    }
    const { least, strides, fits } = this.#packing;
    const row = this.#row;
    let key = 0;
    for (let place = 0; place < open; place += 1) {
      const value = (held[place] as number) + (added[offset + place] as number);
      row[place] = value;
      key += (value - (least[place] as number)) * (strides[place] as number);
    }
    const before = fits ? this.#keys.count : this.#rows.count;
    const found = fits ? this.#keys.numberOf(key) : this.#rows.numberOf(row);
    if (found === before) for (const value of row) this.#values.push(value);
    return found;
  }

  end(): Raw {
    const count = this.#packing.fits ? this.#keys.count : this.#rows.count;
    return {
      values: this.#values.all(),
      weights: this.#weights.first(count),
      sources: this.#sources.all(),
      terms: this.#terms.all(),
      targets: this.#targets.all(),
      dropped: this.#dropped,
    };
  }
}

export function runStep(before: LevelStates, step: Step, leastWeight: number): Raw {
  const run = new StepRun(before, step);
  const places = step.from.length;
  const held = new Int32Array(places);
  for (let state = 0; state < before.weights.length; state += 1) {
    for (let place = 0; place < places; place += 1) {
      const from = step.from[place] as number;
      held[place] = from < 0 ? 0 : (before.values[state * before.width + from] as number);
    }
    run.follow(state, before.weights[state] as number, held, leastWeight);
  }
  return run.end();
}

/** Drops what no end can make count and scales the rest to the sum 1. */
export function settled(raw: Raw, width: number, leastWeight: number) {
  const count = raw.weights.length;
  const kept = new Int32Array(count).fill(-1);
  const values = new GrowingWholes();
  const weights = new Float64Array(count);
  let total = 0;
  let dropped = raw.dropped;
  let at = 0;
  for (let state = 0; state < count; state += 1) {
    const weight = raw.weights[state] as number;
    if (!(weight > 0 && weight >= leastWeight)) {
      dropped += weight;
      continue;
    }
    kept[state] = at;
    weights[at] = weight;
    total += weight;
    at += 1;
    for (let place = 0; place < width; place += 1) {
      values.push(raw.values[state * width + place] as number);
    }
  }
  const states: LevelStates = {
    width,
    values: values.all(),
    weights: weights.slice(0, at).map((weight) => weight / total),
  };
  const { sources, terms } = raw;
  const targets = raw.targets.map((target) => kept[target] as number);
  return { states, ways: { sources, terms, targets }, total, dropped };
}
