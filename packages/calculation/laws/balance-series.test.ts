import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BalancePeriod,
  balanceCovariance,
  balanceResiduals,
  balanceSeries,
  cumulativeBalances,
} from '../src/balance/balance-series.ts';
import { seededNormal } from './simulation.ts';

const deviation = fc.double({ min: 0.05, max: 5, noNaN: true });
const difference = fc.double({ min: -50, max: 50, noNaN: true });

const periodsOf = fc
  .array(
    fc.record({
      differenceGrams: difference,
      openingStandardUncertaintyGrams: fc.option(deviation, { nil: null, freq: 4 }),
      endingStandardUncertaintyGrams: deviation,
      transferStandardUncertaintyGrams: deviation,
      persistent: fc.tuple(difference, difference).map(([a, b]) => [
        { source: 'gain A', effectGrams: a / 10 },
        { source: 'gain B', effectGrams: b / 10 },
      ]),
    }),
    { minLength: 1, maxLength: 12 },
  )
  .map(([first, ...rest]) => [{ ...first, openingStandardUncertaintyGrams: 1 }, ...rest])
  .map((periods) => periods as BalancePeriod[]);

/** Lower factor of a symmetric matrix by the textbook. */
function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const lower = matrix.map(() => new Array<number>(matrix.length).fill(0));
  for (const [row, entries] of matrix.entries()) {
    for (let column = 0; column <= row; column += 1) {
      let sum = entries[column] as number;
      for (let k = 0; k < column; k += 1) {
        sum -= (lower[row]?.[k] as number) * (lower[column]?.[k] as number);
      }
      (lower[row] as number[])[column] =
        row === column ? Math.sqrt(sum) : sum / (lower[column]?.[column] as number);
    }
  }
  return lower;
}

function forward(lower: readonly (readonly number[])[], side: readonly number[]): number[] {
  const solved: number[] = [];
  for (const [row, value] of side.entries()) {
    const known = solved.reduce((sum, one, k) => sum + one * (lower[row]?.[k] as number), 0);
    solved.push((value - known) / (lower[row]?.[row] as number));
  }
  return solved;
}

const withDifferences = (periods: readonly BalancePeriod[], factor: number, add = 0) =>
  periods.map((one) => ({ ...one, differenceGrams: one.differenceGrams * factor + add }));

const zOf = (periods: readonly BalancePeriod[]): number[] =>
  balanceResiduals(periods).map(({ residual }) => residual);

const near = (left: number, right: number, size = 1) =>
  expect(Math.abs(left - right)).toBeLessThanOrEqual(1e-8 * Math.max(1, Math.abs(right), size));

const full = (periods: readonly BalancePeriod[]) =>
  balanceSeries({
    periods: periods.map((one, index) => ({
      ...one,
      persistent: [...one.persistent],
      label: `S${index}`,
    })),
    referenceValue: 0.5,
    decision: { by: 'interval', decisionInterval: 5 },
    headstartFraction: 0,
    sumsBeginAtPeriod: 1,
  });

