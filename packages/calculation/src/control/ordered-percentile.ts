import { requireDomain } from '../quantity/domain.ts';

/** Where between two ordered readings a percentile lies: three published rules. */
export const percentileRules = ['n+1', 'n-1', 'n+1/3'] as const;

export type PercentileRule = (typeof percentileRules)[number];

/** Place of a percentile among n ordered readings, counted from 1. */
const places: Readonly<Record<PercentileRule, (count: number, fraction: number) => number>> = {
  'n+1': (count, fraction) => (count + 1) * fraction,
  'n-1': (count, fraction) => 1 + (count - 1) * fraction,
  'n+1/3': (count, fraction) => 1 / 3 + (count + 1 / 3) * fraction,
};

/**
 * Percentile of ordered readings, linear between neighbours.
 *
 * Formula: at the place (n + 1)·p, 1 + (n − 1)·p or 1/3 + (n + 1/3)·p, counted from 1; a place beyond
 * the ends gives the end.
 *
 * @param ascending 1 or more readings in ascending order
 * @param fraction p, 0 to 1
 * @param rule name of the place
 * @returns percentile in the unit of the readings, not rounded
 * @throws DomainError for no readings or a fraction outside 0 to 1
 * Validity: any distribution; beyond the ends of the readings it says nothing. See
 * reference/control-charts.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.2; R. J. Hyndman and Y. Fan (1996),
 * The American Statistician 50(4), definitions 6, 7 and 8
 * @example orderedPercentile([1, 2, 3, 4], 0.5, 'n+1') // 2.5
 */
export function orderedPercentile(
  ascending: ArrayLike<number>,
  fraction: number,
  rule: PercentileRule,
): number {
  const count = ascending.length;
  requireDomain(count >= 1, { field: 'ascending', value: '[]', accepted: 'at least one reading' });
  requireDomain(fraction >= 0 && fraction <= 1, {
    field: 'fraction',
    value: fraction,
    accepted: 'a number from 0 to 1',
  });
  const place = Math.min(count, Math.max(1, places[rule](count, fraction)));
  const whole = Math.floor(place);
  const lower = ascending[whole - 1] as number;
  const upper = ascending[Math.min(whole, count - 1)] as number;
  return lower + (place - whole) * (upper - lower);
}
