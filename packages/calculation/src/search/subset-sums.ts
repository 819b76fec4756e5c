/** Takes the places of a set that was found, in rising order; answers false when no more are wanted. */
type Found = (places: readonly number[]) => void;

/** Pairs of places before one that is reached step by step, by what they sum to. */
class PairSums {
  readonly #values: readonly number[];
  readonly #pairs = new Map<number, number[]>();

  constructor(values: readonly number[]) {
    this.#values = values;
  }

  /** Adds every pair that ends at a place: its first places, packed with it. */
  endAt(second: number, from: number): void {
    for (let first = from; first < second; first += 1) {
      const sum = (this.#values[first] as number) + (this.#values[second] as number);
      const alike = this.#pairs.get(sum);
      const packed = first * this.#values.length + second;
      if (alike) alike.push(packed);
      else this.#pairs.set(sum, [packed]);
    }
  }

  each(sum: number, found: (first: number, second: number) => void): void {
    for (const packed of this.#pairs.get(sum) ?? []) {
      found(Math.floor(packed / this.#values.length), packed % this.#values.length);
    }
  }
}

function singles(values: readonly number[], from: number, sum: number, found: Found): void {
  for (let at = from; at < values.length; at += 1) if (values[at] === sum) found([at]);
}

function pairs(values: readonly number[], from: number, sum: number, found: Found): void {
  const seen = new Map<number, number[]>();
  for (let second = from; second < values.length; second += 1) {
    const value = values[second] as number;
    for (const first of seen.get(sum - value) ?? []) found([first, second]);
    const alike = seen.get(value);
    if (alike) alike.push(second);
    else seen.set(value, [second]);
  }
}

/** Sets of four: the third and fourth are walked, the first two looked up among the pairs before the third. */
function fours(values: readonly number[], from: number, sum: number, found: Found): void {
  const before = new PairSums(values);
  for (let third = from + 2; third < values.length - 1; third += 1) {
    before.endAt(third - 1, from);
    for (let fourth = third + 1; fourth < values.length; fourth += 1) {
      const left = sum - (values[third] as number) - (values[fourth] as number);
      before.each(left, (first, second) => found([first, second, third, fourth]));
    }
  }
}

/**
 * Every set of so many places, from one on, whose values sum to a number: exact in whole numbers, with the last
 * two or four places looked up instead of walked.
 */
export function subsetsThatSumTo(
  values: readonly number[],
  size: number,
  sum: number,
  found: Found,
  from = 0,
): void {
  if (size === 1) singles(values, from, sum, found);
  else if (size === 2) pairs(values, from, sum, found);
  else if (size === 4) fours(values, from, sum, found);
  else {
    for (let first = from; first <= values.length - size; first += 1) {
      const left = sum - (values[first] as number);
      subsetsThatSumTo(values, size - 1, left, (rest) => found([first, ...rest]), first + 1);
    }
  }
}
