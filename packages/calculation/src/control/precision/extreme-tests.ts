import { requireDomain } from '../../quantity/domain.ts';
import { upperFisherProbability, upperFisherQuantile } from '../../quantity/fisher.ts';

function requireCount(field: string, value: number, least: number): void {
  requireDomain(Number.isInteger(value) && value >= least, {
    field,
    value,
    accepted: `a whole number of at least ${least}`,
  });
}

/** Level for one of several events that a table adds up (Bonferroni), never above one half. */
function shared(probability: number, events: number): number {
  requireDomain(probability > 0 && probability < 1, {
    field: 'upperProbability',
    value: probability,
    accepted: 'a probability above 0 and below 1',
  });
  return Math.min(0.5, probability / events);
}

/**
 * Critical value of Grubbs' statistic |x − mean|/s for one result on a stated side.
 *
 * Formula: (n − 1)/√n · √(t²/(n − 2 + t²)), t the quantile of Student's t with n − 2 degrees of freedom that
 * is exceeded with probability α/n.
 *
 * @param upperProbability one-sided significance α; half the significance when both sides are watched
 * @param count number of results n, 3 or more
 * @returns critical value, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: exact while two results cannot both exceed it (up to about 14 results at 5 %), above
 * that on the safe side by less than 1 % of the significance.
 * Source: F. E. Grubbs (1950, 1969), Technometrics 11, 1-21; ISO 5725-2:1994, Table 5
 * @example grubbsCritical(0.05, 8) // 2.031652
 */
export function grubbsCritical(upperProbability: number, count: number): number {
  requireCount('count', count, 3);
  const square = upperFisherQuantile(2 * shared(upperProbability, count), 1, count - 2);
  return ((count - 1) / Math.sqrt(count)) * Math.sqrt(square / (count - 2 + square));
}

/**
 * Probability that the largest of n normal results stands as far above the mean as found, by the
 * bound that Grubbs' critical values rest on.
 *
 * @param deviate (x − mean)/s of the extreme result, 0 or more
 * @param count number of results, 3 or more
 * @returns one-sided probability, at most 1
 * @throws DomainError for fewer than 3 results
 * @example grubbsProbability(2.0316520, 8) // 0.05
 */
export function grubbsProbability(deviate: number, count: number): number {
  requireCount('count', count, 3);
  const room = (count - 1) ** 2 - count * deviate ** 2;
  if (room <= 0) return 0;
  const square = (count * (count - 2) * deviate ** 2) / room;
  return Math.min(1, (count / 2) * upperFisherProbability(square, 1, count - 2));
}

/**
 * Critical value of range/s for the smallest and the largest result together.
 *
 * Formula: √(2(n − 1)·t²/(n − 2 + t²)), t exceeded with probability α/(n(n − 1)), n − 2 degrees of freedom.
 *
 * @param probability significance α
 * @param count number of results n, 3 or more
 * @returns critical value, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: exact up to about 12 results at 5 %, above that on the safe side (simulated in
 * laws/precision-outliers).
 * Source: H. A. David, H. O. Hartley and E. S. Pearson (1954), Biometrika 41, 482-493
 * @example rangeRatioCritical(0.05, 10) // 3.685
 */
export function rangeRatioCritical(probability: number, count: number): number {
  requireCount('count', count, 3);
  const square = upperFisherQuantile(2 * shared(probability, count * (count - 1)), 1, count - 2);
  return Math.sqrt((2 * (count - 1) * square) / (count - 2 + square));
}

/**
 * Probability of a ratio range/s as large as found, by the bound of `rangeRatioCritical`.
 *
 * @param ratio range divided by the standard deviation, 0 or more
 * @param count number of results, 3 or more
 * @returns probability, at most 1
 * @throws DomainError for fewer than 3 results
 * @example rangeRatioProbability(3.685, 10) // 0.050
 */
export function rangeRatioProbability(ratio: number, count: number): number {
  requireCount('count', count, 3);
  const room = 2 * (count - 1) - ratio ** 2;
  if (room <= 0) return 0;
  const square = ((count - 2) * ratio ** 2) / room;
  const pairs = (count * (count - 1)) / 2;
  return Math.min(1, pairs * upperFisherProbability(square, 1, count - 2));
}

