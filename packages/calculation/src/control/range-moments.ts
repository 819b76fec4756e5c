import { requireDomain } from '../quantity/domain.ts';
import { gaussLegendre } from '../quantity/gauss-legendre.ts';
import { normalDensity, normalDistribution } from '../quantity/normal.ts';

/** Greatest subgroup for which a range is used; a range wastes readings long before. */
export const greatestRangeSize = 100;

/** Beyond this distance the tail of a normal distribution is below 1e-18. */
const reach = 9;
/**
 * Step over z and number of nodes over w: with half the step and twice the nodes nothing changes
 * above 1e-13. The more readings, the narrower the density of the extreme ones.
 */
const fineness = (largest: number) =>
  largest <= 10 ? { step: 1 / 4, nodeCount: 40 } : { step: 1 / 8, nodeCount: 64 };
/** The range of 100 readings exceeds this with a probability below 1e-17. */
const greatestRange = 15;

/** Mean and standard deviation of the range of n normal readings of standard deviation 1. */
export interface RangeMoments {
  /** Mean of the range, d2. */
  readonly mean: number;
  /** Standard deviation of the range, d3. */
  readonly standardDeviation: number;
}

/** Places of the trapezoidal rule with the normal density and its lower tail there. */
interface NormalGrid {
  readonly step: number;
  readonly z: Float64Array;
  readonly density: Float64Array;
  readonly below: Float64Array;
}

function normalGrid(step: number): NormalGrid {
  const z = Float64Array.from(
    { length: Math.round((2 * reach) / step) + 1 },
    (_, index) => -reach + index * step,
  );
  return {
    step,
    z,
    density: z.map((value) => normalDensity(value, 0, 1)),
    below: z.map((value) => normalDistribution(value, 0, 1)),
  };
}

/** d2 of 2 to `largest` readings; 1 − Φⁿ − (1 − Φ)ⁿ is built up from n − 1 without loss of digits. */
function rangeMeans({ below, step }: NormalGrid, largest: number): Float64Array {
  const means = new Float64Array(largest + 1);
  for (let index = 0; index < below.length; index += 1) {
    const lower = below[index] as number;
    const upper = below[below.length - 1 - index] as number;
    let lowerPower = lower;
    let upperPower = upper;
    let integrand = 0;
    for (let size = 2; size <= largest; size += 1) {
      integrand += lowerPower * upper + upperPower * lower;
      means[size] = (means[size] as number) + step * integrand;
      lowerPower *= lower;
      upperPower *= upper;
    }
  }
  return means;
}

/** Probabilities that the range of 2 to `largest` readings is at or below w, in the slots 2 to `largest`. */
function rangeProbabilities(w: number, grid: NormalGrid, largest: number): Float64Array {
  const { step, z, density, below } = grid;
  const probabilities = new Float64Array(largest + 1);
  for (let index = 0; index < z.length; index += 1) {
    const between = (below[index] as number) - normalDistribution((z[index] as number) - w, 0, 1);
    let term = step * (density[index] as number);
    for (let size = 2; size <= largest; size += 1) {
      term *= between;
      probabilities[size] = (probabilities[size] as number) + size * term;
    }
  }
  return probabilities;
}

/**
 * Mean and standard deviation of the range of n normal readings, in units of their standard
 * deviation, for every n up to the largest: the constants d2 and d3 of control charts.
 *
 * Formula: d2 = ∫ 1 − Φ(z)ⁿ − (1 − Φ(z))ⁿ dz over all z; d3² = 2·∫ w·(1 − F(w)) dw − d2² over
 * w > 0, with F(w) = n·∫ φ(z)·(Φ(z) − Φ(z − w))ⁿ⁻¹ dz the distribution of the range. Integrals
 * over z by the trapezoidal rule, which converges faster than any power here, over w by the rule
 * of Gauss and Legendre.
 *
 * @param largest greatest number of readings, whole, 2 to 100
 * @returns moments by number of readings: entry n for n readings; entries 0 and 1 are 0
 * @throws DomainError for a number outside 2 to 100
 * Validity: relative accuracy about 1e-13 for d2 and 1e-12 for d3, normal readings. See
 * reference/control-constants.
 * Source: L. H. C. Tippett (1925), Biometrika 17, 364-387; H. L. Harter (1960), Annals of
 * Mathematical Statistics 31, 1122-1147
 * @example rangeMoments(5)[5].mean // 2.325929
 */
export function rangeMoments(largest: number): RangeMoments[] {
  requireDomain(Number.isInteger(largest) && largest >= 2 && largest <= greatestRangeSize, {
    field: 'largest',
    value: largest,
    accepted: `a whole number of readings from 2 to ${greatestRangeSize}`,
  });
  const { step, nodeCount } = fineness(largest);
  const grid = normalGrid(step);
  const means = rangeMeans(grid, largest);
  const meanSquares = new Float64Array(largest + 1);
  const { nodes, weights } = gaussLegendre(nodeCount, 0, greatestRange);
  nodes.forEach((w, index) => {
    const probabilities = rangeProbabilities(w, grid, largest);
    for (let size = 2; size <= largest; size += 1) {
      const beyond = 1 - (probabilities[size] as number);
      meanSquares[size] =
        (meanSquares[size] as number) + 2 * (weights[index] as number) * w * beyond;
    }
  });
  return Array.from({ length: largest + 1 }, (_, size) => {
    const mean = means[size] as number;
    const variance = (meanSquares[size] as number) - mean ** 2;
    return { mean, standardDeviation: size < 2 ? 0 : Math.sqrt(variance) };
  });
}
