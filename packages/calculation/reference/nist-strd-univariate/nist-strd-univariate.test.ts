import { describe, expect, it } from 'vitest';
import { seriesStatistics } from '../../src/control/series-statistics.ts';
import values from './values.json' with { type: 'json' };

interface Certificate {
  readonly level: string;
  readonly certified: {
    readonly mean: string;
    readonly sd_n_minus_1: string;
    readonly lag1_autocorrelation: string;
  };
  readonly values?: readonly number[];
  readonly pattern?: {
    readonly first: number;
    readonly then: readonly number[];
    readonly times: number;
  };
}

/** Digits that agree: the negative logarithm of the relative error, at most 15 as certified. */
function digits(value: number, certified: string): number {
  const error = Math.abs(value - Number(certified)) / Math.abs(Number(certified));
  return error === 0 ? 15 : Math.min(15, -Math.log10(error));
}

function readingsOf({ values: listed, pattern }: Certificate): readonly number[] {
  if (listed) return listed;
  if (!pattern) throw new Error('neither values nor pattern');
  return [pattern.first, ...Array.from({ length: pattern.times }, () => pattern.then).flat()];
}

/**
 * Digits reached for mean, standard deviation and autocorrelation: in every place as many as exact
 * arithmetic on the stored doubles gives. Readings such as 10000000.1 have no exact double, which
 * alone costs the standard deviation of NumAcc4 seven of its fifteen digits.
 */
const reached: Readonly<Record<string, readonly [number, number, number]>> = {
  Lew: [15, 15, 14.8],
  Lottery: [15, 15, 14.9],
  Mavro: [15, 13.1, 13.9],
  Michelso: [15, 13.8, 13.4],
  NumAcc1: [15, 15, 15],
  NumAcc2: [15, 15, 15],
  NumAcc3: [15, 9.4, 12.2],
  NumAcc4: [15, 8.2, 11],
};

describe('certified univariate summaries', () => {
  it.each(Object.entries(values as Readonly<Record<string, Certificate>>))('%s', (name, set) => {
    const found = seriesStatistics(readingsOf(set));
    const [mean, deviation, correlation] = reached[name] ?? [15, 15, 15];
    expect(digits(found.mean, set.certified.mean)).toBeGreaterThanOrEqual(mean);
    expect(digits(found.standardDeviation, set.certified.sd_n_minus_1)).toBeGreaterThanOrEqual(
      deviation,
    );
    expect(
      digits(found.lagOneAutocorrelation ?? 0, set.certified.lag1_autocorrelation),
    ).toBeGreaterThanOrEqual(correlation);
  });

  it('covers all eight sets', () => {
    expect(Object.keys(values)).toHaveLength(8);
  });
});
