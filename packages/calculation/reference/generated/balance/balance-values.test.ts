import { describe, expect, it } from 'vitest';
import { balanceSeries } from '../../../src/balance/balance-series.ts';
import values from './values.json' with { type: 'json' };

const near = (actual: number | undefined, expected: number, size = Math.abs(expected)): void => {
  expect(Math.abs((actual ?? Number.NaN) - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, size));
};

describe.each(values.series.map((one) => [one.periods.length, one] as const))(
  'a series of %i balances',
  (_count, one) => {
    const output = balanceSeries({
      periods: one.periods.map((period, index) => ({ ...period, label: `shift ${index + 1}` })),
      referenceValue: 0.5,
      decision: { by: 'interval', decisionInterval: 5 },
      headstartFraction: 0,
      sumsBeginAtPeriod: 1,
    });

    it('has the residuals of the whole matrix', () => {
      for (const [index, period] of output.periods.entries()) {
        near(period.residual, one.residuals[index] as number);
        near(
          period.residualStandardUncertaintyGrams,
          one.residualStandardUncertaintiesGrams[index] as number,
        );
        near(
          period.cumulativeStandardUncertaintyGrams,
          one.cumulativeStandardUncertaintiesGrams[index] as number,
        );
      }
    });

    it('has its steady loss and the probability of its squared sum', () => {
      near(output.steadyLossGrams, one.steadyLossGrams);
      near(output.steadyLossStandardUncertaintyGrams, one.steadyLossStandardUncertaintyGrams);
      near(output.quadraticProbability, one.quadraticProbability);
    });

    it('blames each source of the newest difference as much', () => {
      expect(output.newest).toHaveLength(one.newestPartsGrams.length);
      for (const [index, part] of output.newest.entries()) {
        near(part.expectedPartOfSeriesGrams, one.newestPartsGrams[index] as number);
      }
    });
  },
);
