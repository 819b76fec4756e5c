import { z } from 'zod';
import { logOfSum } from '../quantity/log-sum.ts';
import type { FaultModel } from './fault-model.ts';

export const story = z.strictObject({
  faults: z
    .array(
      z.strictObject({
        name: z.string().meta({ title: 'What is wrong' }),
        value: z.int().meta({ title: 'Size of the fault' }),
      }),
    )
    .meta({ title: 'Faults together' }),
  probability: z.number().meta({ title: 'Probability of just this set' }),
  words: z.string().meta({ title: 'In words' }),
});

export type Story = z.infer<typeof story>;

interface Candidate {
  readonly variable: number;
  readonly name: string;
  readonly value: number;
  readonly logWeight: number;
  readonly signature: readonly number[];
}

/** So many stories are told. */
const toldStories = 12;

/** Sets of more faults are looked for only while those found explain less than this part. */
const enoughExplained = 0.9;

/** Of faults that show alike, so many are tried in sets with others. */
const alikeTried = 12;

/** So many of the most probable faults are tried as the first two of a set of three. */
const firstTried = 120;

const keyOf = (vector: readonly number[]): string => vector.join(' ');

const difference = (from: readonly number[], less: readonly number[]): number[] =>
  from.map((value, at) => value - (less[at] ?? 0));

function candidatesOf(model: FaultModel): Candidate[] {
  return model.variables
    .flatMap(({ name, options }, variable) =>
      options
        .filter(({ weight }) => weight > 0)
        .map(({ value, weight, signature }) => ({
          variable,
          name,
          value,
          logWeight: Math.log(weight),
          signature,
        })),
    )
    .sort((a, b) => b.logWeight - a.logWeight);
}

/** The most probable candidates of each signature. */
function bySignature(candidates: readonly Candidate[]): Map<string, Candidate[]> {
  const found = new Map<string, Candidate[]>();
  for (const candidate of candidates) {
    const key = keyOf(candidate.signature);
    const alike = found.get(key);
    if (!alike) found.set(key, [candidate]);
    else if (alike.length < alikeTried) alike.push(candidate);
  }
  return found;
}

function isNewSet(set: readonly Candidate[]): boolean {
  return new Set(set.map(({ variable }) => variable)).size === set.length;
}

/** Every set of so many faults that adds up to the residual, among those tried. */
function setsOf(
  size: number,
  tried: readonly Candidate[],
  ends: ReadonlyMap<string, readonly Candidate[]>,
  residual: readonly number[],
): (readonly Candidate[])[] {
  if (size === 1) return (ends.get(keyOf(residual)) ?? []).map((one) => [one]);
  return tried.flatMap((first, at) =>
    setsOf(size - 1, tried.slice(at + 1), ends, difference(residual, first.signature))
      .map((rest) => [first, ...rest])
      .filter(isNewSet),
  );
}

const order = (a: Candidate, b: Candidate): number => a.variable - b.variable || a.value - b.value;

/** Sets found along several ways are one set. */
function distinct(sets: readonly (readonly Candidate[])[]): (readonly Candidate[])[] {
  const found = new Map<string, readonly Candidate[]>();
  for (const set of sets) {
    const sorted = [...set].sort(order);
    found.set(sorted.map(({ variable, value }) => `${variable}:${value}`).join(' '), set);
  }
  return [...found.values()];
}

const signed = (value: number): string => (value > 0 ? `+${value}` : String(value));

function tell(found: readonly Candidate[], logTotal: number): Story {
  const logWeight = found.reduce((sum, candidate) => sum + candidate.logWeight, 0);
  const set = [...found].sort(order);
  return {
    faults: set.map(({ name, value }) => ({ name, value })),
    probability: Math.exp(logWeight - logTotal),
    words: set.map(({ name, value }) => `${name} ${signed(value)}`).join(' and '),
  };
}

interface FaultSets {
  readonly sets: readonly (readonly Candidate[])[];
  /** Logarithm of their weights together, with that of no fault where nothing is missing. */
  readonly logWeight: number;
}

const logWeightOf = (set: readonly Candidate[]): number =>
  set.reduce((sum, candidate) => sum + candidate.logWeight, 0);

/** Sets of faults that explain the residuals, sought before their probabilities are known. */
export class StorySearch {
  readonly #model: FaultModel;
  readonly #ends: ReadonlyMap<string, readonly Candidate[]>;
  readonly #few: readonly Candidate[];

  constructor(model: FaultModel) {
    this.#model = model;
    this.#ends = bySignature(candidatesOf(model));
    this.#few = [...this.#ends.values()].flat().sort((a, b) => b.logWeight - a.logWeight);
  }

  /** Sets up to a size, with their weight together. */
  #upTo(most: number): FaultSets {
    const { residual } = this.#model;
    const sets = Array.from({ length: most }, (_, at) => at + 1).flatMap((size) =>
      distinct(
        setsOf(size, size < 3 ? this.#few : this.#few.slice(0, firstTried), this.#ends, residual),
      ),
    );
    const none = residual.every((value) => value === 0) ? [0] : [];
    return { sets, logWeight: logOfSum([...none, ...sets.map(logWeightOf)]) };
  }

  /** Weight that all explanations have at least, as a logarithm; minus infinity where none was found. */
  leastLogTotal(): number {
    const { logWeight } = this.#upTo(2);
    return Number.isFinite(logWeight) ? logWeight : this.#upTo(3).logWeight;
  }

  /**
   * The most probable sets: single faults, pairs, and sets of three where the smaller ones explain
   * less than nine tenths. Their probabilities are those of the exact posterior; only which sets are
   * told is a choice.
   */
  tell(logTotal: number): Story[] {
    const small = this.#upTo(2);
    const { sets } = Math.exp(small.logWeight - logTotal) < enoughExplained ? this.#upTo(3) : small;
    return sets
      .map((set) => tell(set, logTotal))
      .sort((a, b) => b.probability - a.probability)
      .slice(0, toldStories);
  }
}
