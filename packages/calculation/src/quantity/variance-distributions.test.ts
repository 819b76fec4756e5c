import { describe, expect, it } from 'vitest';
import { chiSquareTails, upperChiSquareProbability, upperChiSquareQuantile } from './chi-square.ts';
import { DomainError } from './domain.ts';
import { upperFisherProbability, upperFisherQuantile } from './fisher.ts';

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

  it('give the upper tail of chi-square also at 0 and at infinity', () => {
    // The printed table value turned round; the ends are by definition.
    expect(upperChiSquareProbability(18.307038053275146, 10)).toBeCloseTo(0.05, 14);
    expect(upperChiSquareProbability(0, 3)).toBe(1);
    expect(upperChiSquareProbability(Number.POSITIVE_INFINITY, 3)).toBe(0);
    // scipy 1.10.1: chi2.sf(3000, 3000).
    expect(Math.abs(upperChiSquareProbability(3000, 3000) / 0.49656643883965135 - 1)).toBeLessThan(
      1e-11,
    );
    expect(() => upperChiSquareProbability(-1, 3)).toThrow('chiSquare is -1');
    expect(() => upperChiSquareProbability(1, 0)).toThrow('degreesOfFreedom is 0');
  });
});
