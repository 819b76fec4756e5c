import erfc from '@stdlib/math-base-special-erfc';
import gammaln from '@stdlib/math-base-special-gammaln';
import { requireDomain } from '../../quantity/domain.ts';
import { gaussLegendre } from '../../quantity/gauss-legendre.ts';
import { normalDensity, normalDistribution } from '../../quantity/normal.ts';

/**
 * Dixon's ratios for the largest result: the gap to the result `near` places below it over the
 * distance to the result `far` places above the smallest.
 */
export const dixonRatios = {
  r10: { near: 1, far: 0 },
  r11: { near: 1, far: 1 },
  r12: { near: 1, far: 2 },
  r20: { near: 2, far: 0 },
  r21: { near: 2, far: 1 },
  r22: { near: 2, far: 2 },
} as const;

export type DixonRatio = keyof typeof dixonRatios;

const greatestCount = 40;
const reach = 8.5;
const step = 1 / 5;
const gapNodes = 40;
/** Points that add less are left out; a few thousand are left. */
const negligible = 1e-16;
const densityFactor = 1 / Math.sqrt(2 * Math.PI);

/** The ratio that Dixon recommends for a number of results: the more there are, the more it spares. */
export function dixonRatioFor(count: number): DixonRatio {
  if (count <= 7) return 'r10';
  if (count <= 10) return 'r11';
  return count <= 13 ? 'r21' : 'r22';
}

/**
 * Dixon's ratio of the largest result.
 *
 * Formula: (xₙ − xₙ₋ᵢ)/(xₙ − x₁₊ⱼ) of the ordered results, i and j by the name rᵢⱼ.
 *
 * @param ascending results in ascending order, more than i + j + 1 of them
 * @param ratio name of the ratio
 * @returns ratio from 0 to 1; 0 where the results that it compares are equal
 * Validity: definition.
 * Source: W. J. Dixon (1950), Annals of Mathematical Statistics 21, 488-506
 * @example dixonStatistic([0.167, 0.177, 0.181, 0.189].map((x) => -x).reverse(), 'r10') // 0.4545
 */
export function dixonStatistic(ascending: readonly number[], ratio: DixonRatio): number {
  const { near, far } = dixonRatios[ratio];
  const last = ascending.length - 1;
  const top = ascending[last] as number;
  const whole = top - (ascending[far] as number);
  return whole > 0 ? (top - (ascending[last - near] as number)) / whole : 0;
}

/** Points of the double integral: all that does not depend on the value of the ratio. */
interface Quadrature {
  readonly size: number;
  readonly top: Float64Array;
  readonly distance: Float64Array;
  readonly belowTop: Float64Array;
  readonly belowFar: Float64Array;
  /** Weight of the point with the densities of the two results and the results beyond the far one. */
  readonly weight: Float64Array;
}

/** Number of ways to choose which results are the largest, the far one and those beyond it. */
function arrangements(count: number, far: number): number {
  return Math.exp(gammaln(count + 1) - gammaln(far + 1) - gammaln(count - far - 1));
}

function quadrature(count: number, far: number): Quadrature {
  const { nodes, weights } = gaussLegendre(gapNodes, 0, 1);
  const most = Math.round((2 * reach) / step) * gapNodes;
  const make = () => new Float64Array(most);
  const points = { top: make(), distance: make(), belowTop: make(), belowFar: make() };
  const weight = make();
  const factor = step * arrangements(count, far);
  let size = 0;
  for (let top = step - reach; top <= reach; top += step) {
    // The distance to the far result is measured from the top down to where nothing is left.
    const width = top + reach;
    const belowTop = normalDistribution(top, 0, 1);
    const topWeight = factor * width * normalDensity(top, 0, 1);
    for (let node = 0; node < gapNodes; node += 1) {
      const distance = width * (nodes[node] as number);
      const belowFar = normalDistribution(top - distance, 0, 1);
      const farWeight = (weights[node] as number) * normalDensity(top - distance, 0, 1);
      const whole = topWeight * farWeight * belowFar ** far;
      if (whole * (belowTop - belowFar) ** (count - far - 2) < negligible) continue;
      points.top[size] = top;
      points.distance[size] = distance;
      points.belowTop[size] = belowTop;
      points.belowFar[size] = belowFar;
      weight[size] = whole;
      size += 1;
    }
  }
  return { size, ...points, weight };
}

