import { convolve, type Factor, lineSums, type Term, termProbabilities } from './convolution.ts';
import type { FaultVariable } from './fault-model.ts';

/** Faults that show in the residuals along one line only, so that they are summed up first. */
export interface FaultGroup {
  /** The factor that stands for the whole group on the lattice. */
  readonly factor: Factor;
  readonly logScale: number;
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

/** The line on which all options of a variable lie, or nothing when they lie on several. */
function lineOf(variable: FaultVariable): string | undefined {
  const lines = variable.options.map(({ signature }) => onLine(signature).line).filter(Boolean);
  const [line = ''] = lines;
  return lines.every((one) => one === line) ? line : undefined;
}

/** Logarithm of all that a variable can weigh, no fault included. */
const logSumOf = ({ options }: FaultVariable): number =>
  Math.log(options.reduce((sum, { weight }) => sum + weight, 1));

/**
 * Variables gathered by line; those on several lines stand alone. `logFloor` as for `convolve`: the
 * least weight worth keeping in the whole model.
 */
export function groupFaults(
  variables: readonly FaultVariable[],
  dimensions: number,
  logFloor: number,
): FaultGroup[] {
  const lines = new Map<string, FaultVariable[]>();
  const alone: FaultVariable[] = [];
  for (const variable of variables) {
    const line = lineOf(variable);
    if (line === undefined) alone.push(variable);
    else if (lines.has(line)) lines.get(line)?.push(variable);
    else lines.set(line, [variable]);
  }
  const all = variables.reduce((sum, variable) => sum + logSumOf(variable), 0);
  const floorOf = (members: readonly FaultVariable[]) =>
    logFloor - (all - members.reduce((sum, variable) => sum + logSumOf(variable), 0));
  return [
    ...[...lines].map(([line, members]) => lineGroup(line, members, dimensions, floorOf(members))),
    ...alone.map((variable) => singleGroup(variable, dimensions)),
  ];
}

function singleGroup(variable: FaultVariable, dimensions: number): FaultGroup {
  const none: Term = { vector: new Array<number>(dimensions).fill(0), weight: 1 };
  const options = variable.options.map(({ signature, weight }) => ({ vector: signature, weight }));
  return {
    factor: [none, ...options],
    logScale: 0,
    members: [variable],
    readMembers: (shares) => [shares.slice(1)],
  };
}

function lineGroup(
  line: string,
  members: readonly FaultVariable[],
  dimensions: number,
  logFloor: number,
): FaultGroup {
  const direction =
    line === '' ? new Array<number>(dimensions).fill(0) : line.split(' ').map(Number);
  const factors = members.map(
    ({ options }): Factor => [
      { vector: [0], weight: 1 },
      ...options.map(({ signature, weight }) => ({
        vector: [onLine(signature).multiple],
        weight,
      })),
    ],
  );
  const convolution = convolve(factors, [null], logFloor);
  const { sums, logScale } = lineSums(convolution);
  const factor = sums.map(({ sum, weight }) => ({
    vector: direction.map((value) => value * sum),
    weight,
  }));
  const readMembers = (shares: readonly number[]): readonly (readonly number[])[] => {
    const ends = new Map(
      sums.map(({ sum, weight }, at) => [sum, (shares[at] ?? 0) / weight] as const),
    );
    return termProbabilities(convolution, ([sum = 0]) => ends.get(sum) ?? 0).map((terms) =>
      terms.slice(1),
    );
  };
  return { factor, logScale, members, readMembers };
}
