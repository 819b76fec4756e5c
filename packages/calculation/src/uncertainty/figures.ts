/**
 * A number with a few significant digits, for words and labels: plain digits where they are short,
 * else a power of ten.
 *
 * @param value any finite number
 * @param digits significant digits, 1 to 15
 * @returns text that reads back as about the value
 * Validity: for display only; nothing is compared with it. Source: common practice
 * @example significantText(0.0539485, 3) // '0.0539'
 */
export function significantText(value: number, digits: number): string {
  const text = value.toPrecision(digits);
  const exponent = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value)));
  if (exponent < -6 || exponent >= 15) return value.toExponential(digits - 1);
  return text.includes('e') ? String(Number(text)) : text;
}

/**
 * A value printed to the place of the last significant digit of its standard uncertainty.
 *
 * @param value any finite number
 * @param standardUncertainty 0 or more; at 0 the value is printed whole
 * @returns text of the value
 * Validity: for display only. Source: JCGM 100:2008, 7.2.6 (two significant digits)
 * @example textToUncertainty(1.2341, 0.0539) // '1.234'
 */
export function textToUncertainty(value: number, standardUncertainty: number): string {
  if (!(standardUncertainty > 0)) return String(value);
  const exponent = Number(standardUncertainty.toExponential(1).split('e')[1]);
  const places = 1 - exponent;
  if (places > 12) return value.toPrecision(12);
  return value.toFixed(Math.max(0, places));
}

/**
 * A probability as percent with at most four significant digits.
 *
 * @param probability from 0 to 1
 * @returns text such as '95' or '99.73'
 * Validity: for display only. Source: common practice
 * @example percentText(0.9973) // '99.73'
 */
export function percentText(probability: number): string {
  return String(Number((100 * probability).toPrecision(4)));
}
