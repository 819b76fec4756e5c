import { requireDomain } from '../quantity/domain.ts';

/** The dip of a sample and the interval in which the best fitting mode lies. */
export interface Dip {
  readonly dip: number;
  readonly modeFrom: number;
  readonly modeTo: number;
}

/**
 * Steps of the cumulative count: value, count before and count after, for each different value.
 * Working in whole counts keeps the hulls exact.
 */
interface CumulativeCount {
  readonly values: Float64Array;
  readonly before: Float64Array;
  readonly after: Float64Array;
  readonly length: number;
}

/** Room for one sample, so that a simulation need not ask for memory at every draw. */
export interface DipRoom {
  readonly values: Float64Array;
  readonly before: Float64Array;
  readonly after: Float64Array;
  readonly minorant: Int32Array;
  readonly majorant: Int32Array;
}

/** Room for samples of up to so many values. */
export function dipRoom(most: number): DipRoom {
  return {
    values: new Float64Array(most),
    before: new Float64Array(most),
    after: new Float64Array(most),
    minorant: new Int32Array(most),
    majorant: new Int32Array(most),
  };
}

function cumulate(ascending: ArrayLike<number>, room: DipRoom): CumulativeCount {
  const { values, before, after } = room;
  let length = 0;
  for (let index = 0; index < ascending.length; index += 1) {
    const value = ascending[index] as number;
    if (length > 0 && values[length - 1] === value) after[length - 1] = index + 1;
    else {
      values[length] = value;
      before[length] = index;
      after[length] = index + 1;
      length += 1;
    }
  }
  return { values, before, after, length };
}

/**
 * Vertices of the greatest convex minorant (sign 1) or least concave majorant (sign −1) of the points
 * between two places; returns how many there are.
 */
function hull(
  points: { readonly x: Float64Array; readonly y: Float64Array },
  range: { readonly low: number; readonly high: number },
  sign: 1 | -1,
  vertices: Int32Array,
): number {
  const { x, y } = points;
  let size = 0;
  for (let next = range.low; next <= range.high; next += 1) {
    while (size >= 2) {
      const last = vertices[size - 1] as number;
      const previous = vertices[size - 2] as number;
      const turn =
        ((y[last] as number) - (y[previous] as number)) *
          ((x[next] as number) - (x[last] as number)) -
        ((y[next] as number) - (y[last] as number)) *
          ((x[last] as number) - (x[previous] as number));
      if (sign * turn < 0) break;
      size -= 1;
    }
    vertices[size] = next;
    size += 1;
  }
  return size;
}

function lineAt(
  x: Float64Array,
  y: Float64Array,
  ends: { readonly left: number; readonly right: number },
  at: number,
): number {
  const { left, right } = ends;
  if (left === right) return y[left] as number;
  const share =
    ((x[at] as number) - (x[left] as number)) / ((x[right] as number) - (x[left] as number));
  return (y[left] as number) + share * ((y[right] as number) - (y[left] as number));
}

/** Greatest distance between the two hulls, and the narrower interval in which it is attained. */
function widest(
  counts: CumulativeCount,
  room: DipRoom,
  sizes: { readonly minorant: number; readonly majorant: number },
): { distance: number; low: number; high: number; lowVertex: number; highVertex: number } {
  const { values, before, after } = counts;
  const { minorant, majorant } = room;
  let best = { distance: -1, low: 0, high: 0, lowVertex: 0, highVertex: 0 };
  let below = 0;
  let above = 0;
  while (below < sizes.minorant && above < sizes.majorant) {
    const g = minorant[below] as number;
    const l = majorant[above] as number;
    if (g <= l) {
      const left = majorant[Math.max(0, above - (l === g ? 0 : 1))] as number;
      const distance = lineAt(values, after, { left, right: l }, g) - (before[g] as number);
      if (distance >= best.distance) {
        best = { distance, low: g, high: l, lowVertex: below, highVertex: above };
      }
      below += 1;
      if (l === g) above += 1;
    } else {
      const left = minorant[below - 1] as number;
      const distance = (after[l] as number) - lineAt(values, before, { left, right: g }, l);
      if (distance >= best.distance) {
        best = { distance, low: left, high: l, lowVertex: below - 1, highVertex: above };
      }
      above += 1;
    }
  }
  return best;
}

