import { cumulativeBalances } from '../../src/balance/balance-covariance.ts';
import { type BalancePeriod, balanceResiduals } from '../../src/balance/balance-residuals.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly differences: readonly number[];
  readonly opening: number;
  readonly ending: readonly number[];
  readonly transfers: readonly number[];
  /** Effects of each scale in each period. */
  readonly effects: readonly (readonly number[])[];
}

const wave = (index: number, step: number): number => Math.sin(1.7 * index + step);

export const row: BenchRow<Data> = {
  what: 'residuals and cumulative uncertainty of 1000 balances, 3 persistent errors',
  data: () => {
    const numbers = Array.from({ length: 1000 }, (_, index) => index);
    return {
      differences: numbers.map((index) => 5 * wave(index, 0.3)),
      opening: 2,
      ending: numbers.map((index) => 2 + wave(index, 1)),
      transfers: numbers.map((index) => 1.5 + wave(index, 2)),
      effects: [0, 1, 2].map((scale) => numbers.map((index) => 0.4 * wave(index, 5 * scale))),
    };
  },
  work: ({ differences, opening, ending, transfers, effects }) => {
    const periods = differences.map(
      (differenceGrams, index): BalancePeriod => ({
        differenceGrams,
        openingStandardUncertaintyGrams: index === 0 ? opening : null,
        endingStandardUncertaintyGrams: ending[index] as number,
        transferStandardUncertaintyGrams: transfers[index] as number,
        persistent: effects.map((scale, at) => ({
          source: String(at),
          effectGrams: scale[index] as number,
        })),
      }),
    );
    const residuals = balanceResiduals(periods).map(({ residual }) => residual);
    const cumulative = cumulativeBalances(periods);
    return [
      ...residuals.filter((_, index) => index % 50 === 0),
      residuals.reduce((sum, one) => sum + one ** 2, 0),
      cumulative[499]?.standardUncertaintyGrams ?? 0,
      cumulative[999]?.standardUncertaintyGrams ?? 0,
    ];
  },
  tolerance: 1e-8,
};
