/** A figure for a sentence: six significant digits at most, without trailing zeros. */
export function exchangeFigure(value: number): string {
  return Number(value.toPrecision(6)).toString();
}
