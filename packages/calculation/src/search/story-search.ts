import type { FaultModel } from './fault-model.ts';
import type { RatedFault } from './lattice-posterior.ts';

/** A fault that can stand in a story. */
export interface Candidate {
  /** Its place among all that are tried, the heaviest first. */
  readonly rank: number;
  readonly variable: number;
  readonly name: string;
  readonly value: number;
  readonly probability: number;
  readonly logWeight: number;
  readonly signature: readonly number[];
  readonly key: number;
}

/** Faults that together explain the residuals. */
export interface FaultSet {
  readonly faults: readonly Candidate[];
  readonly logWeight: number;
}

/** A story is no more probable than any fault in it: what is less probable is not tried. */
const leastTried = 1e-9;

/** Larger sets than two that are less probable than this are not kept. */
const leastKept = 1e-6;

/** Of faults that show alike, so many are tried in sets with others. */
const alikeTried = 12;

/** So many of the heaviest faults are tried as the first two of a set of three. */
const firstTried = 120;

/** In sets of more than three the first ones are so many of the most probable faults, so many sets of them. */
const firstOfMany = 40;
const mostBegun = 150;

/** So many faults a set has at most. */
const mostInSet = 7;

/** Odd numbers without pattern, so that different vectors seldom share a key. */
const multiplier = (at: number): number => 1 + 2 * ((at * 362_437 + 69_069) % 262_144);

/**
 * A key of a vector that adds up as vectors do: what is left of one after another is the difference of their
 * keys. Different vectors can share one, so that what is found by it is compared.
 */
const keyOf = (vector: readonly number[]): number =>
  vector.reduce((sum, value, at) => sum + value * multiplier(at), 0);

const areEqual = (one: readonly number[], other: readonly number[]): boolean =>
  one.every((value, at) => value === other[at]);

const difference = (from: readonly number[], less: readonly number[]): number[] =>
  from.map((value, at) => value - (less[at] ?? 0));

const sizeOf = (vector: readonly number[]): number =>
  vector.reduce((sum, value) => sum + Math.abs(value), 0);

/** The heaviest candidates of each signature, by their rank. */
function candidatesOf(model: FaultModel, faults: readonly RatedFault[]): Candidate[] {
  const places = new Map(model.variables.map(({ name }, at) => [name, at]));
  const alike = new Map<string, number>();
  return faults
    .filter(({ probability }) => probability >= leastTried)
    .flatMap(({ name, value, probability }) => {
      const variable = places.get(name) ?? -1;
      const options = model.variables[variable]?.options ?? [];
      return options
        .filter((option) => option.value === value && option.weight > 0)
        .map(({ weight, signature }) => {
          const logWeight = Math.log(weight);
          const key = keyOf(signature);
          return { variable, name, value, probability, logWeight, signature, key };
        });
    })
    .sort((a, b) => b.logWeight - a.logWeight)
    .filter(({ signature }) => {
      const text = signature.join(' ');
      const before = alike.get(text) ?? 0;
      alike.set(text, before + 1);
      return before < alikeTried;
    })
    .map((candidate, rank) => ({ ...candidate, rank }));
}

/** Some faults of a set to come, with what they leave of the residuals. */
interface Beginning extends FaultSet {
  readonly rest: readonly number[];
  readonly restKey: number;
}

const isIn = (faults: readonly Candidate[], one: Candidate): boolean =>
  faults.some(({ variable }) => variable === one.variable);

const longer = (set: Beginning, one: Candidate): Beginning => ({
  faults: [...set.faults, one],
  logWeight: set.logWeight + one.logWeight,
  rest: difference(set.rest, one.signature),
  restKey: set.restKey - one.key,
});

const rankKey = ({ faults }: FaultSet): string =>
  faults
    .map(({ rank }) => rank)
    .sort((a, b) => a - b)
    .join(' ');

/** Sets found along several ways are one set. */
const distinct = <One extends FaultSet>(sets: readonly One[]): One[] => [
  ...new Map(sets.map((set) => [rankKey(set), set])).values(),
];

/** Seeks sets of faults that explain the residuals exactly. */
export class StorySearch {
  readonly #start: Beginning;
  readonly #candidates: readonly Candidate[];
  readonly #ends = new Map<number, Candidate[]>();
  readonly #logLeast: number;

  constructor(model: FaultModel, faults: readonly RatedFault[], logTotal: number) {
    const { residual: rest } = model;
    this.#start = { faults: [], logWeight: 0, rest, restKey: keyOf(rest) };
    this.#candidates = candidatesOf(model, faults);
    this.#logLeast = logTotal + Math.log(leastKept);
    for (const one of this.#candidates) {
      const alike = this.#ends.get(one.key);
      if (alike) alike.push(one);
      else this.#ends.set(one.key, [one]);
    }
  }

  /** A beginning ended by one fault of a rank above. */
  #ended(set: Beginning, above: number): FaultSet[] {
    return (this.#ends.get(set.restKey) ?? [])
      .filter((one) => one.rank > above && !isIn(set.faults, one))
      .filter((one) => areEqual(one.signature, set.rest))
      .map((one) => longer(set, one));
  }

  /** A beginning ended by two faults of ranks above, the first of them among so many. */
  #endedByTwo(set: Beginning, above: number, tried: number): FaultSet[] {
    const found: FaultSet[] = [];
    for (let rank = above + 1; rank < Math.min(tried, this.#candidates.length); rank += 1) {
      const one = this.#candidates[rank] as Candidate;
      if (!this.#ends.has(set.restKey - one.key) || isIn(set.faults, one)) continue;
      found.push(...this.#ended(longer(set, one), rank));
    }
    return found;
  }

  ofOneAndTwo(): FaultSet[] {
    return [
      ...this.#ended(this.#start, -1),
      ...this.#endedByTwo(this.#start, -1, this.#candidates.length),
    ];
  }

  ofThree(): FaultSet[] {
    return this.#candidates
      .slice(0, firstTried)
      .flatMap((one) => this.#endedByTwo(longer(this.#start, one), one.rank, firstTried))
      .filter(({ logWeight }) => logWeight >= this.#logLeast);
  }

  /** Sets of four and more: begun with what is most probable, ended by two that fit. */
  ofMany(): FaultSet[] {
    const first = this.#candidates
      .toSorted((a, b) => b.probability - a.probability)
      .slice(0, firstOfMany);
    let begun: readonly Beginning[] = [this.#start];
    const found: FaultSet[] = [];
    for (let size = 1; size <= mostInSet - 2 && begun.length > 0; size += 1) {
      begun = begunFurther(begun, first);
      if (size === 1) continue;
      for (const set of begun) {
        found.push(
          ...this.#endedByTwo(set, -1, firstTried).filter(
            ({ logWeight }) => logWeight >= this.#logLeast,
          ),
        );
      }
    }
    return distinct(found);
  }
}

/** One more fault to each beginning, so that less is left of the residuals; the heaviest of them. */
function begunFurther(begun: readonly Beginning[], first: readonly Candidate[]): Beginning[] {
  const further = begun.flatMap((set) => {
    const left = sizeOf(set.rest);
    return first
      .filter((one) => !isIn(set.faults, one))
      .map((one) => longer(set, one))
      .filter(({ rest }) => sizeOf(rest) < left);
  });
  return distinct(further)
    .sort((a, b) => b.logWeight - a.logWeight)
    .slice(0, mostBegun);
}
