/**
 * Probabilities of how many of some independent events happen.
 *
 * Formula: the distribution of the sum is convolved event by event; exact.
 *
 * @param probabilities of each event, in [0, 1]; up to some ten thousand
 * @returns probability of 0, 1, 2 … events; sums to 1
 * Validity: relative accuracy about 1e-15 times the number of events, tails included.
 * Source: Poisson (1837), trials of unequal chance; elementary
 * @example countDistribution([0.5, 0.5])[1] // 0.5
 */
export function countDistribution(probabilities: readonly number[]): Float64Array {
  const found = new Float64Array(probabilities.length + 1);
  found[0] = 1;
  for (const [at, probability] of probabilities.entries()) {
    for (let count = at + 1; count > 0; count -= 1) {
      found[count] =
        (found[count] ?? 0) * (1 - probability) + (found[count - 1] ?? 0) * probability;
    }
    found[0] = (found[0] ?? 0) * (1 - probability);
  }
  return found;
}

/** Probability of a count at least as far out as one seen, on its side, doubled and at most 1. */
export function twoSidedProbability(probabilities: readonly number[], seen: number): number {
  const distribution = countDistribution(probabilities);
  const sum = (from: number, to: number): number =>
    distribution.subarray(from, to).reduce((total, part) => total + part, 0);
  return Math.min(1, 2 * Math.min(sum(0, seen + 1), sum(seen, distribution.length)));
}
