import { describe, expect, it } from 'vitest';
import { DomainError } from '../../quantity/domain.ts';
import { centredReadings } from './centred-readings.ts';
import { chiSquareTails, upperChiSquareQuantile } from './chi-square-quantile.ts';
import { modifiedLargeSampleInterval, satterthwaiteInterval } from './component-intervals.ts';
import { upperFisherProbability, upperFisherQuantile } from './fisher-quantile.ts';

describe('chi-square and F', () => {
  it('have printed table values: 18.307 for 10, 3.841 for 1, 4.965 for 1 and 10, 2.456 for 9 and 18', () => {
    // Tables of Pearson and Hartley, Biometrika Tables for Statisticians, from memory.
    expect(upperChiSquareQuantile(0.05, 10)).toBeCloseTo(18.307, 3);
    expect(upperChiSquareQuantile(0.05, 1)).toBeCloseTo(3.841, 3);
    expect(upperFisherQuantile(0.05, 1, 10)).toBeCloseTo(4.965, 3);
    expect(upperFisherQuantile(0.05, 9, 18)).toBeCloseTo(2.456, 3);
  });

  it('stay right for very many degrees of freedom, near the mean too', () => {
    // scipy 1.10.1: chi2.isf(0.025, 10⁶), chi2.isf(0.025, 3000), gammainc(1500, 1500), gammainc(5·10⁵, 5·10⁵).
    expect(Math.abs(upperChiSquareQuantile(0.025, 1e6) / 1002773.701467926 - 1)).toBeLessThan(
      1e-12,
    );
    expect(Math.abs(upperChiSquareQuantile(0.025, 3000) / 3153.703493598982 - 1)).toBeLessThan(
      1e-12,
    );
    expect(Math.abs(chiSquareTails(3000, 3000).lower / 0.5034335611603483 - 1)).toBeLessThan(1e-11);
    expect(Math.abs(chiSquareTails(1e6, 1e6).lower / 0.5001880631966055 - 1)).toBeLessThan(1e-9);
  });

  it('refuse arguments outside their range', () => {
    expect(() => chiSquareTails(1, 0)).toThrow('degreesOfFreedom is 0');
    expect(() => chiSquareTails(0, 3)).toThrow('x is 0');
    expect(() => upperChiSquareQuantile(1, 3)).toThrow('upperProbability is 1');
    expect(() => upperFisherProbability(-1, 2, 3)).toThrow('f is -1');
    expect(() => upperFisherProbability(1, 0, 3)).toThrow('numeratorDegreesOfFreedom is 0');
    expect(() => upperFisherQuantile(0, 2, 3)).toThrow(DomainError);
    expect(() => upperFisherQuantile(0.1, 2, Number.POSITIVE_INFINITY)).toThrow('denominator');
    expect(upperFisherProbability(Number.POSITIVE_INFINITY, 2, 3)).toBe(0);
  });
});

describe('intervals of components', () => {
  it('refuse a confidence of one and give none for what is not above 0', () => {
    const terms = [{ coefficient: 1, meanSquare: 2, degreesOfFreedom: 5 }];
    expect(() => modifiedLargeSampleInterval(terms, 1)).toThrow('confidence is 1');
    const negative = [...terms, { coefficient: -2, meanSquare: 2, degreesOfFreedom: 5 }];
    expect(satterthwaiteInterval(negative, 0.95)).toBe(null);
    expect(modifiedLargeSampleInterval(negative, 0.95).lower).toBe(0);
  });
});

describe('centred readings', () => {
  it('keep the tenths of readings with thirteen leading digits', () => {
    const found = centredReadings([[1000000000000.4], [1000000000000.3, 1000000000000.5]]);
    expect(found.scale).toBe(10);
    expect([...(found.groups[1] ?? [])]).toEqual([-1, 1]);
  });

  it('leave numbers that are no short decimals as they are', () => {
    const found = centredReadings([[1 / 3, 2 / 3]]);
    expect(found).toMatchObject({ scale: 1, origin: 1 / 3 });
    expect(found.groups[0]?.[1]).toBe(2 / 3 - 1 / 3);
    expect(centredReadings([[9e15, 0.1]]).scale).toBe(1);
  });
});