describe('residuals of consecutive balances', () => {
  it('are those of the factor of the whole matrix', () => {
    fc.assert(
      fc.property(periodsOf, (periods) => {
        const lower = cholesky(balanceCovariance(periods));
        const expected = forward(
          lower,
          periods.map(({ differenceGrams }) => differenceGrams),
        );
        for (const [index, one] of balanceResiduals(periods).entries()) {
          near(one.residual, expected[index] as number, 100);
          near(one.residualStandardUncertaintyGrams, lower[index]?.[index] as number);
        }
      }),
    );
  });

  it('never change when a period is added', () => {
    fc.assert(
      fc.property(periodsOf, (periods) => {
        const all = zOf(periods);
        expect(zOf(periods.slice(0, -1))).toEqual(all.slice(0, -1));
      }),
    );
  });

  it('are linear in the differences, and do not depend on the unit of mass', () => {
    fc.assert(
      fc.property(periodsOf, fc.double({ min: 0.01, max: 100, noNaN: true }), (periods, factor) => {
        const once = zOf(periods);
        const scaled = zOf(withDifferences(periods, factor));
        const inOtherUnit = zOf(
          periods.map((one) => ({
            differenceGrams: one.differenceGrams * factor,
            openingStandardUncertaintyGrams:
              one.openingStandardUncertaintyGrams === null
                ? null
                : one.openingStandardUncertaintyGrams * factor,
            endingStandardUncertaintyGrams: one.endingStandardUncertaintyGrams * factor,
            transferStandardUncertaintyGrams: one.transferStandardUncertaintyGrams * factor,
            persistent: one.persistent.map((effect) => ({
              ...effect,
              effectGrams: effect.effectGrams * factor,
            })),
          })),
        );
        for (const [index, z] of once.entries()) {
          near(scaled[index] as number, factor * z, factor * 100);
          near(inOtherUnit[index] as number, z, 100);
        }
      }),
    );
  });

  it('do not care which way round a persistent error is written', () => {
    fc.assert(
      fc.property(periodsOf, (periods) => {
        const turned = periods.map((one) => ({
          ...one,
          persistent: one.persistent.map((effect) => ({
            ...effect,
            effectGrams: -effect.effectGrams,
          })),
        }));
        for (const [index, z] of zOf(periods).entries()) near(zOf(turned)[index] as number, z, 100);
      }),
    );
  });

  it('are independent with standard deviation 1 in a plant without a loss', () => {
    const normal = seededNormal(1954);
    const runs = 20_000;
    const count = 5;
    const sums = Array.from({ length: count }, () => new Array<number>(count).fill(0));
    for (let run = 0; run < runs; run += 1) {
      const gain = normal();
      let opening = 4 * normal();
      const periods = Array.from({ length: count }, (_, index): BalancePeriod => {
        const ending = 4 * normal();
        const effectGrams = 3 - index;
        const differenceGrams = opening - ending + 3 * normal() + effectGrams * gain;
        opening = ending;
        return {
          differenceGrams,
          openingStandardUncertaintyGrams: index === 0 ? 4 : null,
          endingStandardUncertaintyGrams: 4,
          transferStandardUncertaintyGrams: 3,
          persistent: [{ source: 'gain', effectGrams }],
        };
      });
      const z = zOf(periods);
      for (const [row, one] of z.entries()) {
        for (const [column, other] of z.entries()) {
          const line = sums[row] as number[];
          line[column] = (line[column] as number) + one * other;
        }
      }
    }
    // Standard error of a product 1/√runs, of a square √2/√runs; four of them.
    for (const [row, line] of sums.entries()) {
      for (const [column, sum] of line.entries()) {
        const expected = row === column ? 1 : 0;
        const error = (row === column ? Math.SQRT2 : 1) / Math.sqrt(runs);
        expect(Math.abs(sum / runs - expected)).toBeLessThan(4 * error);
      }
    }
  });
});

describe('sums and parts', () => {
  it('the cumulative variance is the sum of all entries of the matrix', () => {
    fc.assert(
      fc.property(periodsOf, (periods) => {
        const covariance = balanceCovariance(periods);
        for (const [index, one] of cumulativeBalances(periods).entries()) {
          const part = covariance.slice(0, index + 1).flatMap((row) => row.slice(0, index + 1));
          const sum = part.reduce((total, entry) => total + entry, 0);
          near(one.standardUncertaintyGrams ** 2, sum, 1000);
        }
      }),
    );
  });

  it('both splits of the newest difference add up to it', () => {
    fc.assert(
      fc.property(periodsOf, (periods) => {
        const { newest } = full(periods);
        const last = periods.at(-1)?.differenceGrams ?? Number.NaN;
        near(
          newest.reduce((sum, part) => sum + part.expectedPartGrams, 0),
          last,
          100,
        );
        near(
          newest.reduce((sum, part) => sum + part.expectedPartOfSeriesGrams, 0),
          last,
          100,
        );
        near(
          newest.reduce((sum, part) => sum + part.sharePercent, 0),
          100,
        );
      }),
    );
  });

  it('a loss of the same size in every period moves the estimate by just that', () => {
    fc.assert(
      fc.property(periodsOf, fc.double({ min: -9, max: 9, noNaN: true }), (periods, loss) => {
        const before = full(periods).steadyLossGrams;
        const after = full(withDifferences(periods, 1, loss)).steadyLossGrams;
        near(after - before, loss, 1000);
      }),
    );
  });

  it('gains mirror losses', () => {
    fc.assert(
      fc.property(periodsOf, (periods) => {
        const losses = full(periods);
        const gains = full(withDifferences(periods, -1));
        for (const [index, one] of losses.periods.entries()) {
          near(gains.periods[index]?.lowerSum ?? Number.NaN, one.upperSum ?? Number.NaN, 100);
        }
        expect(gains.signals.filter(({ way }) => way === 'too much')).toHaveLength(
          losses.signals.filter(({ way }) => way === 'missing').length,
        );
      }),
    );
  });
});
