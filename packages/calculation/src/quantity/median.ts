/**
 * Median of values in ascending order: the one in the middle, or the mean of the two there.
 *
 * @param ascending 1 or more values
 * @returns median in the unit of the values
 * Source: definition
 * @example medianOfAscending([1, 2, 4, 8]) // 3
 */
export function medianOfAscending(ascending: ArrayLike<number>): number {
  const half = ascending.length >> 1;
  const upper = ascending[half] as number;
  return ascending.length % 2 === 1 ? upper : ((ascending[half - 1] as number) + upper) / 2;
}

/**
 * Median of values in any order.
 *
 * @param values 1 or more values; they stay as they are
 * @returns median in the unit of the values
 * Source: definition
 * @example medianOf([8, 1, 4]) // 4
 */
export function medianOf(values: ArrayLike<number>): number {
  return medianOfAscending(Float64Array.from(values).sort());
}
