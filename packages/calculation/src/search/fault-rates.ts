import { requireDomain } from '../quantity/domain.ts';

/** What is known of one kind of fault: the rate assumed at first, and what was confirmed since. */
export interface FaultTally {
  /** Per opportunity, before anything was seen; in (0, 1). */
  readonly assumedRate: number;
  readonly opportunities: number;
  /** Causes confirmed by finding them; never what a search only thought probable. */
  readonly confirmed: number;
}

/**
 * Rate of a kind of fault, learned from confirmed causes only.
 *
 * Formula: a priori Beta(1, 1/r − 1) with mean r; after N opportunities with c confirmed causes the mean is
 * (1 + c)/(1/r + N).
 *
 * @param tally assumed rate in (0, 1), opportunities and confirmed causes as whole numbers from 0,
 * causes at most opportunities
 * @returns rate in (0, 1), not rounded; never 0
 * @throws DomainError for a tally outside these ranges
 * Source: conjugate beta prior of a binomial rate, elementary
 * @example faultRate({ assumedRate: 0.001, opportunities: 1000, confirmed: 1 }) // 0.001
 */
export function faultRate(tally: FaultTally): number {
  const { assumedRate, opportunities, confirmed } = tally;
  requireDomain(assumedRate > 0 && assumedRate < 1, {
    field: 'assumedRate',
    value: assumedRate,
    accepted: 'a rate above 0 and below 1: no kind of fault is impossible',
  });
  requireDomain(Number.isSafeInteger(opportunities) && opportunities >= 0, {
    field: 'opportunities',
    value: opportunities,
    accepted: 'a whole number from 0',
  });
  requireDomain(Number.isSafeInteger(confirmed) && confirmed >= 0 && confirmed <= opportunities, {
    field: 'confirmed',
    value: confirmed,
    accepted: `a whole number from 0 to ${opportunities}`,
  });
  return (1 + confirmed) / (1 / assumedRate + opportunities);
}
