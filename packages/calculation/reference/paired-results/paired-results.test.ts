import { describe, expect, it } from 'vitest';
import { correlationOf } from '../../src/exchange/paired-regression.ts';
import { supplierBias } from '../../src/exchange/supplier-bias.ts';
import values from './values.json' with { type: 'json' };

const meltsOf = (pairs: readonly (readonly number[])[]) =>
  pairs.map(([first = 0, second = 0], index) => ({
    melt: `${index + 1}`,
    supplierFinenessPerMille: first,
    plantFinenessPerMille: second,
  }));

const plain = {
  weighting: 'equal' as const,
  sharedStandardUncertaintyPerMille: 0,
  confidence: 0.95,
};

function expectClose(found: number | null, expected: number, relative = 1e-10): void {
  expect(Math.abs((found ?? Number.NaN) / expected - 1)).toBeLessThan(relative);
}

describe('paired results', () => {
  it.each(values.pairs)('$id: mean difference of R', (one) => {
    const found = supplierBias({ melts: meltsOf(one.pairs), ...plain });
    const expected =
      one.meanDifference ?? (one.meanFirst ?? Number.NaN) - (one.meanSecond ?? Number.NaN);
    expectClose(found.meanDifferencePerMille, expected);
    if (one.studentRatio !== undefined) expectClose(found.studentRatio, one.studentRatio);
  });

  it('correlate as R found, in logarithms', () => {
    const [kola] = values.pairs;
    const logs = (side: 0 | 1) => (kola?.pairs ?? []).map((pair) => Math.log10(pair[side] ?? 1));
    expectClose(correlationOf(logs(0), logs(1)), kola?.correlationOfLogarithms ?? Number.NaN, 1e-9);
  });
});

describe('results with stated uncertainties', () => {
  const { weighted } = values;
  const found = supplierBias({
    ...plain,
    melts: weighted.values.map((value, index) => ({
      melt: `${index + 1}`,
      supplierFinenessPerMille: value,
      plantFinenessPerMille: 0,
      differenceStandardUncertaintyPerMille:
        (weighted.expandedAndFactor[index]?.[0] ?? 0) /
        (weighted.expandedAndFactor[index]?.[1] ?? 1),
    })),
    weighting: 'by uncertainty',
  });

  it('give the weighted mean, its uncertainty, chi-square and Birge ratio of R', () => {
    expectClose(found.meanDifferencePerMille, weighted.weightedMean);
    expectClose(found.chiSquare, weighted.chiSquare);
    expectClose(found.birgeRatio, weighted.birgeRatio);
    expectClose(
      found.meanStandardUncertaintyPerMille / (found.birgeRatio ?? 1),
      weighted.weightedUncertainty,
    );
  });

  it('give the published mean with equal weights', () => {
    const mean = weighted.values.reduce((sum, value) => sum + value, 0) / weighted.values.length;
    // Printed as 2.99.
    expect(Math.abs(mean - weighted.mean)).toBeLessThan(0.005);
  });
});
