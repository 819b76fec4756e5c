/** Readings as distances from one of them, in a scale of their own. */
export interface CentredReadings {
  /** Distances from the origin, times the scale; groups and order as given. */
  readonly groups: readonly Float64Array[];
  /** The reading that distances are taken from. */
  readonly origin: number;
  /** How many units of the distances make one unit of the readings: a power of ten. */
  readonly scale: number;
}

const exactLimit = 2 ** 53;
const mostPlaces = 15;

/** Decimal places of a reading from a given number on, or null where it is no short decimal. */
function placesOf(value: number, from: number): number | null {
  for (let places = from; places <= mostPlaces; places += 1) {
    const power = 10 ** places;
    const whole = Math.round(value * power);
    if (Math.abs(whole) >= exactLimit) return null;
    if (whole / power === value) return places;
  }
  return null;
}

/** Where a scale was too coarse for a reading, or -1 where it held for all of a group. */
function fillWhole(
  distances: Float64Array,
  group: readonly number[],
  power: number,
  start: number,
): number {
  for (let index = 0; index < group.length; index += 1) {
    const value = group[index] as number;
    const whole = Math.round(value * power);
    if (whole / power !== value || whole >= exactLimit || whole <= -exactLimit) return index;
    distances[index] = whole - start;
  }
  return -1;
}

function fillPlain(distances: Float64Array, group: readonly number[], origin: number): void {
  for (let index = 0; index < group.length; index += 1) {
    distances[index] = (group[index] as number) - origin;
  }
}

/**
 * Shows the distances of each group in turn, in an array that holds them only until the next one,
 * so that a million readings need no second copy. A group is shown again when a later reading has
 * more decimal places than those before it: what is made of it then replaces what was made before.
 *
 * @param groups at least one reading in the first group that has any; finite numbers
 * @param show receives the distances, the place of the group, and whether they are whole numbers
 * @returns origin and scale of the distances shown last, see `centredReadings`
 */
export function showCentred(
  groups: readonly (readonly number[])[],
  show: (distances: Float64Array, index: number, isWhole: boolean) => void,
): { readonly origin: number; readonly scale: number } {
  const origin = groups.find((group) => group.length > 0)?.[0] ?? 0;
  const room = new Float64Array(groups.reduce((most, group) => Math.max(most, group.length), 0));
  let places = placesOf(origin, 0);
  let index = 0;
  while (index < groups.length) {
    const group = groups[index] as readonly number[];
    const distances = room.subarray(0, group.length);
    if (places === null) fillPlain(distances, group, origin);
    else {
      const power = 10 ** places;
      const coarse = fillWhole(distances, group, power, Math.round(origin * power));
      if (coarse >= 0) {
        places = placesOf(group[coarse] as number, places + 1);
        index = 0;
        continue;
      }
    }
    show(distances, index, places !== null);
    index += 1;
  }
  return { origin, scale: places === null ? 1 : 10 ** places };
}

/**
 * Readings as distances from the first one. Readings with a common number of decimal places, which is how
 * instruments give them, become whole numbers first, so that the distances are exact: readings of
 * 1000000000000.4 keep their tenths, which the binary fraction next to them does not hold.
 *
 * Formula: with p places common to all readings, round(x·10ᵖ) − round(x₁·10ᵖ), scale 10ᵖ; else x − x₁.
 *
 * @param groups at least one reading in the first group that has any; finite numbers
 * @returns distances, origin and scale
 * Validity: exact where the readings written without a point stay below 2^53.
 * Source: definition
 * @example centredReadings([[1000000000000.4, 1000000000000.3]]).groups[0][1] // -1
 */
export function centredReadings(groups: readonly (readonly number[])[]): CentredReadings {
  const kept: Float64Array[] = [];
  const { origin, scale } = showCentred(groups, (distances, index) => {
    kept[index] = distances.slice();
  });
  return { groups: kept, origin, scale };
}

/**
 * Mean of distances. The sum of whole numbers is exact; for others a second pass brings back what
 * rounding took from the first.
 */
export function meanOfDistances(distances: Float64Array, isWhole = false): number {
  const count = distances.length;
  let sum = 0;
  for (let index = 0; index < count; index += 1) sum += distances[index] as number;
  const first = sum / count;
  if (isWhole && Math.abs(sum) < exactLimit) return first;
  let rest = 0;
  for (let index = 0; index < count; index += 1) rest += (distances[index] as number) - first;
  return first + rest / count;
}

/** Readings whose squares are added in one plain sum; the sums of the blocks are compensated. */
const block = 128;

/** Sum of squares of distances about a value near their mean, corrected to the mean. */
export function squaresAbout(distances: Float64Array, mean: number): number {
  let squares = 0;
  let correction = 0;
  let rest = 0;
  for (let start = 0; start < distances.length; start += block) {
    const end = Math.min(distances.length, start + block);
    let part = 0;
    for (let index = start; index < end; index += 1) {
      const deviation = (distances[index] as number) - mean;
      part += deviation * deviation;
      rest += deviation;
    }
    const next = squares + part;
    correction += squares >= part ? squares - next + part : part - next + squares;
    squares = next;
  }
  return squares + correction - (rest * rest) / Math.max(1, distances.length);
}
