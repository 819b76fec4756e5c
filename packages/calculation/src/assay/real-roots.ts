import { turningPoint } from '../quantity/halving.ts';

/** Value of a polynomial; coefficients from the constant upwards. */
const valueAt = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);

/** Root between two places of opposite sign, to the last digit. */
function rootBetween(coefficients: readonly number[], from: number, to: number): number {
  const rises = valueAt(coefficients, to) > 0;
  return turningPoint((x) => valueAt(coefficients, x) > 0 !== rises, from, to);
}

/**
 * Real roots of a polynomial in rising order, each found between two neighbouring places where the
 * polynomial turns. A double root, at which no sign changes, is left out.
 */
export function realRoots(coefficients: readonly number[]): number[] {
  const largest = Math.max(...coefficients.map(Math.abs));
  let degree = coefficients.length - 1;
  // A leading coefficient that is rounding alone would put roots at absurd places.
  while (degree > 0 && Math.abs(coefficients[degree] ?? 0) <= 1e-18 * largest) degree -= 1;
  if (degree === 0) return [];
  const used = coefficients.slice(0, degree + 1);
  if (degree === 1) return [-(used[0] ?? 0) / (used[1] ?? 1)];
  const leading = Math.abs(used[degree] ?? 1);
  // Cauchy's bound on the size of a root.
  const bound = 1 + Math.max(...used.slice(0, degree).map((one) => Math.abs(one) / leading));
  const turns = realRoots(used.slice(1).map((one, k) => one * (k + 1)));
  const places = [-bound, ...turns.filter((turn) => Math.abs(turn) < bound), bound];
  const roots: number[] = [];
  for (const [k, from] of places.entries()) {
    const to = places[k + 1];
    if (to === undefined) continue;
    if (valueAt(used, from) > 0 !== valueAt(used, to) > 0) roots.push(rootBetween(used, from, to));
  }
  return roots;
}
