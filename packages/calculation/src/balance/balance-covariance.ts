import { type BalancePeriod, persistentSources } from './balance-residuals.ts';

/** Standard uncertainty of the opening stock of every period: stated, or that of the ending before. */
function openings(periods: readonly BalancePeriod[]): number[] {
  return periods.map(
    (period, index) =>
      period.openingStandardUncertaintyGrams ??
      periods[index - 1]?.endingStandardUncertaintyGrams ??
      0,
  );
}

/**
 * Covariance matrix of consecutive balances of one place.
 *
 * Formula: Vᵢᵢ = u²(opening) + u²(ending) + u²(transfers) + Σ a²; Vᵢⱼ = Σ aᵢ·aⱼ over the persistent
 * sources, less u²(stock) where the ending stock of one is the opening stock of the other.
 *
 * @param periods in the order of time, masses in g, standard uncertainties 0 or more
 * @returns symmetric matrix in g², row after row
 * Validity: independent sources; the stock shared by neighbours is counted once, with opposite signs.
 * Source: T. Burr et al. (2016), EPJ Nuclear Sciences and Technologies 2, 36; JCGM 100:2008, F.1.2.3
 * @example balanceCovariance([0, 0].map((differenceGrams, index) => ({ differenceGrams,
 *   openingStandardUncertaintyGrams: index === 0 ? 4 : null, endingStandardUncertaintyGrams: 4,
 *   transferStandardUncertaintyGrams: 3, persistent: [] })))[0] // [41, -16]
 */
export function balanceCovariance(periods: readonly BalancePeriod[]): number[][] {
  const sources = persistentSources(periods);
  const opening = openings(periods);
  const effects = periods.map(({ persistent }) =>
    sources.map((source) =>
      persistent
        .filter((one) => one.source === source)
        .reduce((sum, one) => sum + one.effectGrams, 0),
    ),
  );
  return periods.map((period, row) =>
    periods.map((_, column) => {
      const shared = sources.reduce(
        (sum, _source, at) =>
          sum + (effects[row]?.[at] as number) * (effects[column]?.[at] as number),
        0,
      );
      if (row === column) {
        const { endingStandardUncertaintyGrams: ending } = period;
        const { transferStandardUncertaintyGrams: transfer } = period;
        return shared + (opening[row] as number) ** 2 + ending ** 2 + transfer ** 2;
      }
      const later = Math.max(row, column);
      const isCarried =
        Math.abs(row - column) === 1 && periods[later]?.openingStandardUncertaintyGrams === null;
      return isCarried ? shared - (opening[later] as number) ** 2 : shared;
    }),
  );
}

/** The sum of the differences up to a period, with its standard uncertainty. */
export interface CumulativeBalance {
  readonly differenceGrams: number;
  readonly standardUncertaintyGrams: number;
}

/**
 * Cumulative difference after each period. What lay in between cancels: only the first and the last
 * stock remain, the transfers add in quadrature, and persistent errors add up.
 *
 * Formula: variance = Σ u²(transfers) + u²(first stock) + u²(last stock), the two of every unbroken
 * run of periods, + Σ (Σ a)² over the persistent sources.
 *
 * @param periods in the order of time, masses in g, standard uncertainties 0 or more
 * @returns sums in g after each period
 * Validity: equals the sum of all entries of `balanceCovariance`. See reference/balance-series.
 * Source: T. Burr et al. (2016), EPJ Nuclear Sciences and Technologies 2, 36
 * @example cumulativeBalances([0, 0].map((differenceGrams, index) => ({ differenceGrams,
 *   openingStandardUncertaintyGrams: index === 0 ? 4 : null, endingStandardUncertaintyGrams: 4,
 *   transferStandardUncertaintyGrams: 3, persistent: [] })))[1].standardUncertaintyGrams // 7.0710678
 */
export function cumulativeBalances(periods: readonly BalancePeriod[]): CumulativeBalance[] {
  const effects = new Map<string, number>();
  let differenceGrams = 0;
  // Transfers, and the first and last stocks of the runs before the present one.
  let settled = 0;
  let firstStock = 0;
  let endingBefore = 0;
  return periods.map((period) => {
    const { openingStandardUncertaintyGrams: opening, persistent } = period;
    differenceGrams += period.differenceGrams;
    if (opening !== null) {
      settled += firstStock + endingBefore;
      firstStock = opening ** 2;
    }
    endingBefore = period.endingStandardUncertaintyGrams ** 2;
    settled += period.transferStandardUncertaintyGrams ** 2;
    for (const { source, effectGrams } of persistent) {
      effects.set(source, (effects.get(source) ?? 0) + effectGrams);
    }
    const shared = [...effects.values()].reduce((sum, effect) => sum + effect ** 2, 0);
    const variance = settled + firstStock + endingBefore + shared;
    return { differenceGrams, standardUncertaintyGrams: Math.sqrt(variance) };
  });
}
