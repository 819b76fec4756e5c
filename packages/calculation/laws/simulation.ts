import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/**
 * Standard normal deviates from a seed, by the polar form of Box and Muller: a road that shares
 * nothing with the quantile of the library.
 */
export function seededNormal(seed: number): () => number {
  const generator = xoroshiro128plus(seed);
  let spare: number | null = null;
  return () => {
    if (spare !== null) {
      const deviate = spare;
      spare = null;
      return deviate;
    }
    for (;;) {
      const x = 2 * uniformFloat64(generator) - 1;
      const y = 2 * uniformFloat64(generator) - 1;
      const square = x * x + y * y;
      if (square > 0 && square < 1) {
        const factor = Math.sqrt((-2 * Math.log(square)) / square);
        spare = y * factor;
        return x * factor;
      }
    }
  };
}

/** Standard deviation of simulated values about their mean. */
export function standardDeviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1));
}