/** Upper tail of the ratio and its slope: one double integral over the largest result and the gap. */
function tailAndSlope(
  value: number,
  between: number,
  near: 1 | 2,
  rule: Quadrature,
): { tail: number; slope: number } {
  let tail = 0;
  let slope = 0;
  for (let index = 0; index < rule.size; index += 1) {
    const distance = rule.distance[index] as number;
    const z = (rule.top[index] as number) - value * distance;
    const belowNear = 0.5 * erfc(-z * Math.SQRT1_2);
    const inside = belowNear - (rule.belowFar[index] as number);
    const weight = rule.weight[index] as number;
    const lost = densityFactor * Math.exp(-0.5 * z * z) * distance;
    const power = inside ** (between - 1);
    if (near === 1) {
      tail += weight * power * inside;
      slope += weight * between * power * lost;
    } else {
      const passed = (rule.belowTop[index] as number) - belowNear;
      tail += weight * power * (inside + between * passed);
      const next = between > 1 ? inside ** (between - 2) : 0;
      slope += weight * between * (between - 1) * next * passed * lost;
    }
  }
  return { tail, slope };
}

function requireCount(count: number, ratio: DixonRatio): void {
  const { near, far } = dixonRatios[ratio];
  const least = near + far + 2;
  requireDomain(Number.isInteger(count) && count >= least && count <= greatestCount, {
    field: 'count',
    value: count,
    accepted: `a whole number of results from ${least} to ${greatestCount} for ${ratio}`,
  });
}

/**
 * Probability that Dixon's ratio of the largest of n normal results exceeds a value.
 *
 * Formula: n!/(j!·(n−j−2)!) ∫∫ φ(x)·φ(x−v)·Φ(x−v)ʲ·P dv dx over the largest result x and its distance v
 * from the far one; with A = Φ(x−rv) − Φ(x−v) and m = n − j − 2 results between them P is Aᵐ for r₁ⱼ, and
 * Aᵐ + m·Aᵐ⁻¹·(Φ(x) − Φ(x−rv)) for r₂ⱼ, where one result may lie within the gap. Trapezoidal rule in
 * x, rule of Gauss and Legendre in v.
 *
 * @param value ratio, 0 to 1
 * @param count number of results, at least i + j + 2 for rᵢⱼ, at most 40
 * @param ratio name of the ratio
 * @returns one-sided probability, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: absolute accuracy about 1e-9. See reference/dixon-ratios.
 * Source: W. J. Dixon (1951), Annals of Mathematical Statistics 22, 68-78
 * @example dixonProbability(0.412, 10, 'r10') // 0.050
 */
export function dixonProbability(value: number, count: number, ratio: DixonRatio): number {
  requireCount(count, ratio);
  requireDomain(value >= 0 && value <= 1, {
    field: 'value',
    value,
    accepted: 'a ratio from 0 to 1',
  });
  if (value === 1) return 0;
  const { near, far } = dixonRatios[ratio];
  const { tail } = tailAndSlope(value, count - far - 2, near, quadrature(count, far));
  return Math.min(1, Math.max(0, tail));
}

/**
 * Critical value of Dixon's ratio.
 *
 * Formula: inverse of `dixonProbability` by Newton's method, kept inside a shrinking interval.
 *
 * @param upperProbability one-sided significance, from 1e-6 to 0.9; half of it when both ends are watched
 * @param count number of results, at least i + j + 2 for rᵢⱼ, at most 40
 * @param ratio name of the ratio
 * @returns ratio, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: accurate to about 1e-8. See reference/dixon-ratios.
 * Source: W. J. Dixon (1951), Annals of Mathematical Statistics 22, 68-78; D. B. Rorabacher (1991),
 * Analytical Chemistry 63, 139-146
 * @example dixonCritical(0.05, 10, 'r10') // 0.412
 */
export function dixonCritical(upperProbability: number, count: number, ratio: DixonRatio): number {
  requireCount(count, ratio);
  requireDomain(upperProbability >= 1e-6 && upperProbability <= 0.9, {
    field: 'upperProbability',
    value: upperProbability,
    accepted: 'a probability from 0.000001 to 0.9',
  });
  const { near, far } = dixonRatios[ratio];
  const rule = quadrature(count, far);
  let [lower, upper] = [0, 1];
  let value = 0.5;
  for (let iteration = 0; iteration < 60; iteration += 1) {
    const { tail, slope } = tailAndSlope(value, count - far - 2, near, rule);
    if (tail > upperProbability) lower = value;
    else upper = value;
    const newton = value + (tail - upperProbability) / slope;
    const next = newton > lower && newton < upper ? newton : (lower + upper) / 2;
    if (Math.abs(next - value) < 1e-10) return next;
    value = next;
  }
  return value;
}
