import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';
import { compensatedSum } from '../quantity/sum.ts';

/** Whether a rule looks for losses only, or for losses and gains. */
export type Sides = 'one' | 'two';

function requirePositive(field: string, value: number): void {
  requireDomain(value > 0 && Number.isFinite(value), {
    field,
    value,
    accepted: 'a number above 0',
  });
}

/**
 * Probability that the rule |difference| > factor × standard uncertainty fires when a loss has
 * happened.
 *
 * Formula: Φ((loss − z·u)/u); with two sides also Φ((−loss − z·u)/u), z the factor.
 *
 * @param options loss in g, any sign; standard uncertainty of the balance in g, above 0; factor 0 or
 *   more; sides
 * @returns probability in [0, 1], not rounded
 * @throws DomainError when a value is outside its range
 * Validity: normal errors, standard uncertainty known. See reference/material-balance.
 * Source: 10 CFR 74.53(b)(2) for a factor of 3; normal distribution function
 * @example alarmProbability({ lossGrams: 31.1, standardUncertaintyGrams: 9.1147, factor: 3,
 *   sides: 'one' }) // 0.6599
 */
export function alarmProbability(options: {
  readonly lossGrams: number;
  readonly standardUncertaintyGrams: number;
  readonly factor: number;
  readonly sides: Sides;
}): number {
  const { lossGrams, standardUncertaintyGrams, factor, sides } = options;
  requirePositive('standardUncertaintyGrams', standardUncertaintyGrams);
  requireDomain(factor >= 0, { field: 'factor', value: factor, accepted: 'a factor of 0 or more' });
  const ratio = lossGrams / standardUncertaintyGrams;
  const above = normalDistribution(ratio - factor, 0, 1);
  return sides === 'one' ? above : above + normalDistribution(-ratio - factor, 0, 1);
}

/**
 * Smallest loss that a balance finds with stated risks of a false alarm and of a miss.
 *
 * Formula: (z(1−α) + z(1−β))·u, z the normal quantile, α the risk of a false alarm (α/2 for a rule
 * with two sides), β the risk of a miss; 3.29 u for 5 % and 5 %.
 *
 * @param options standard uncertainty in g, 0 or more; risks above 0 and below 0.5; sides
 * @returns loss in g, not rounded
 * @throws DomainError when a value is outside its range
 * Validity: normal errors, standard uncertainty known. See reference/material-balance.
 * Source: L. A. Currie (1968), Analytical Chemistry 40, 586 (the same sum of quantiles); common
 * practice of material accountancy
 * @example smallestLossFound({ standardUncertaintyGrams: 1, falseAlarmProbability: 0.05,
 *   missProbability: 0.05, sides: 'one' }) // 3.2897
 */
export function smallestLossFound(options: {
  readonly standardUncertaintyGrams: number;
  readonly falseAlarmProbability: number;
  readonly missProbability: number;
  readonly sides: Sides;
}): number {
  const { standardUncertaintyGrams, falseAlarmProbability, missProbability, sides } = options;
  requireDomain(standardUncertaintyGrams >= 0 && Number.isFinite(standardUncertaintyGrams), {
    field: 'standardUncertaintyGrams',
    value: standardUncertaintyGrams,
    accepted: 'a standard uncertainty of 0 g or more',
  });
  for (const [field, value] of Object.entries({ falseAlarmProbability, missProbability })) {
    requireDomain(value > 0 && value < 0.5, {
      field,
      value,
      accepted: 'a probability above 0 and below 0.5',
    });
  }
  const falseAlarm = sides === 'one' ? falseAlarmProbability : falseAlarmProbability / 2;
  return -(normalQuantile(falseAlarm) + normalQuantile(missProbability)) * standardUncertaintyGrams;
}

/** Part of a difference that one source of error explains. */
export interface AttributedPart {
  readonly source: string;
  readonly standardUncertaintyGrams: number;
  /** Share of the variance, 0 to 1. */
  readonly share: number;
  readonly expectedPartGrams: number;
}

/**
 * Split of an observed difference over the sources of its uncertainty, assuming that nothing was
 * lost: it says which check weighing would explain most.
 *
 * Formula: expected part = difference × (source's variance / total variance), the conditional mean
 * of independent normal errors given their sum.
 *
 * @param differenceGrams observed difference in g, any sign
 * @param sources standard uncertainty in g of each source, 0 or more, not all 0
 * @returns shares that add to 1 and parts in g that add to the difference
 * @throws DomainError when a standard uncertainty is negative, or all are 0
 * Validity: independent normal errors, no loss. See reference/material-balance.
 * Source: conditional mean of a multivariate normal distribution; JCGM 100:2008, 5.1.2
 * @example attributeDifference(20, [{ source: 'gain R', standardUncertaintyGrams: 3 },
 *   { source: 'random', standardUncertaintyGrams: 4 }])[0].expectedPartGrams // 7.2
 */
export function attributeDifference(
  differenceGrams: number,
  sources: readonly { readonly source: string; readonly standardUncertaintyGrams: number }[],
): AttributedPart[] {
  for (const { source, standardUncertaintyGrams } of sources) {
    requireDomain(standardUncertaintyGrams >= 0, {
      field: source,
      value: standardUncertaintyGrams,
      accepted: 'a standard uncertainty of 0 g or more',
    });
  }
  const variance = compensatedSum(sources.map((one) => one.standardUncertaintyGrams ** 2));
  requirePositive('sources', variance);
  return sources.map(({ source, standardUncertaintyGrams }) => {
    const share = standardUncertaintyGrams ** 2 / variance;
    return { source, standardUncertaintyGrams, share, expectedPartGrams: differenceGrams * share };
  });
}
