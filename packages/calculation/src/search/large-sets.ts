import { convolve, termProbabilities } from './convolution.ts';
import { type FaultGroup, logSumOf } from './fault-groups.ts';
import type { FaultVariable } from './fault-model.ts';
import { isLarge, type LargeClass, largeClasses, setsOfLarge } from './large-faults.ts';
import type { Factor, Term } from './lattice-step.ts';

/** The part of a model in which large faults occur, ready to be summed down to any floor. */
export interface LargePart {
  /** The groups for the lattice. */
  readonly groupsTo: (logFloor: number) => readonly FaultGroup[];
  /** Dimensions of the lattice with those that mark variables as used up. */
  readonly dimensions: number;
  /** Logarithm of all that the part can weigh. */
  readonly logAll: number;
  /** Whether sets of more large faults than asked for were given up. */
  readonly isCut: boolean;
}

/** Up to so many combinations of large faults are summed one by one. */
const mostCombinations = 50_000;

const combinations = (variables: readonly FaultVariable[]): number =>
  variables.reduce((product, { options }) => product * (1 + options.length), 1);

/**
 * The variables that can be wrong by many pieces. Few of them are summed in every combination. Of many, sets of
 * up to `mostTogether` large faults are sought that leave what small faults can explain; sets of more are
 * given up.
 */
export function largePart(
  variables: readonly FaultVariable[],
  residual: readonly number[],
  mostTogether: number,
): LargePart {
  const logAll = variables.reduce((sum, variable) => sum + logSumOf(variable), 0);
  const { length: dimensions } = residual;
  if (variables.length === 0) return { groupsTo: () => [], dimensions, logAll, isCut: false };
  if (combinations(variables) <= mostCombinations) {
    const groupsTo = (logFloor: number) => [everyCombination(variables, dimensions, logFloor)];
    return { groupsTo, dimensions, logAll, isCut: false };
  }
  const mixed = [...variables.keys()].filter((at) =>
    variables[at]?.options.some((option) => !isLarge(option)),
  );
  const classes = largeClasses(variables, new Map(mixed.map((variable, mark) => [variable, mark])));
  const groups = [
    setsGroup(variables, classes, setsOfLarge(classes, residual, mostTogether)),
    ...mixed.map((at, mark) =>
      usedUpGroup(variables[at] as FaultVariable, { dimensions, mark, marks: mixed.length }),
    ),
  ];
  return { groupsTo: () => groups, dimensions: dimensions + mixed.length, logAll, isCut: true };
}

function everyCombination(
  variables: readonly FaultVariable[],
  dimensions: number,
  logFloor: number,
): FaultGroup {
  const none: Term = { vector: new Array<number>(dimensions).fill(0), weight: 1 };
  const factors = variables.map(
    ({ options }): Factor => [
      none,
      ...options.map(({ signature, weight }) => ({ vector: signature, weight })),
    ],
  );
  const convolution = convolve(factors, new Array<null>(dimensions).fill(null), logFloor);
  const { end } = convolution;
  const touched = none.vector.flatMap((_, at) =>
    factors.some((factor) => factor.some(({ vector }) => vector[at] !== 0)) ? [at] : [],
  );
  const rows = Array.from(end.weights, (_, state) => [
    ...end.values.subarray(state * end.width, (state + 1) * end.width),
  ]);
  const factor = rows.map((row, state): Term => {
    const vector = [...none.vector];
    for (const [at, dimension] of touched.entries()) vector[dimension] = row[at] ?? 0;
    return { vector, weight: end.weights[state] as number };
  });
  const places = new Map(rows.map((row, at) => [row.join(' '), at]));
  return {
    factor,
    logScale: convolution.logTotal,
    logDropped: convolution.logDropped,
    members: variables,
    readMembers: (shares) =>
      termProbabilities(convolution, (row) => {
        const at = places.get(row.join(' ')) ?? -1;
        return (shares[at] ?? 0) / (factor[at]?.weight ?? 1);
      }).map((found) => found.slice(1)),
  };
}

/** Small options of a variable whose large ones stand in sets, and that it is used up by one of these. */
function usedUpGroup(
  variable: FaultVariable,
  at: { readonly dimensions: number; readonly mark: number; readonly marks: number },
): FaultGroup {
  const marks = (value: number): number[] =>
    Array.from({ length: at.marks }, (_, mark) => (mark === at.mark ? value : 0));
  const nothing = new Array<number>(at.dimensions).fill(0);
  const small = [...variable.options.keys()].filter(
    (option) => !isLarge(variable.options[option] as FaultVariable['options'][number]),
  );
  const factor: Factor = [
    { vector: [...nothing, ...marks(0)], weight: 1 },
    { vector: [...nothing, ...marks(-1)], weight: 1 },
    ...small.map((option): Term => {
      const { signature, weight } = variable.options[option] as FaultVariable['options'][number];
      return { vector: [...signature, ...marks(0)], weight };
    }),
  ];
  return {
    factor,
    logScale: 0,
    logDropped: Number.NEGATIVE_INFINITY,
    members: [{ ...variable, options: small.map((option) => variable.options[option] as never) }],
    readMembers: (shares) => [shares.slice(2)],
  };
}

