/**
 * Logarithm of a sum whose terms are given by their logarithms, for terms that would over- or
 * underflow.
 *
 * Formula: m + ln Σ exp(xᵢ − m), m the greatest of the logarithms.
 *
 * @param logs logarithms, minus infinity for a term of 0; may be empty
 * @returns logarithm of the sum; minus infinity for none and for terms of 0 only
 * Validity: relative accuracy of the sum about 1e-15 times the number of terms.
 * Source: elementary
 * @example logOfSum([-1000, -1000]) // -999.306852819440
 */
export function logOfSum(logs: readonly number[]): number {
  let top = Number.NEGATIVE_INFINITY;
  for (const log of logs) top = Math.max(top, log);
  if (!Number.isFinite(top)) return Number.NEGATIVE_INFINITY;
  return top + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - top), 0));
}
