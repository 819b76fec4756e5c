import { describe, expect, it } from 'vitest';
import { normalDistribution, normalQuantile } from '../../../src/quantity/normal.ts';
import { hypergeometricAcceptance } from '../../../src/sampling/acceptance-probability.ts';
import { andersonDarling } from '../../../src/weights/normal-shape.ts';
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
    expect(relativeError(andersonDarling(ascending), statistic)).toBeLessThan(1e-9);
  });
});