/** Weight of all ways to take one fault of each class, from different variables, none of those used. */
function weightOf(set: readonly LargeClass[], used: readonly number[]): number {
  const [first, ...rest] = set;
  if (!first) return 1;
  const free =
    first.total - used.reduce((sum, variable) => sum + (first.byVariable.get(variable) ?? 0), 0);
  if (rest.length === 0) return Math.max(0, free);
  const isApart = rest.every((other) => other !== first && !sharesVariable(first, other));
  if (isApart && used.length === 0) return free * weightOf(rest, used);
  let sum = 0;
  for (const { variable, weight } of first.members) {
    if (!used.includes(variable)) sum += weight * weightOf(rest, [...used, variable]);
  }
  return sum / set.filter((one) => one === first).length;
}

function sharesVariable(one: LargeClass, other: LargeClass): boolean {
  const [few, many] = one.byVariable.size < other.byVariable.size ? [one, other] : [other, one];
  for (const variable of few.byVariable.keys()) if (many.byVariable.has(variable)) return true;
  return false;
}

const sumOfVectors = (set: readonly LargeClass[], width: number): number[] =>
  Array.from({ length: width }, (_, at) =>
    set.reduce((sum, { vector }) => sum + (vector[at] ?? 0), 0),
  );

/** Sets of large faults as one factor: each vector to which some lead, and no large fault at all. */
function setsGroup(
  variables: readonly FaultVariable[],
  classes: readonly LargeClass[],
  places: readonly (readonly number[])[],
): FaultGroup {
  const width = classes[0]?.vector.length ?? 0;
  const terms: { vector: number[]; weight: number }[] = [
    { vector: new Array<number>(width).fill(0), weight: 1 },
  ];
  const termOf = new Map<string, number>();
  const sets = places.flatMap((set) => {
    const of = set.map((place) => classes[place] as LargeClass);
    const weight = weightOf(of, []);
    if (weight <= 0) return [];
    const vector = sumOfVectors(of, width);
    const key = vector.join(' ');
    const term = termOf.get(key) ?? terms.push({ vector, weight: 0 }) - 1;
    termOf.set(key, term);
    (terms[term] as { weight: number }).weight += weight;
    return [{ of, term }];
  });
  return {
    factor: terms,
    logScale: 0,
    logDropped: Number.NEGATIVE_INFINITY,
    members: variables.map(({ name, options }) => ({ name, options: options.filter(isLarge) })),
    readMembers: (shares) => {
      const parts = new LargeShares(variables);
      for (const { of, term } of sets) {
        const factor = (shares[term] ?? 0) / (terms[term]?.weight ?? 1);
        if (factor > 0) parts.add(of, factor);
      }
      return parts.ofLarge();
    },
  };
}

/** Gathers what each large option has of the probability of the sets in which it stands. */
class LargeShares {
  readonly #variables: readonly FaultVariable[];
  readonly #found: Float64Array[];
  /** Of a class whose partner leaves every member free: what one unit of weight in it has. */
  readonly #ofClass = new Map<LargeClass, number>();

  constructor(variables: readonly FaultVariable[]) {
    this.#variables = variables;
    this.#found = variables.map(({ options }) => new Float64Array(options.length));
  }

  add(set: readonly LargeClass[], factor: number): void {
    for (const one of new Set(set)) {
      const rest = [...set];
      rest.splice(rest.indexOf(one), 1);
      if (rest.every((other) => other !== one && !sharesVariable(one, other))) {
        const before = this.#ofClass.get(one) ?? 0;
        this.#ofClass.set(one, before + factor * weightOf(rest, []));
        continue;
      }
      for (const { variable, option, weight } of one.members) {
        this.#add(variable, option, factor * weight * weightOf(rest, [variable]));
      }
    }
  }

  #add(variable: number, option: number, share: number): void {
    const of = this.#found[variable] as Float64Array;
    of[option] = (of[option] as number) + share;
  }

  /** By variable, for its large options in their order. */
  ofLarge(): readonly (readonly number[])[] {
    for (const [one, unit] of this.#ofClass) {
      for (const { variable, option, weight } of one.members) {
        this.#add(variable, option, weight * unit);
      }
    }
    return this.#found.map((of, variable) =>
      [...of].filter((_, option) => isLarge(this.#variables[variable]?.options[option] as never)),
    );
  }
}
