import binomial from '@stdlib/stats-base-dists-binomial';
import poisson from '@stdlib/stats-base-dists-poisson';
import { requireDomain } from '../quantity/domain.ts';
import { firstWhole } from '../quantity/halving.ts';

/** Distribution of a count: pieces that are nonconforming, or nonconformities found. */
export type CountModel =
  | { readonly kind: 'binomial'; readonly sizePieces: number; readonly fraction: number }
  | { readonly kind: 'poisson'; readonly mean: number };

/** Counts from `lower` to `upper` are inside. */
export interface CountLimits {
  readonly lower: number;
  readonly upper: number;
  /** Probability of a count outside while nothing is wrong. */
  readonly falseAlarmProbability: number;
}

/**
 * Probability of a count below `count`, and of one above it, each to its own accuracy.
 *
 * Formula: binomial or Poisson distribution; the upper tail of the binomial from the other side of
 * the same pieces, that of the Poisson as the rest of its lower one.
 */
function tails(model: CountModel, count: number): { below: number; above: number } {
  if (model.kind === 'poisson') {
    const below = count <= 0 ? 0 : poisson.cdf(count - 1, model.mean);
    return { below, above: poissonAbove(count, model.mean) };
  }
  const { sizePieces, fraction } = model;
  return {
    below: count <= 0 ? 0 : binomial.cdf(count - 1, sizePieces, fraction),
    above: count >= sizePieces ? 0 : binomial.cdf(sizePieces - count - 1, sizePieces, 1 - fraction),
  };
}

/** P(X > count) for a Poisson count, summed term by term beyond the mean so that a small tail keeps its digits. */
function poissonAbove(count: number, mean: number): number {
  if (count < 0) return 1;
  if (count < mean) return 1 - poisson.cdf(count, mean);
  let term = poisson.pmf(count + 1, mean);
  let sum = 0;
  for (let value = count + 2; term > sum * 1e-17; value += 1) {
    sum += term;
    term *= mean / value;
  }
  return sum;
}

const greatestCountOf = (model: CountModel): number =>
  model.kind === 'binomial'
    ? model.sizePieces
    : Math.ceil(model.mean + 40 * Math.sqrt(model.mean) + 60);

/**
 * Exact probability limits of a count.
 *
 * Formula: the lower limit is the greatest count with P(X < count) ≤ α/2, the upper one the least
 * count with P(X > count) ≤ α/2; both limits are inside.
 *
 * @param model binomial with number of pieces and fraction, or Poisson with mean
 * @param falseAlarmProbability α, above 0 and below 1; the actual one is at most this
 * @returns limits as counts, and the actual probability outside
 * @throws DomainError for a probability outside (0, 1)
 * Validity: exact for the model; the mean up to about 1e6. See reference/control-charts.
 * Source: definitions of the binomial and Poisson distributions; probability limits in ISO 7870-2:2013
 * @example exactCountLimits({ kind: 'poisson', mean: 4 }, 0.0027).upper // 11
 */
export function exactCountLimits(model: CountModel, falseAlarmProbability: number): CountLimits {
  requireDomain(falseAlarmProbability > 0 && falseAlarmProbability < 1, {
    field: 'falseAlarmProbability',
    value: falseAlarmProbability,
    accepted: 'a probability above 0 and below 1',
  });
  const half = falseAlarmProbability / 2;
  const most = greatestCountOf(model);
  const upper = firstWhole((count) => tails(model, count).above <= half, -1, most);
  const beyondLower = firstWhole((count) => tails(model, count).below > half, -1, most);
  const lower = Math.max(0, beyondLower - 1);
  return { lower, upper, falseAlarmProbability: alarmOutside(model, lower, upper) };
}

/**
 * Limits of a count at a number of standard deviations from its mean.
 *
 * Formula: mean ∓ L·√variance, np and np(1 − p) for the binomial, mean and mean for the Poisson; not
 * below 0. The probability outside is that of the exact distribution.
 *
 * @param model as `exactCountLimits`
 * @param limitFactor L, above 0
 * @returns limits, not rounded to counts
 * Validity: as the name says; where the mean count is below about 10 the tails are far from normal.
 * Source: ISO 7870-2:2013, 8; W. A. Shewhart (1931), Economic Control of Quality
 * @example sigmaCountLimits({ kind: 'poisson', mean: 16 }, 3).upper // 28
 */
export function sigmaCountLimits(model: CountModel, limitFactor: number): CountLimits {
  const mean = model.kind === 'poisson' ? model.mean : model.sizePieces * model.fraction;
  const variance = model.kind === 'poisson' ? mean : mean * (1 - model.fraction);
  const width = limitFactor * Math.sqrt(variance);
  const lower = Math.max(0, mean - width);
  const upper = model.kind === 'poisson' ? mean + width : Math.min(model.sizePieces, mean + width);
  return { lower, upper, falseAlarmProbability: alarmOutside(model, lower, upper) };
}

function alarmOutside(model: CountModel, lower: number, upper: number): number {
  return tails(model, Math.ceil(lower)).below + tails(model, Math.floor(upper)).above;
}
