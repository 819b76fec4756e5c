import { requireDomain } from '../quantity/domain.ts';
import { conformanceProbability, lowerTailQuantile } from './conformance-probability.ts';

/** Halvings after which a bracket is as narrow as doubles allow. */
const halvings = 200;

/**
 * Place where a function that rises from below to above a target reaches it, by halving.
 *
 * @param f function that rises over the bracket
 * @param target value to reach
 * @param from lower end, where f is at most the target
 * @param to upper end, where f is at least the target
 * @returns the place, to the last digit of a double
 * Source: common practice (bisection)
 * @example risingRoot((x) => x * x, 2, 0, 2) // 1.4142135623730951
 */
export function risingRoot(
  f: (x: number) => number,
  target: number,
  from: number,
  to: number,
): number {
  let [low, high] = [from, to];
  for (let step = 0; step < halvings; step += 1) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) break;
    if (f(middle) < target) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * Measured value at which the probability of conformity equals a given one, on the side of one
 * limit: the edge of guarded acceptance or rejection.
 *
 * Formula: limit ± z·u for one limit, z the quantile; with a second limit the root of the
 * probability between both, by halving.
 *
 * @param options limits, null for none; standard uncertainty above 0; degrees of freedom or null;
 *   probability of conformity in (0, 1); side of the limit
 * @returns measured value in the unit of the limits, not rounded
 * @throws DomainError where no value between two limits reaches the probability
 * Validity: as `conformanceProbability`. Source: JCGM 106:2012, 8.3.2 and 8.3.3
 * @example valueWithConformance({ lower: 999.9, upper: null, standardUncertainty: 0.02,
 *   degreesOfFreedom: null, conformance: 0.95, side: 'lower' }) // 999.9329
 */
export function valueWithConformance(options: {
  readonly lower: number | null;
  readonly upper: number | null;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number | null;
  readonly conformance: number;
  readonly side: 'lower' | 'upper';
}): number {
  const { lower, upper, standardUncertainty: u, conformance, side } = options;
  const degreesOfFreedom = options.degreesOfFreedom ?? undefined;
  const z = lowerTailQuantile(conformance, degreesOfFreedom);
  const limit = side === 'lower' ? lower : upper;
  requireDomain(limit !== null, {
    field: `${side}Limit`,
    value: 'none',
    accepted: 'a limit on this side',
  });
  const single = side === 'lower' ? limit + z * u : limit - z * u;
  if (lower === null || upper === null) return single;
  const probability = (value: number) =>
    conformanceProbability({
      value,
      standardUncertainty: u,
      lowerLimit: lower,
      upperLimit: upper,
      degreesOfFreedom,
    });
  const middle = lower + (upper - lower) / 2;
  const best = probability(middle);
  requireDomain(best >= conformance, {
    field: 'rule.probability',
    value: conformance,
    accepted: `at most ${best}, the probability of a value midway between the limits`,
  });
  // The second limit takes probability away, so the edge lies on the inner side of the single one.
  if (side === 'lower')
    return risingRoot(probability, conformance, Math.min(single, middle), middle);
  return -risingRoot(
    (value) => probability(-value),
    conformance,
    -Math.max(single, middle),
    -middle,
  );
}
