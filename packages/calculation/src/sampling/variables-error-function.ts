import erfc from '@stdlib/math-base-special-erfc';

/** Points of the table per unit, and the arguments between which it serves. */
const pointsPerUnit = 64;
const reach = 6;
/** Terms of the series about each point, the constant one included. */
const terms = 9;

/** Coefficients of the Taylor series of erfc about every point, one after the other. */
function seriesTable(): Float64Array {
  const points = 2 * reach * pointsPerUnit + 1;
  const coefficients = new Float64Array(points * terms);
  for (let point = 0; point < points; point += 1) {
    const x = point / pointsPerUnit - reach;
    // erfc′ = −2/√π·exp(−x²); its further derivatives are Hermite polynomials times it.
    let before = 0;
    let here = (-2 / Math.sqrt(Math.PI)) * Math.exp(-x * x);
    coefficients[point * terms] = erfc(x);
    for (let order = 1; order < terms; order += 1) {
      coefficients[point * terms + order] = here;
      // From y″ = −2x·y′, term by term.
      const next = (-2 * x * order * here - 2 * (order - 1) * before) / (order * (order + 1));
      before = here;
      here = next;
    }
  }
  return coefficients;
}

const table = seriesTable();

/**
 * Complementary error function for many arguments: a table of Taylor series.
 *
 * Formula: nine terms about the nearest of 64 points per unit; outside −6 to 6 the constant 2, or the
 * function itself.
 *
 * @param x any number
 * @returns erfc(x), 0 to 2
 * Validity: relative accuracy 1e-14; compared with the function itself in laws/variables.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 7.1.19 (derivatives)
 * @example tabulatedErfc(0.5) // 0.4795001221869535
 */
export function tabulatedErfc(x: number): number {
  if (x <= -reach) return 2;
  if (!(x < reach)) return erfc(x);
  const scaled = (x + reach) * pointsPerUnit;
  const point = (scaled + 0.5) | 0;
  const h = (scaled - point) / pointsPerUnit;
  return seriesAt(table, point * terms, h);
}

/** Horner's scheme, written out: this line runs many times for one figure. */
function seriesAt(c: Float64Array, at: number, h: number): number {
  const high = ((c[at + 8] as number) * h + (c[at + 7] as number)) * h + (c[at + 6] as number);
  const middle = ((high * h + (c[at + 5] as number)) * h + (c[at + 4] as number)) * h;
  const low = ((middle + (c[at + 3] as number)) * h + (c[at + 2] as number)) * h;
  return (low + (c[at + 1] as number)) * h + (c[at] as number);
}
