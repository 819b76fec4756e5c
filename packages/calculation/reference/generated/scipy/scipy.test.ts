import { describe, expect, it } from 'vitest';
import { andersonDarling } from '../../../src/quantity/anderson-darling.ts';
import { normalDistribution, normalQuantile } from '../../../src/quantity/normal.ts';
import { sampleMoments } from '../../../src/quantity/sample-moments.ts';
import { hypergeometricAcceptance } from '../../../src/sampling/acceptance-probability.ts';
import { fractionUpperBound } from '../../../src/weights/weight-statistics.ts';
import values from './values.json' with { type: 'json' };

function relativeError(found: number, expected: number): number {
  return expected === 0 ? Math.abs(found) : Math.abs(found / expected - 1);
}

describe('distributions against values of forty digits', () => {
  it.each(values.normal)('normal distribution at $z', ({ z, probability }) => {
    expect(relativeError(normalDistribution(z, 0, 1), probability)).toBeLessThan(1e-12);
  });

  it.each(values.quantiles)('normal quantile at $probability', ({ probability, z }) => {
    expect(relativeError(normalQuantile(probability), z)).toBeLessThan(1e-12);
  });

  it.each(values.hypergeometric)(
    'hypergeometric acceptance n $n c $c N $N D $D',
    ({ n, c, N, D, probability }) => {
      const found = hypergeometricAcceptance(
        { sampleSizePieces: n, acceptanceNumber: c },
        { lotSizePieces: N, nonconformingPieces: D },
      );
      expect(relativeError(found, probability)).toBeLessThan(1e-12);
    },
  );

  it.each(values.bounds)('upper bound of $found in $examined', ({ found, examined, bound }) => {
    expect(relativeError(fractionUpperBound(found, examined), bound)).toBeLessThan(1e-12);
  });
});

describe('the Anderson–Darling statistic', () => {
  it.each(values.shapes)('agrees for the sample "$name"', ({ values: masses, statistic }) => {
    const ascending = [...masses].sort((a, b) => a - b);
    const { mean, standardDeviation } = sampleMoments(ascending);
    const found = andersonDarling(ascending, { mean, standardDeviation: standardDeviation ?? 0 });
    expect(relativeError(found, statistic)).toBeLessThan(1e-9);
  });
});
