import { convolve, termProbabilities } from './convolution.ts';
import type { FaultVariable } from './fault-model.ts';
import type { Factor, Term } from './lattice-step.ts';
import { type LineMember, lineMember, lineProbabilities, lineSums } from './line-sums.ts';

/** Faults that show in the residuals along the same lines, so that they are summed up first. */
export interface FaultGroup {
  /** The factor that stands for the whole group on the lattice. */
  readonly factor: Factor;
  readonly logScale: number;
  /** Logarithm of what the sums that were dropped in it can weigh at most, the rest of the model left aside. */
  readonly logDropped: number;
  /** The variables in it, with the probability of each option once those of the factor are known. */
  readonly members: readonly FaultVariable[];
  readonly readMembers: (termShares: readonly number[]) => readonly (readonly number[])[];
}

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));

/** A vector as a multiple of the shortest whole vector on its line; 0 of nothing for the zero vector. */
function onLine(vector: readonly number[]): { readonly line: string; readonly multiple: number } {
  const divisor = vector.reduce((most, value) => greatestDivisor(most, Math.abs(value)), 0);
  if (divisor === 0) return { line: '', multiple: 0 };
  const sign = Math.sign(vector.find((value) => value !== 0) ?? 1);
  return {
    line: vector.map((value) => (value * sign) / divisor).join(' '),
    multiple: sign * divisor,
  };
}

/** A variable with where its options lie. */
interface Placed {
  readonly variable: FaultVariable;
  readonly places: readonly { readonly line: string; readonly multiple: number }[];
}

/** Logarithm of all that a variable can weigh, no fault included. */
export const logSumOf = ({ options }: FaultVariable): number =>
  Math.log(options.reduce((sum, { weight }) => sum + weight, 1));

/** Variables whose options lie on the same lines. */
export interface LineFamily {
  readonly lines: readonly string[];
  readonly placed: readonly Placed[];
  /** Where they lie on one line. */
  readonly members: readonly LineMember[];
  /** Logarithm of all that they can weigh. */
  readonly logAll: number;
}

/** Variables gathered by the lines on which their options lie. */
export function lineFamilies(variables: readonly FaultVariable[]): readonly LineFamily[] {
  const families = new Map<string, { lines: readonly string[]; placed: Placed[] }>();
  for (const variable of variables) {
    const places = variable.options.map(({ signature }) => onLine(signature));
    const lines = [...new Set(places.map(({ line }) => line).filter(Boolean))].sort();
    const key = lines.join('/');
    const family = families.get(key);
    if (family) family.placed.push({ variable, places });
    else families.set(key, { lines, placed: [{ variable, places }] });
  }
  return [...families.values()].map(({ lines, placed }) => ({
    lines,
    placed,
    members:
      lines.length > 1
        ? []
        : placed.map(({ variable, places }) =>
            lineMember(
              variable,
              places.map(({ multiple }) => multiple),
            ),
          ),
    logAll: placed.reduce((sum, { variable }) => sum + logSumOf(variable), 0),
  }));
}

/**
 * Each family summed up. `logFloor` as for `convolve`: the least weight worth keeping in the whole model, all
 * of which can weigh `logAll`.
 */
export function groupFaults(
  families: readonly LineFamily[],
  dimensions: number,
  options: { readonly logFloor: number; readonly logAll: number },
): FaultGroup[] {
  return families.map((family) => {
    const { lines } = family;
    const logFloor = options.logFloor - (options.logAll - family.logAll);
    const directions = lines.map((line) => line.split(' ').map(Number));
    const [direction = new Array<number>(dimensions).fill(0)] = directions;
    return lines.length > 1
      ? planeGroup(family.placed, lines, directions, logFloor)
      : lineGroup(family, direction, logFloor);
  });
}

function lineGroup(family: LineFamily, direction: readonly number[], logFloor: number): FaultGroup {
  const sums = lineSums(family.members, logFloor);
  const last = sums.windows.count - 1;
  const end = { low: sums.windows.low(last), weights: sums.windows.weights(last) };
  const kept = [...end.weights.keys()].filter((at) => (end.weights[at] as number) > 0);
  const factor = kept.map((at): Term => {
    const sum = end.low + at;
    return {
      vector: direction.map((value) => (sum === 0 ? 0 : value * sum)),
      weight: end.weights[at] as number,
    };
  });
  const readMembers = (shares: readonly number[]) => {
    const ends = new Float64Array(end.weights.length);
    for (const [term, at] of kept.entries()) {
      ends[at] = (shares[term] ?? 0) / (end.weights[at] as number);
    }
    return lineProbabilities(sums, (sum) => ends[sum - end.low] ?? 0);
  };
  return {
    factor,
    logScale: sums.logScale,
    logDropped: sums.logDropped,
    members: family.placed.map(({ variable }) => variable),
    readMembers,
  };
}

/** Members on several lines are summed over how many steps they take along each. */
function planeGroup(
  placed: readonly Placed[],
  lines: readonly string[],
  directions: readonly (readonly number[])[],
  logFloor: number,
): FaultGroup {
  const factors = placed.map(({ variable, places }): Factor => {
    const none: Term = { vector: lines.map(() => 0), weight: 1 };
    const options = variable.options.map(({ weight }, at): Term => {
      const place = places[at];
      return {
        vector: lines.map((line) => (line === place?.line ? place.multiple : 0)),
        weight,
      };
    });
    return [none, ...options];
  });
  const convolution = convolve(
    factors,
    lines.map(() => null),
    logFloor,
  );
  const terms = projected(convolution.end, directions);
  const readMembers = (shares: readonly number[]) => {
    const ends = new Map(
      terms.flatMap(({ steps, weight }, at) =>
        steps.map((key) => [key, (shares[at] ?? 0) / weight] as const),
      ),
    );
    return termProbabilities(convolution, (steps) => ends.get(steps.join(' ')) ?? 0).map((found) =>
      found.slice(1),
    );
  };
  return {
    factor: terms,
    logScale: convolution.logTotal,
    logDropped: convolution.logDropped,
    members: placed.map(({ variable }) => variable),
    readMembers,
  };
}

/** The vectors to which steps along lines come; several ways to one vector are one term. */
function projected(
  end: { readonly width: number; readonly values: Int32Array; readonly weights: Float64Array },
  directions: readonly (readonly number[])[],
) {
  const terms = new Map<string, { vector: number[]; weight: number; steps: string[] }>();
  for (const [state, weight] of end.weights.entries()) {
    const steps = [...end.values.subarray(state * end.width, (state + 1) * end.width)];
    const vector = (directions[0] ?? []).map((_, at) =>
      directions.reduce(
        (sum, direction, line) => sum + (steps[line] ?? 0) * (direction[at] ?? 0),
        0,
      ),
    );
    const key = vector.join(' ');
    const term = terms.get(key);
    if (term) {
      term.weight += weight;
      term.steps.push(steps.join(' '));
    } else terms.set(key, { vector, weight, steps: [steps.join(' ')] });
  }
  return [...terms.values()];
}
