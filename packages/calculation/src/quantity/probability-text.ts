/**
 * A probability for a sentence: two significant digits, or 'below 0.0001'.
 *
 * @param probability from 0 to 1
 * @returns text such as '0.032'
 * Validity: for display only; nothing is compared with it. Source: common practice
 * @example probabilityText(0.03217) // '0.032'
 */
export function probabilityText(probability: number): string {
  return probability < 1e-4 ? 'below 0.0001' : String(Number(probability.toPrecision(2)));
}
