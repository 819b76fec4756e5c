/**
 * Sum of many values without the loss that plain addition suffers when large and small terms mix
 * or cancel.
 *
 * Formula: a running sum and a running correction; at each addition the part lost from the smaller
 * of the two terms joins the correction, which is added once at the end.
 *
 * @param values any finite numbers, in any order, of one unit; may be empty
 * @returns the sum in that unit; 0 for an empty list
 * Validity: error about one unit in the last place of the result plus n²·1e-32 of the sum of the
 * magnitudes.
 * Source: A. Neumaier (1974), Rundungsfehleranalyse einiger Verfahren zur Summation endlicher
 * Summen, Zeitschrift für Angewandte Mathematik und Mechanik 54, 39-51
 * @example compensatedSum([1, 1e100, 1, -1e100]) // 2
 */
export function compensatedSum(values: readonly number[]): number {
  let sum = 0;
  let correction = 0;
  for (const value of values) {
    const next = sum + value;
    correction += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + correction;
}

/** Arithmetic mean of at least one value, from the compensated sum. */
export function meanOf(values: readonly number[]): number {
  return compensatedSum(values) / values.length;
}

/** Root of the sum of squares: the joint size of independent parts; 0 for none. */
export function rootSumOfSquares(values: readonly number[]): number {
  return Math.sqrt(compensatedSum(values.map((value) => value * value)));
}
