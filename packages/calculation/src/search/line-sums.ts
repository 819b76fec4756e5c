import type { FaultVariable } from './fault-model.ts';

/** Options of a variable along one line: how many of the shortest step each is, and its weight. */
export interface LineMember {
  readonly multiples: readonly number[];
  readonly weights: readonly number[];
  readonly least: number;
  readonly most: number;
  /** Logarithm of all that it can weigh. */
  readonly logAll: number;
}

/** A member from a variable and the multiples of its options. */
export function lineMember(variable: FaultVariable, multiples: readonly number[]): LineMember {
  const weights = variable.options.map(({ weight }) => weight);
  return {
    multiples,
    weights,
    least: Math.min(0, ...multiples),
    most: Math.max(0, ...multiples),
    logAll: Math.log(weights.reduce((sum, weight) => sum + weight, 1)),
  };
}

/** Windows of sums one after another in one array: thousands of small ones would each cost more than they hold. */
class Windows {
  #weights = new Float64Array(4096);
  readonly #offsets: number[] = [];
  readonly #lows: number[] = [];
  #end = 0;

  get count(): number {
    return this.#lows.length;
  }

  low(at: number): number {
    return this.#lows[at] as number;
  }

  weights(at: number): Float64Array {
    return this.#weights.subarray(this.#offsets[at], this.#offsets[at + 1] ?? this.#end);
  }

  /** Adds the part of some sums from one place to another, divided by a total. */
  add(low: number, sums: Float64Array, part: { from: number; to: number; total: number }): void {
    const length = part.to - part.from;
    if (this.#end + length > this.#weights.length) {
      const larger = new Float64Array(2 * (this.#end + length));
      larger.set(this.#weights);
      this.#weights = larger;
    }
    this.#offsets.push(this.#end);
    this.#lows.push(low + part.from);
    for (let at = 0; at < length; at += 1) {
      this.#weights[this.#end + at] = (sums[part.from + at] as number) / part.total;
    }
    this.#end += length;
  }
}

/** The members of a line, summed one after another. */
export interface LineSums {
  readonly members: readonly LineMember[];
  /** Before the first member, after it, after the second and so on; each scaled to the sum 1. */
  readonly windows: Windows;
  readonly logScale: number;
  /** Logarithm of what the sums that were dropped can weigh at most. */
  readonly logDropped: number;
}

/** Adds a member to a window; answers the sums from `low + least` on. */
function summed(window: Float64Array, member: LineMember, scratch: Float64Array): Float64Array {
  const { multiples, weights, least, most } = member;
  const values = scratch.subarray(0, window.length + most - least).fill(0);
  for (let at = 0; at < window.length; at += 1) {
    const weight = window[at] as number;
    values[at - least] = (values[at - least] as number) + weight;
    for (let option = 0; option < multiples.length; option += 1) {
      const place = at - least + (multiples[option] as number);
      values[place] = (values[place] as number) + weight * (weights[option] as number);
    }
  }
  return values;
}

/** Where sums begin and end that are not too light, their total, and what is cut off. */
function trimmed(values: Float64Array, leastWeight: number) {
  let from = 0;
  let to = values.length;
  let dropped = 0;
  let total = 0;
  while (from < to - 1 && (values[from] as number) < leastWeight) {
    dropped += values[from] as number;
    from += 1;
  }
  while (to > from + 1 && (values[to - 1] as number) < leastWeight) {
    to -= 1;
    dropped += values[to] as number;
  }
  for (let at = from; at < to; at += 1) total += values[at] as number;
  return { from, to, total, dropped };
}

/**
 * Sums of members along one line. `logFloor` is the logarithm of the least weight worth keeping: an end of
 * the window that stays below it whatever is added is cut off.
 */
export function lineSums(members: readonly LineMember[], logFloor: number): LineSums {
  const windows = new Windows();
  windows.add(0, Float64Array.of(1), { from: 0, to: 1, total: 1 });
  const widest = members.reduce((sum, { least, most }) => sum + most - least, 1);
  const scratch = new Float64Array(widest);
  let logRest = members.reduce((sum, { logAll }) => sum + logAll, 0);
  let logScale = 0;
  let dropped = 0;
  for (const [at, member] of members.entries()) {
    logRest -= member.logAll;
    const values = summed(windows.weights(at), member, scratch);
    const part = trimmed(values, Math.exp(logFloor - logRest - logScale));
    dropped += part.dropped * Math.exp(logScale + logRest);
    logScale += Math.log(part.total);
    windows.add(windows.low(at) + member.least, values, part);
  }
  return { members, windows, logScale, logDropped: Math.log(dropped) };
}

/** What the sums after a member weigh, by the sum: in an array that begins at `low`. */
interface After {
  readonly low: number;
  readonly values: Float64Array;
}

/** Reads a member between the sums before and after it; writes what the sums before weigh. */
function readBackwards(
  after: After,
  window: { readonly low: number; readonly weights: Float64Array },
  member: LineMember,
  before: Float64Array,
): readonly number[] {
  const { multiples, weights } = member;
  const shares = multiples.map(() => 0);
  let total = 0;
  let greatest = 0;
  for (let place = 0; place < window.weights.length; place += 1) {
    const at = window.low + place - after.low;
    const weight = window.weights[place] as number;
    let all = after.values[at] ?? 0;
    for (let option = 0; option < multiples.length; option += 1) {
      const ahead = after.values[at + (multiples[option] as number)] ?? 0;
      const part = (weights[option] as number) * ahead;
      all += part;
      shares[option] = (shares[option] as number) + weight * part;
    }
    before[place] = all;
    total += weight * all;
    greatest = Math.max(greatest, all);
  }
  for (let place = 0; place < window.weights.length && greatest > 0; place += 1) {
    before[place] = (before[place] as number) / greatest;
  }
  return total > 0 ? shares.map((share) => share / total) : shares;
}

/** The probability of each option of each member, given how the sums at the end are weighed. */
export function lineProbabilities(
  sums: LineSums,
  ends: (sum: number) => number,
): readonly (readonly number[])[] {
  const { members, windows } = sums;
  const last = windows.count - 1;
  const widest = Array.from({ length: windows.count }, (_, at) => windows.weights(at).length);
  const length = widest.reduce((most, one) => Math.max(most, one), 0);
  const scratch = [new Float64Array(length), new Float64Array(length)] as const;
  let after: After = {
    low: windows.low(last),
    values: Float64Array.from(windows.weights(last), (_, at) => ends(windows.low(last) + at)),
  };
  const found = new Array<readonly number[]>(members.length);
  for (let at = members.length - 1; at >= 0; at -= 1) {
    const window = { low: windows.low(at), weights: windows.weights(at) };
    const before = (scratch[at % 2] as Float64Array).subarray(0, window.weights.length);
    found[at] = readBackwards(after, window, members[at] as LineMember, before);
    after = { low: window.low, values: before };
  }
  return found;
}
