import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { mersenne } from 'pure-rand/generator/mersenne';

/** Chance from a seed: the same seed and the same calls give the same values on every platform. */
export interface Chance {
  /** A number with 0 ≤ value < 1. */
  uniform(): number;
  /** A whole number with least ≤ value ≤ greatest. */
  whole(least: number, greatest: number): number;
  /** A normal deviate of that mean and standard deviation. */
  normal(mean: number, standardDeviation: number): number;
  /** One of the items. */
  one<Item>(items: readonly Item[]): Item;
}

/** Chance that follows from a whole number. */
export function chanceFrom(seed: number): Chance {
  const generator = mersenne(seed);
  const uniform = (): number => uniformFloat64(generator);
  return {
    uniform,
    whole: (least, greatest) => uniformInt(generator, least, greatest),
    // Box and Muller's method, with one of the two deviates; 1 − u keeps the logarithm finite.
    normal: (mean, standardDeviation) =>
      mean +
      standardDeviation *
        Math.sqrt(-2 * Math.log(1 - uniform())) *
        Math.cos(2 * Math.PI * uniform()),
    one: (items) => {
      const item = items[uniformInt(generator, 0, items.length - 1)];
      if (item === undefined) throw new RangeError('there is nothing to choose from');
      return item;
    },
  };
}
