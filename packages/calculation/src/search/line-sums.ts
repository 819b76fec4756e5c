import type { FaultVariable } from './fault-model.ts';

/** Options of a variable along one line: how many of the shortest step each is, and its weight. */
export interface LineMember {
  readonly multiples: Int32Array;
  readonly weights: Float64Array;
}

/** Sums along a line from `low` on, scaled so that they sum to 1. */
interface Window {
  readonly low: number;
  readonly weights: Float64Array;
}

/** The members of a line, summed one after another. */
export interface LineSums {
  readonly members: readonly LineMember[];
  /** Before the first member, after it, after the second and so on. */
  readonly windows: readonly Window[];
  readonly logScale: number;
  /** Logarithm of what the sums that were dropped can weigh at most. */
  readonly logDropped: number;
}

/** A member from a variable and the multiples of its options. */
export const lineMember = (variable: FaultVariable, multiples: readonly number[]): LineMember => ({
  multiples: Int32Array.from(multiples),
  weights: Float64Array.from(variable.options, ({ weight }) => weight),
});

function summed(before: Window, { multiples, weights }: LineMember): Window {
  const least = multiples.reduce((low, one) => Math.min(low, one), 0);
  const most = multiples.reduce((high, one) => Math.max(high, one), 0);
  const values = new Float64Array(before.weights.length + most - least);
  for (let at = 0; at < before.weights.length; at += 1) {
    const weight = before.weights[at] as number;
    values[at - least] = (values[at - least] as number) + weight;
    for (let option = 0; option < multiples.length; option += 1) {
      const place = at - least + (multiples[option] as number);
      values[place] = (values[place] as number) + weight * (weights[option] as number);
    }
  }
  return { low: before.low + least, weights: values };
}

/** A window without the ends that are too light, scaled to the sum 1. */
function trimmed(window: Window, leastWeight: number) {
  const { low, weights } = window;
  let from = 0;
  let to = weights.length;
  let dropped = 0;
  while (from < to - 1 && (weights[from] as number) < leastWeight) {
    dropped += weights[from] as number;
    from += 1;
  }
  while (to > from + 1 && (weights[to - 1] as number) < leastWeight) {
    to -= 1;
    dropped += weights[to] as number;
  }
  const kept = weights.slice(from, to);
  const total = kept.reduce((sum, weight) => sum + weight, 0);
  return {
    window: { low: low + from, weights: kept.map((weight) => weight / total) },
    total,
    dropped,
  };
}

const logAll = ({ weights }: LineMember): number =>
  Math.log(weights.reduce((sum, weight) => sum + weight, 1));

/**
 * Sums of members along one line. `logFloor` is the logarithm of the least weight worth keeping: an end of
 * the window that stays below it whatever is added is cut off.
 */
export function lineSums(members: readonly LineMember[], logFloor: number): LineSums {
  const windows: Window[] = [{ low: 0, weights: Float64Array.of(1) }];
  let logRest = members.reduce((sum, member) => sum + logAll(member), 0);
  let logScale = 0;
  let dropped = 0;
  for (const [at, member] of members.entries()) {
    logRest -= logAll(member);
    const raw = summed(windows[at] as Window, member);
    const cut = trimmed(raw, Math.exp(logFloor - logRest - logScale));
    dropped += cut.dropped * Math.exp(logScale + logRest);
    logScale += Math.log(cut.total);
    windows.push(cut.window);
  }
  return { members, windows, logScale, logDropped: Math.log(dropped) };
}

/** Weight of the members after one, by the sum before and after: what `ends` gives to a sum at the end. */
function backwards(
  after: { readonly low: number; readonly values: Float64Array },
  window: Window,
  member: LineMember,
) {
  const shares = new Float64Array(member.weights.length);
  const values = new Float64Array(window.weights.length);
  const at = (sum: number): number => after.values[sum - after.low] ?? 0;
  for (let place = 0; place < values.length; place += 1) {
    const sum = window.low + place;
    let all = at(sum);
    for (let option = 0; option < shares.length; option += 1) {
      const part =
        (member.weights[option] as number) * at(sum + (member.multiples[option] as number));
      all += part;
      shares[option] = (shares[option] as number) + (window.weights[place] as number) * part;
    }
    values[place] = all;
  }
  const total = values.reduce(
    (sum, value, place) => sum + value * (window.weights[place] as number),
    0,
  );
  const greatest = values.reduce((most, value) => Math.max(most, value), 0) || 1;
  return {
    shares: Array.from(shares, (share) => (total > 0 ? share / total : 0)),
    before: { low: window.low, values: values.map((value) => value / greatest) },
  };
}

/** The probability of each option of each member, given how the sums at the end are weighed. */
export function lineProbabilities(
  sums: LineSums,
  ends: (sum: number) => number,
): readonly (readonly number[])[] {
  const { members, windows } = sums;
  const last = windows.at(-1) as Window;
  let after = {
    low: last.low,
    values: Float64Array.from(last.weights, (_, place) => ends(last.low + place)),
  };
  const found = new Array<readonly number[]>(members.length);
  for (let at = members.length - 1; at >= 0; at -= 1) {
    const step = backwards(after, windows[at] as Window, members[at] as LineMember);
    found[at] = step.shares;
    after = step.before;
  }
  return found;
}
