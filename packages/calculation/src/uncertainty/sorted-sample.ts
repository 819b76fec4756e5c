/** Values per cell on average; short cells are put in order by insertion. */
const valuesPerCell = 4;
/** A cell with more values than this is sorted by the engine. */
const longCell = 48;

function insertionSort(values: Float64Array, from: number, to: number): void {
  for (let at = from + 1; at < to; at += 1) {
    const value = values[at] as number;
    let place = at - 1;
    while (place >= from && (values[place] as number) > value) {
      values[place + 1] = values[place] as number;
      place -= 1;
    }
    values[place + 1] = value;
  }
}

/** First place of each cell after counting; `ends[cell]` is moved up to its end by `scatter`. */
function countedStarts(
  values: Float64Array,
  least: number,
  scale: number,
  cells: number,
): Uint32Array {
  const starts = new Uint32Array(cells + 1);
  for (let at = 0; at < values.length; at += 1) {
    const cell = (((values[at] as number) - least) * scale) | 0;
    starts[cell + 1] = (starts[cell + 1] as number) + 1;
  }
  for (let cell = 0; cell < cells; cell += 1) {
    starts[cell + 1] = (starts[cell + 1] as number) + (starts[cell] as number);
  }
  return starts;
}

/**
 * A copy of finite values in rising order. Values that spread over their range, as simulated
 * results do, are put into cells of equal width first, which takes a fraction of the time of a
 * general sort; crowded cells fall back on that.
 *
 * @param values finite numbers
 * @returns a sorted copy
 * Validity: any finite values; only the time depends on how they spread.
 * Source: D. E. Knuth (1998), The Art of Computer Programming, volume 3, 2nd edition, section 5.2.5
 * (distribution sorting)
 * @example sortedCopy(new Float64Array([3, 1, 2]))[0] // 1
 */
export function sortedCopy(values: Float64Array): Float64Array {
  const n = values.length;
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let at = 0; at < n; at += 1) {
    const value = values[at] as number;
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  const cells = Math.max(1, Math.floor(n / valuesPerCell));
  const scale = (cells - 0.5) / (greatest - least);
  if (!(n > longCell && Number.isFinite(scale) && scale > 0)) return values.slice().sort();
  const places = countedStarts(values, least, scale, cells);
  const sorted = new Float64Array(n);
  for (let at = 0; at < n; at += 1) {
    const value = values[at] as number;
    const cell = ((value - least) * scale) | 0;
    const place = places[cell] as number;
    sorted[place] = value;
    places[cell] = place + 1;
  }
  // Each place has moved to the end of its cell, where the next one begins.
  let start = 0;
  for (let cell = 0; cell < cells; cell += 1) {
    const end = places[cell] as number;
    if (end - start > longCell) sorted.subarray(start, end).sort();
    else if (end - start > 1) insertionSort(sorted, start, end);
    start = end;
  }
  return sorted;
}

export interface Ends {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Coverage intervals of a simulated quantity: the one with equal probability beyond both ends, and
 * the shortest one.
 *
 * Formula: with M sorted values and q the whole number nearest to p·M, intervals from value r to
 * value r + q; symmetric with r the whole part of (M − q + 1)/2; shortest with the r that gives the
 * least length.
 *
 * @param sorted values in rising order, at least 2
 * @param coverageProbability p, open range (0, 1)
 * @returns ends in the unit of the values
 * Validity: M well above 1/(1 − p); 10⁴/(1 − p) trials as a rule.
 * Source: JCGM 101:2008, 7.7
 * @example coverageIntervals(new Float64Array([0, 1, 2, 3, 10]), 0.6).shortest.upper // 3
 */
export function coverageIntervals(
  sorted: Float64Array,
  coverageProbability: number,
): { symmetric: Ends; shortest: Ends } {
  const n = sorted.length;
  const covered = Math.min(n - 1, Math.max(1, Math.floor(coverageProbability * n + 0.5)));
  // Places are counted from 0 here and from 1 in the standard.
  const symmetricStart = Math.max(0, Math.floor((n - covered + 1) / 2) - 1);
  let shortestStart = 0;
  let length = Number.POSITIVE_INFINITY;
  for (let start = 0; start + covered < n; start += 1) {
    const next = (sorted[start + covered] as number) - (sorted[start] as number);
    if (next < length) {
      length = next;
      shortestStart = start;
    }
  }
  const ends = (start: number): Ends => ({
    lower: sorted[start] as number,
    upper: sorted[start + covered] as number,
  });
  return { symmetric: ends(symmetricStart), shortest: ends(shortestStart) };
}

/** Mean and standard deviation with divisor n − 1 of at least 2 values, in two passes. */
export function meanAndDeviation(values: Float64Array): { mean: number; deviation: number } {
  const n = values.length;
  const pivot = values[0] as number;
  let sum = 0;
  for (let at = 0; at < n; at += 1) sum += (values[at] as number) - pivot;
  const mean = pivot + sum / n;
  let squares = 0;
  for (let at = 0; at < n; at += 1) {
    const distance = (values[at] as number) - mean;
    squares += distance * distance;
  }
  return { mean, deviation: Math.sqrt(squares / (n - 1)) };
}
