import { divideRounded, type RoundingRule } from '../quantity/rounding.ts';
import { troyOunceTenthsOfMicrogram } from './troy-ounce.ts';

/** The units of mass of the trade, from the largest to the smallest within each family. */
export const massUnits = [
  'kilogram',
  'gram',
  'milligram',
  'microgram',
  'troy pound',
  'troy ounce',
  'pennyweight',
  'grain',
  'tola',
  'metric carat',
] as const;

export type MassUnit = (typeof massUnits)[number];

/** Ten nanograms: the largest unit of which every unit here is a whole number. */
const gram = 100_000_000n;
const troyOunce = troyOunceTenthsOfMicrogram * 10n;

/**
 * Each unit in tens of nanograms, exact. The grain of 64.79891 mg is 1/7000 of the pound of
 * 0.45359237 kg (1959); 24 grains are a pennyweight, 480 a troy ounce, 5760 a troy pound and 180 a
 * tola; a metric carat is 200 mg.
 */
export const tensOfNanogramsByUnit: Readonly<Record<MassUnit, bigint>> = {
  kilogram: 1000n * gram,
  gram,
  milligram: gram / 1000n,
  microgram: gram / 1_000_000n,
  'troy pound': 12n * troyOunce,
  'troy ounce': troyOunce,
  pennyweight: troyOunce / 20n,
  grain: troyOunce / 480n,
  tola: (3n * troyOunce) / 8n,
  'metric carat': gram / 5n,
};

/** The symbol of each unit as it is printed behind a figure. */
export const symbolByUnit: Readonly<Record<MassUnit, string>> = {
  kilogram: 'kg',
  gram: 'g',
  milligram: 'mg',
  microgram: 'µg',
  'troy pound': 'lb t',
  'troy ounce': 'ozt',
  pennyweight: 'dwt',
  grain: 'gr',
  tola: 'tola',
  'metric carat': 'ct',
};

/** A ratio of whole numbers in lowest terms; the denominator is above 0. */
export interface Ratio {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

function greatestCommonDivisor(first: bigint, second: bigint): bigint {
  let [a, b] = [first < 0n ? -first : first, second];
  while (b !== 0n) [a, b] = [b, a % b];
  return a;
}

/** A ratio in lowest terms; the denominator is above 0. */
export function ratioOf(numerator: bigint, denominator: bigint): Ratio {
  const divisor = greatestCommonDivisor(numerator, denominator);
  return { numerator: numerator / divisor, denominator: denominator / divisor };
}

/** How often a factor divides a number, and what is left. */
function dividedOut(value: bigint, factor: bigint): { times: number; rest: bigint } {
  let [times, rest] = [0, value];
  while (rest % factor === 0n) {
    rest /= factor;
    times += 1;
  }
  return { times, rest };
}

/** Decimal places after which a ratio in lowest terms ends; null for one that never ends. */
export function placesOfRatio(ratio: Ratio): number | null {
  const twos = dividedOut(ratio.denominator, 2n);
  const fives = dividedOut(twos.rest, 5n);
  return fives.rest === 1n ? Math.max(twos.times, fives.times) : null;
}

/** Coefficient of a ratio written with a number of decimal places, rounded once by the rule. */
export function ratioAtPlaces(ratio: Ratio, places: number, rule: RoundingRule): bigint {
  return divideRounded(ratio.numerator * 10n ** BigInt(places), ratio.denominator, rule);
}
