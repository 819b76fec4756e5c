import { requireDomain } from '../quantity/domain.ts';

/** Counts of values in classes of equal width. */
export interface Histogram {
  readonly width: number;
  readonly centres: readonly number[];
  readonly counts: readonly number[];
}

const greatestClassCount = 24;

/**
 * Counts of masses in classes of equal, round width, for a picture of their shape.
 *
 * Formula: the width is the greatest of 1, 2 or 5 times a power of ten that is at most the range
 * divided by the square root of the number of values, that root held at 24 or less; the classes
 * begin at whole multiples of the width, and a value on an edge belongs to the class above it.
 *
 * @param values 1 or more finite numbers of one unit, in any order
 * @returns class width and centres in the unit of the values, and whole counts that sum to the
 * number of values
 * @throws DomainError for an empty list
 * Source: common practice
 * @example histogram([1, 2, 2, 3]).counts // [1, 2, 1]
 */
export function histogram(values: readonly number[]): Histogram {
  requireDomain(values.length >= 1, {
    field: 'values',
    value: values,
    accepted: 'at least one value',
  });
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    least = Math.min(least, value);
    greatest = Math.max(greatest, value);
  }
  if (least === greatest) return { width: 0, centres: [least], counts: [values.length] };
  const classes = Math.min(greatestClassCount, Math.max(1, Math.round(Math.sqrt(values.length))));
  const width = roundWidth((greatest - least) / classes);
  // Readings are decimal; the smallest share of a width keeps 0.3/0.1 in the class that begins there.
  const classOf = (value: number): number => Math.floor(value / width + 1e-9);
  const first = classOf(least);
  const counts = new Array<number>(classOf(greatest) - first + 1).fill(0);
  for (const value of values) {
    const index = classOf(value) - first;
    counts[index] = (counts[index] ?? 0) + 1;
  }
  // Twelve digits take the binary tail off centres that are decimal.
  const centres = counts.map((_, index) => Number(((first + index + 0.5) * width).toPrecision(12)));
  return { width, centres, counts };
}

function roundWidth(greatest: number): number {
  const power = 10 ** Math.floor(Math.log10(greatest));
  const factor = [5, 2, 1].find((candidate) => candidate * power <= greatest * (1 + 1e-9));
  return Number(((factor ?? 1) * power).toPrecision(12));
}