/**
 * Critical value of Cochran's statistic: the largest of p variances over their sum.
 *
 * Formula: 1/(1 + (p − 1)/F), F exceeded with probability α/p, with n − 1 and (p − 1)(n − 1) degrees of freedom.
 *
 * @param probability significance α
 * @param variances number of variances p, 2 or more
 * @param replicates results n behind each variance, 2 or more
 * @returns critical value, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: exact where the critical value is above one half, else on the safe side.
 * Source: W. G. Cochran (1941), Annals of Eugenics 11, 47-52; ISO 5725-2:1994, Table 4
 * @example cochranCritical(0.05, 8, 3) // 0.516
 */
export function cochranCritical(
  probability: number,
  variances: number,
  replicates: number,
): number {
  requireCount('variances', variances, 2);
  requireCount('replicates', replicates, 2);
  const degrees = replicates - 1;
  const ratio = upperFisherQuantile(
    shared(probability, variances),
    degrees,
    (variances - 1) * degrees,
  );
  return 1 / (1 + (variances - 1) / ratio);
}

/**
 * Probability of a largest share of variance as large as found, by the bound of `cochranCritical`.
 *
 * @param share largest variance over the sum of variances, open range (0, 1)
 * @param variances number of variances, 2 or more
 * @param replicates results behind each variance, 2 or more
 * @returns probability, at most 1
 * @throws DomainError for fewer variances or replicates
 * @example cochranProbability(0.5157, 8, 3) // 0.050
 */
export function cochranProbability(share: number, variances: number, replicates: number): number {
  requireCount('variances', variances, 2);
  requireCount('replicates', replicates, 2);
  if (share >= 1) return 0;
  const degrees = replicates - 1;
  const ratio = (share * (variances - 1)) / (1 - share);
  const one = upperFisherProbability(ratio, degrees, (variances - 1) * degrees);
  return Math.min(1, variances * one);
}

/**
 * Indicator value of Mandel's h, the deviation of a laboratory's mean in standard deviations of means.
 *
 * Formula: (p − 1)·t/√(p(t² + p − 2)), t two-sided with p − 2 degrees of freedom.
 *
 * @param probability two-sided significance
 * @param laboratories number of laboratories p, 3 or more
 * @returns the value that |h| of one laboratory exceeds with that probability, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: exact for one laboratory, normal means.
 * Source: ISO 5725-2:1994, Tables 6 and 7 and their formula
 * @example mandelHCritical(0.05, 8) // 1.75
 */
export function mandelHCritical(probability: number, laboratories: number): number {
  requireCount('laboratories', laboratories, 3);
  const square = upperFisherQuantile(probability, 1, laboratories - 2);
  return (
    ((laboratories - 1) * Math.sqrt(square)) / Math.sqrt(laboratories * (square + laboratories - 2))
  );
}

/**
 * Indicator value of Mandel's k, a laboratory's standard deviation over the pooled one.
 *
 * Formula: √(p·F/(F + p − 1)), F of the upper tail with n − 1 and (p − 1)(n − 1) degrees of freedom.
 *
 * @param probability significance
 * @param laboratories number of laboratories p, 2 or more
 * @param replicates results n of each laboratory, 2 or more
 * @returns the value that k of one laboratory exceeds with that probability, not rounded
 * @throws DomainError for an argument outside its range
 * Validity: exact for one laboratory, equal numbers of replicates.
 * Source: ISO 5725-2:1994, Tables 6 and 7 and their formula
 * @example mandelKCritical(0.05, 8, 3) // 1.67
 */
export function mandelKCritical(
  probability: number,
  laboratories: number,
  replicates: number,
): number {
  requireCount('laboratories', laboratories, 2);
  requireCount('replicates', replicates, 2);
  const degrees = replicates - 1;
  const ratio = upperFisherQuantile(probability, degrees, (laboratories - 1) * degrees);
  return Math.sqrt((laboratories * ratio) / (ratio + laboratories - 1));
}
