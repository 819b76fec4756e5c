import type { FaultOption, FaultVariable } from './fault-model.ts';

/** A fault is large when it moves more pieces than people miscount by. */
const mostOfSmall = 4;

/** Large faults at one place of the lattice: what each adds, and all that add the same. */
export interface LargeClass {
  readonly vector: readonly number[];
  readonly total: number;
  readonly members: readonly {
    readonly variable: number;
    readonly option: number;
    readonly weight: number;
  }[];
  /** Weight by variable. */
  readonly byVariable: ReadonlyMap<number, number>;
}

const isSmall = (vector: readonly number[]): boolean =>
  vector.every((value) => Math.abs(value) <= mostOfSmall);

export const isLarge = ({ signature }: FaultOption): boolean => !isSmall(signature);

/**
 * Large options gathered by what they add. A variable that has small options beside gets a dimension of
 * its own, in which each of its large options counts 1: a mark that it is used up.
 */
export function largeClasses(
  variables: readonly FaultVariable[],
  markOf: ReadonlyMap<number, number>,
): readonly LargeClass[] {
  const classes = new Map<
    string,
    {
      readonly vector: number[];
      readonly members: LargeClass['members'][number][];
      readonly byVariable: Map<number, number>;
    }
  >();
  for (const [variable, { options }] of variables.entries()) {
    for (const [option, one] of options.entries()) {
      if (!isLarge(one)) continue;
      const marks = new Array<number>(markOf.size).fill(0);
      const mark = markOf.get(variable);
      if (mark !== undefined) marks[mark] = 1;
      const vector = [...one.signature, ...marks];
      const key = vector.join(' ');
      const none = { vector, members: [], byVariable: new Map<number, number>() };
      const found: NonNullable<ReturnType<typeof classes.get>> = classes.get(key) ?? none;
      classes.set(key, found);
      found.members.push({ variable, option, weight: one.weight });
      found.byVariable.set(variable, (found.byVariable.get(variable) ?? 0) + one.weight);
    }
  }
  return [...classes.values()]
    .map((one) => ({ ...one, total: one.members.reduce((sum, { weight }) => sum + weight, 0) }))
    .sort((a, b) => b.total - a.total);
}

const less = (from: readonly number[], vector: readonly number[]): number[] =>
  from.map((value, at) => value - (vector[at] ?? 0));

/** The residual in which a vector is largest. */
const tallest = (vector: readonly number[]): number =>
  vector.reduce(
    (best, value, at) => (Math.abs(value) > Math.abs(vector[best] ?? 0) ? at : best),
    0,
  );

/** Finds the classes that bring a residual to where small faults can explain it. */
class Completion {
  readonly #classes: readonly LargeClass[];
  readonly #byValue: readonly Map<number, number[]>[];

  constructor(classes: readonly LargeClass[], dimensions: number) {
    this.#classes = classes;
    this.#byValue = Array.from({ length: dimensions }, (_, at) => {
      const found = new Map<number, number[]>();
      for (const [place, { vector }] of classes.entries()) {
        const value = vector[at] ?? 0;
        const alike = found.get(value);
        if (alike) alike.push(place);
        else found.set(value, [place]);
      }
      return found;
    });
  }

  /** Places from `first` on; where the residual is small already, those that keep it so are none. */
  of(rest: readonly number[], first: number): number[] {
    const at = tallest(rest);
    const aim = rest[at] ?? 0;
    const found: number[] = [];
    for (let value = aim - mostOfSmall; value <= aim + mostOfSmall; value += 1) {
      for (const place of this.#byValue[at]?.get(value) ?? []) {
        const { vector } = this.#classes[place] as LargeClass;
        if (
          place >= first &&
          rest.every((one, cell) => Math.abs(one - (vector[cell] ?? 0)) <= mostOfSmall)
        ) {
          found.push(place);
        }
      }
    }
    return found;
  }
}

/** Sets of three are sought among so many of the most probable classes. */
const mostInThrees = 300;

/**
 * Sets of one, two and, where asked for, three classes whose faults together leave of the residuals only what
 * small faults can explain. Classes stand by their places, each set once, a class twice where two of it do.
 */
export function setsOfLarge(
  classes: readonly LargeClass[],
  residual: readonly number[],
  most: number,
): readonly (readonly number[])[] {
  const completion = new Completion(classes, residual.length);
  const sets: (readonly number[])[] = completion.of(residual, 0).map((place) => [place]);
  for (const [first, { vector }] of classes.entries()) {
    const rest = less(residual, vector);
    for (const second of completion.of(rest, first)) sets.push([first, second]);
    if (most < 3 || first >= mostInThrees) continue;
    for (let second = first; second < Math.min(classes.length, mostInThrees); second += 1) {
      const left = less(rest, (classes[second] as LargeClass).vector);
      for (const third of completion.of(left, second)) sets.push([first, second, third]);
    }
  }
  return sets;
}