/** Greatest distance of the counts from the hull on one side of the interval of the mode. */
function sideDistance(
  counts: CumulativeCount,
  vertices: Int32Array,
  range: { readonly from: number; readonly to: number },
  side: 'left' | 'right',
): number {
  const { values, before, after } = counts;
  const [hullY, farY] = side === 'left' ? [before, after] : [after, before];
  let greatest = 0;
  for (let vertex = range.from; vertex < range.to; vertex += 1) {
    const left = vertices[vertex] as number;
    const right = vertices[vertex + 1] as number;
    const first = side === 'left' ? left : left + 1;
    const last = side === 'left' ? right - 1 : right;
    const slope =
      ((hullY[right] as number) - (hullY[left] as number)) /
      ((values[right] as number) - (values[left] as number));
    for (let at = first; at <= last; at += 1) {
      const line =
        (hullY[left] as number) + slope * ((values[at] as number) - (values[left] as number));
      greatest = Math.max(greatest, Math.abs((farY[at] as number) - line));
    }
  }
  return greatest;
}

/** The dip of values that are in order already, in room that is given. */
export function dipOfAscending(ascending: ArrayLike<number>, room: DipRoom): Dip {
  const total = ascending.length;
  const counts = cumulate(ascending, room);
  const { values, before, after } = counts;
  let low = 0;
  let high = counts.length - 1;
  let twice = 1;
  for (;;) {
    const range = { low, high };
    const sizes = {
      minorant: hull({ x: values, y: before }, range, 1, room.minorant),
      majorant: hull({ x: values, y: after }, range, -1, room.majorant),
    };
    const found = widest(counts, room, sizes);
    if (found.distance <= twice) break;
    twice = Math.max(
      twice,
      sideDistance(counts, room.minorant, { from: 0, to: found.lowVertex }, 'left'),
      sideDistance(
        counts,
        room.majorant,
        { from: found.highVertex, to: sizes.majorant - 1 },
        'right',
      ),
    );
    if (found.low === low && found.high === high) break;
    low = found.low;
    high = found.high;
  }
  return {
    dip: twice / (2 * total),
    modeFrom: values[low] as number,
    modeTo: values[high] as number,
  };
}

/**
 * Dip of a sample: how far its cumulative share lies from that of the nearest distribution with one
 * mode.
 *
 * Formula: the least, over all distributions that are convex before and concave after a mode, of the
 * greatest distance from the cumulative share of the sample. The interval of the mode is narrowed by
 * the greatest convex minorant and the least concave majorant until their distance in it does not
 * exceed that of the sample from them outside it. Never below 1/(2n).
 *
 * @param masses 1 or more finite numbers, in any order
 * @returns dip in [1/(2n), 1/4] and ends of the interval of the mode in the unit of the masses
 * @throws DomainError for an empty list
 * Validity: exact but for rounding, repeated values included. Shown in reference/dip; small samples are
 * held against linear programming in reference/generated/weights.
 * Source: J. A. Hartigan and P. M. Hartigan (1985), Annals of Statistics 13, 70-84; P. M. Hartigan
 * (1985), Applied Statistics 34, 320-325
 * @example dip([1, 1, 2, 2]).dip // 0.25
 */
export function dip(masses: readonly number[]): Dip {
  requireDomain(masses.length >= 1, {
    field: 'masses',
    value: `${masses.length} masses`,
    accepted: 'at least one mass',
  });
  return dipOfAscending(Float64Array.from(masses).sort(), dipRoom(masses.length));
}
