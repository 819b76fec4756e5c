import betaQuantile from '@stdlib/math-base-special-betaincinv';
import { requireDomain } from '../quantity/domain.ts';

/** A probability with the range that the evidence for it leaves. */
export interface BoundedProbability {
  readonly probability: number;
  readonly least: number;
  readonly greatest: number;
}

/** Confidence of the range of a share that was counted from samples. */
const confidence = 0.95;

/**
 * Probability that a quantity lies between two limits, from draws of it.
 *
 * Formula: the share of the draws from the lower to the upper limit, both included; its range the
 * two-sided 95 % interval of Clopper and Pearson for independent draws.
 *
 * @param samples at least 1 draw
 * @param lower lower limit, −∞ where there is none
 * @param upper upper limit, ∞ where there is none
 * @returns share and range in [0, 1], not rounded
 * @throws DomainError when there are no draws
 * Validity: independent draws, as those of a simulation; the range is never shorter than stated.
 * Source: JCGM 106:2012, 7.2; C. J. Clopper and E. S. Pearson (1934), Biometrika 26, 404-413
 * @example probabilityFromSamples([1, 2, 3, 4], 2, Infinity).probability // 0.75
 */
export function probabilityFromSamples(
  samples: readonly number[] | Float64Array,
  lower: number,
  upper: number,
): BoundedProbability {
  const n = samples.length;
  requireDomain(n > 0, { field: 'samples', value: 'none', accepted: 'at least 1 sample' });
  let [below, atMost] = [0, 0];
  for (let at = 0; at < n; at += 1) {
    const value = samples[at] as number;
    // Counted in integers and without branches: samples on either side of a limit come in no order.
    below = (below + Number(value < lower)) | 0;
    atMost = (atMost + Number(value <= upper)) | 0;
  }
  const count = atMost - below;
  const tail = (1 - confidence) / 2;
  return {
    probability: count / n,
    least: count === 0 ? 0 : betaQuantile(tail, count, n - count + 1),
    greatest: count === n ? 1 : betaQuantile(tail, count + 1, n - count, true),
  };
}

/** Known points of a distribution: value below or at which lies a probability. */
export interface QuantilePoint {
  readonly probability: number;
  readonly value: number;
}

/** Distribution function at x with the range that the known points leave. */
function distributionAt(points: readonly QuantilePoint[], x: number): BoundedProbability {
  const next = points.findIndex(({ value }) => value > x);
  const before = next === -1 ? points.at(-1) : points[next - 1];
  const after = next === -1 ? undefined : points[next];
  const least = before?.probability ?? 0;
  if (before?.value === x) return { probability: least, least, greatest: least };
  const greatest = after?.probability ?? 1;
  // Beyond the outermost point nothing is known but the bounds: the middle of them stands for it.
  const share =
    before === undefined || after === undefined
      ? 0.5
      : (x - before.value) / (after.value - before.value);
  return { probability: least + share * (greatest - least), least, greatest };
}

/**
 * Probability that a quantity lies between two limits, from quantiles of its distribution.
 *
 * Formula: distribution function straight between neighbouring quantiles; the bounds are those that
 * any distribution with these quantiles keeps.
 *
 * @param points at least 2 quantiles, probabilities in (0, 1) and values both rising
 * @param lower lower limit, −∞ where there is none
 * @param upper upper limit, ∞ where there is none
 * @returns probability and its bounds in [0, 1], not rounded
 * @throws DomainError when probabilities or values do not rise
 * Validity: bounds exact for a continuous distribution; the figure between them an interpolation.
 * Source: JCGM 106:2012, 7.2 (probability as an area); common practice for the interpolation
 * @example probabilityFromQuantiles([{ probability: 0.1, value: 1 }, { probability: 0.9, value: 2 }],
 *   1.5, Infinity).probability // 0.5
 */
export function probabilityFromQuantiles(
  points: readonly QuantilePoint[],
  lower: number,
  upper: number,
): BoundedProbability {
  points.forEach(({ probability, value }, index) => {
    const before = points[index - 1];
    requireDomain(
      before === undefined || (before.probability < probability && before.value < value),
      {
        field: `quantiles.${index}`,
        value: `${value} at ${probability}`,
        accepted: 'probabilities and values that both rise from line to line',
      },
    );
  });
  const nothing = { probability: 0, least: 0, greatest: 0 };
  const everything = { probability: 1, least: 1, greatest: 1 };
  const atLower = lower === Number.NEGATIVE_INFINITY ? nothing : distributionAt(points, lower);
  const atUpper = upper === Number.POSITIVE_INFINITY ? everything : distributionAt(points, upper);
  return {
    probability: atUpper.probability - atLower.probability,
    least: Math.max(0, atUpper.least - atLower.greatest),
    greatest: Math.min(1, atUpper.greatest - atLower.least),
  };
}
