/** Positive nodes and weights of the ten-point Gauss–Legendre rule on [−1, 1]. */
const nodes = [
  [0.1488743389816312, 0.2955242247147529],
  [0.4333953941292472, 0.2692667193099963],
  [0.6794095682990244, 0.219086362515982],
  [0.8650633666889845, 0.1494513491505806],
  [0.9739065285171717, 0.0666713443086881],
] as const;

/** Points and weights of a quadrature rule. */
export interface QuadratureRule {
  readonly points: Float64Array;
  readonly weights: Float64Array;
}

/**
 * Quadrature rule of ten points in each panel between neighbouring bounds.
 *
 * Formula: Gauss–Legendre in each panel, exact for polynomials up to degree 19.
 *
 * @param bounds 2 or more finite numbers in ascending order; panels of no width add nothing
 * @returns points inside the panels and their weights, in the unit of the bounds
 * Validity: for a normal density in panels of one standard deviation the error is below 1e-14.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 25.4.30 and table 25.4
 * @example gaussLegendre([0, 3]).weights.reduce((sum, weight) => sum + weight, 0) // 3
 */
export function gaussLegendre(bounds: readonly number[]): QuadratureRule {
  const panels = Math.max(0, bounds.length - 1);
  const points = new Float64Array(10 * panels);
  const weights = new Float64Array(10 * panels);
  let at = 0;
  for (let panel = 0; panel < panels; panel += 1) {
    const lower = bounds[panel] as number;
    const half = ((bounds[panel + 1] as number) - lower) / 2;
    for (const [node, weight] of nodes) {
      points[at] = lower + half * (1 - node);
      points[at + 1] = lower + half * (1 + node);
      weights[at] = weight * half;
      weights[at + 1] = weight * half;
      at += 2;
    }
  }
  return { points, weights };
}

/** Bounds of panels of equal width from one number to another. */
export function equalPanels(lower: number, upper: number, panels: number): number[] {
  return Array.from(
    { length: panels + 1 },
    (_, index) => lower + ((upper - lower) * index) / panels,
  );
}
