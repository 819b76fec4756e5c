import { goldenMinimum } from '../quantity/golden-section.ts';
import { turningPoint } from '../quantity/halving.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';
import { massSummary } from './mass-summary.ts';
import { logNormalDistribution, truncatedFit } from './truncated-fit.ts';

/** What is known of the masses before sorting; nothing where it is to be found from the masses. */
export interface UnsortedNormal {
  readonly mean: number;
  readonly standardDeviation: number;
}

/** Masses in ascending order, with the light side as the side that was cut. */
export interface CutSample {
  readonly ascending: readonly number[];
  readonly heavyEdge?: number;
  readonly blur: number;
  readonly known?: UnsortedNormal;
}

/** Logarithm of the likelihood at an edge, the normal distribution fitted anew unless it is known. */
export function edgeLogLikelihood(sample: CutSample, edge: number): number {
  const { ascending, blur, known } = sample;
  const count = ascending.length;
  if (known) {
    const upper =
      sample.heavyEdge === undefined
        ? 0
        : normalDistribution(-sample.heavyEdge, -known.mean, known.standardDeviation);
    if (blur === 0) {
      const kept = normalDistribution(-edge, -known.mean, known.standardDeviation) - upper;
      return edge > (ascending[0] as number) ? -Infinity : -count * Math.log(kept);
    }
    const spread = Math.hypot(known.standardDeviation, blur);
    return keptTerm(sample, edge) - count * logNormalDistribution((known.mean - edge) / spread);
  }
  if (blur === 0 && edge > (ascending[0] as number)) return -Infinity;
  const fit = truncatedFit(massSummary(ascending), {
    lightEdge: edge,
    lightEdgeBlur: blur,
    ...(sample.heavyEdge === undefined ? {} : { heavyEdge: sample.heavyEdge }),
  });
  if (fit.outcome === 'no-maximum') return Number.NaN;
  return fit.logLikelihood + (blur === 0 ? 0 : keptTerm(sample, edge));
}

/** Sum of the logarithms of the probabilities with which the blurred sorter kept the pieces. */
function keptTerm({ ascending, blur }: CutSample, edge: number): number {
  let sum = 0;
  for (const mass of ascending) {
    const z = (mass - edge) / blur;
    // Beyond eight blurs the logarithm is below 1e-15.
    if (z > 8) break;
    sum += logNormalDistribution(z);
  }
  return sum;
}

/** Edge of the greatest likelihood and the ends at which its logarithm has fallen by a drop. */
export interface EdgeInterval {
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

/** Standard deviations below the lightest piece where the search for the bound ends. */
const searchReach = 8;

/**
 * Place between a point where the drop is not reached and one where it is; what cannot be fitted lies
 * outside the interval.
 */
function crossing(value: (edge: number) => number, inside: number, outside: number): number {
  return turningPoint((edge) => value(edge) > 0, inside, outside, 1e-13);
}

/**
 * Edge of the greatest likelihood and the interval in which the likelihood stays near it.
 *
 * Formula: a sharp edge is best put at the lightest piece, and the interval reaches below it to where
 * the logarithm of the (profile) likelihood has fallen by −ln(1 − confidence), half a chi-square of two
 * degrees of freedom, for the edge ends the support; a blurred edge is a regular parameter: maximum by
 * golden section, fall of z²/2 on both sides.
 *
 * @param sample masses in ascending order, 5 or more; blur 0 or more
 * @param confidence in (0, 1)
 * @returns estimate and ends, null where the likelihood never falls so far
 * Validity: large samples; exact for a sharp edge and a known distribution.
 * Source: S. S. Wilks (1938), Annals of Mathematical Statistics 9, 60-62, and for ends of a support M.
 * Woodroofe (1972), Annals of Mathematical Statistics 43, 113-122
 * @example edgeInterval({ ascending: [1, 1.1, 1.2, 1.3, 1.5], blur: 0,
 *   known: { mean: 1.2, standardDeviation: 0.3 } }, 0.95).estimate // 1
 */
export function edgeInterval(sample: CutSample, confidence: number): EdgeInterval {
  const least = sample.ascending[0] as number;
  const spread =
    sample.known?.standardDeviation ?? Math.sqrt(massSummary(sample.ascending).variance);
  const at = (edge: number): number => edgeLogLikelihood(sample, edge);
  if (sample.blur === 0) {
    const drop = at(least) + Math.log1p(-confidence);
    const far = least - searchReach * spread;
    const above = (edge: number): number => at(edge) - drop;
    return {
      estimate: least,
      lower: above(far) > 0 ? null : crossing(above, least, far),
      upper: least,
    };
  }
  const estimate = greatest(at, least - 4 * spread, least + 6 * sample.blur);
  const drop = at(estimate) - normalQuantile(0.5 + confidence / 2) ** 2 / 2;
  const above = (edge: number): number => at(edge) - drop;
  const low = estimate - searchReach * spread;
  const high = (sample.ascending[sample.ascending.length - 1] as number) + sample.blur;
  return {
    estimate,
    lower: above(low) > 0 ? null : crossing(above, estimate, low),
    upper: above(high) > 0 ? null : crossing(above, estimate, high),
  };
}

/** Maximum of a function with one hump between two points, by a coarse look and golden section. */
function greatest(value: (edge: number) => number, from: number, to: number): number {
  const looks = 40;
  let best = 0;
  let bestValue = Number.NEGATIVE_INFINITY;
  for (let look = 0; look <= looks; look += 1) {
    const found = value(from + ((to - from) * look) / looks);
    if (found > bestValue) {
      bestValue = found;
      best = look;
    }
  }
  const step = (to - from) / looks;
  const [lower, upper] = [from + (best - 1) * step, from + (best + 1) * step];
  return goldenMinimum((edge) => -value(edge), lower, upper, 60);
}

/**
 * Bound of an edge from the pieces nearest to it, whatever the distribution: where the density is about
 * even near the edge, (x₁ − a)/(xₖ − x₁) exceeds r with probability (1 + r)^(1 − k).
 *
 * @param ascending 2 or more masses in ascending order
 * @param nearest k, whole, from 2 to the number of masses
 * @param confidence in (0, 1)
 * @returns lower bound of the edge, in the unit of the masses
 * Validity: exact for an even density; with a rising density the true edge lies a little lower, so take
 * k small against the number of masses.
 * Source: D. S. Robson and J. H. Whitlock (1964), Biometrika 51, 33-39, for k = 2; gamma spacings for
 * more, elementary
 * @example spacingBound([1, 2, 4], 2, 0.75) // -2
 */
export function spacingBound(
  ascending: readonly number[],
  nearest: number,
  confidence: number,
): number {
  const first = ascending[0] as number;
  const ratio = (1 - confidence) ** (-1 / (nearest - 1)) - 1;
  return first - ratio * ((ascending[nearest - 1] as number) - first);
}
