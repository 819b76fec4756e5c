import { turningPoint } from '../quantity/halving.ts';
import { normalDensity, normalDistribution } from '../quantity/normal.ts';
import type { TwoNormals } from './two-normals.ts';

/** How far two heaps lie apart, by three measures, and whether their sum has two modes. */
export interface MixtureShape {
  /** Distance over the root mean square deviation; above 2 the heaps are well apart. */
  readonly ashmanSeparation: number;
  /** Distance over twice the sum of the deviations. */
  readonly bimodalSeparation: number;
  readonly modes: readonly number[];
  /** Mass at which either heap is equally probable, between the means; null where there is none. */
  readonly divide: number | null;
  /** Share put into the wrong heap when the masses are parted there. */
  readonly wrongShare: number | null;
}

/** Density of the two heaps together. */
export function mixtureDensity(heaps: TwoNormals, value: number): number {
  return (
    heaps.share * normalDensity(value, heaps.means[0], heaps.standardDeviations[0]) +
    (1 - heaps.share) * normalDensity(value, heaps.means[1], heaps.standardDeviations[1])
  );
}

function slope(heaps: TwoNormals, value: number): number {
  const part = (index: 0 | 1, share: number): number =>
    (-share *
      (value - heaps.means[index]) *
      normalDensity(value, heaps.means[index], heaps.standardDeviations[index])) /
    heaps.standardDeviations[index] ** 2;
  return part(0, heaps.share) + part(1, 1 - heaps.share);
}

function root(value: (at: number) => number, from: number, to: number): number {
  const sign = Math.sign(value(from));
  return turningPoint((at) => Math.sign(value(at)) === sign, from, to);
}

/** Modes of the sum lie between the means; a fine look finds the turns of its slope. */
function modesOf(heaps: TwoNormals): number[] {
  const [low, high] = heaps.means;
  if (low === high) return [low];
  const looks = 400;
  const modes: number[] = [];
  const at = (look: number): number => low + ((high - low) * look) / looks;
  let before = slope(heaps, low - 1e-9 * (high - low));
  for (let look = 0; look <= looks; look += 1) {
    const here = slope(heaps, at(look));
    if (before > 0 && here <= 0) {
      modes.push(root((value) => slope(heaps, value), at(Math.max(0, look - 1)), at(look)));
    }
    before = here;
  }
  return modes;
}

/**
 * Shape of two normal heaps together: how far apart they are, their modes, where to part them.
 *
 * Formula: √2·(m₂ − m₁)/√(s₁² + s₂²); (m₂ − m₁)/(2(s₁ + s₂)); modes where the slope of the summed density
 * turns from rising to falling; parted where share·f₁ = (1 − share)·f₂ between the means.
 *
 * @param heaps share in (0, 1), means in ascending order, deviations above 0, of one unit
 * @returns separations without unit, modes and parting in the unit of the means, share in [0, 1]
 * Validity: a sum of two normal distributions has one or two modes; equal deviations and shares have two
 * where the means lie more than two deviations apart.
 * Source: K. M. Ashman, C. M. Bird and S. E. Zepf (1994), Astronomical Journal 108, 2348-2361; C. Zhang,
 * B. E. Mapes and B. J. Soden (2003), Quarterly Journal of the Royal Meteorological Society 129, 2847-2866
 * @example mixtureShape({ share: 0.5, means: [0, 4], standardDeviations: [1, 1] }).ashmanSeparation // 4
 */
export function mixtureShape(heaps: TwoNormals): MixtureShape {
  const [low, high] = heaps.means;
  const [first, second] = heaps.standardDeviations;
  const weighted = (value: number): number =>
    heaps.share * normalDensity(value, low, first) -
    (1 - heaps.share) * normalDensity(value, high, second);
  const hasDivide = weighted(low) > 0 && weighted(high) < 0;
  const divide = hasDivide ? root(weighted, low, high) : null;
  return {
    ashmanSeparation: (Math.SQRT2 * (high - low)) / Math.hypot(first, second),
    bimodalSeparation: (high - low) / (2 * (first + second)),
    modes: modesOf(heaps),
    divide,
    wrongShare: divide === null ? null : wrongShareAt(heaps, divide),
  };
}

function wrongShareAt(heaps: TwoNormals, divide: number): number {
  const [low, high] = heaps.means;
  const [first, second] = heaps.standardDeviations;
  return (
    heaps.share * normalDistributionAbove(divide, low, first) +
    (1 - heaps.share) * normalDistributionAbove(-divide, -high, second)
  );
}

function normalDistributionAbove(value: number, mean: number, deviation: number): number {
  return normalDistribution(-value, -mean, deviation);
}
