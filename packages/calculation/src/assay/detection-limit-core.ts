import t from '@stdlib/stats-base-dists-t';
import { normalQuantile } from '../quantity/normal.ts';

/** Decision and detection limit, as signals above the blank or as contents. */
export interface Limits {
  readonly decision: number;
  readonly detection: number;
}

/**
 * Limits from a standard deviation that is known: the decision limit is exceeded by a blank with
 * probability alpha, and missed by a content at the detection limit with probability beta.
 */
export function limitsFromKnownDeviation(deviation: number, alpha: number, beta: number): Limits {
  const decision = normalQuantile(1 - alpha) * deviation;
  return { decision, detection: decision + normalQuantile(1 - beta) * deviation };
}

/** The same from a standard deviation estimated with some degrees of freedom, by quantiles of Student. */
export function limitsFromEstimate(
  deviation: number,
  degreesOfFreedom: number,
  alpha: number,
  beta: number,
): Limits {
  const decision = t.quantile(1 - alpha, degreesOfFreedom) * deviation;
  return { decision, detection: decision + t.quantile(1 - beta, degreesOfFreedom) * deviation };
}
