import gammainc from '@stdlib/math-base-special-gammainc';
import { requireDomain } from '../quantity/domain.ts';

/**
 * Probability that a chi-square quantity is at least as large as a given one.
 *
 * Formula: upper regularised incomplete gamma function, Q(ν/2, x/2).
 *
 * @param chiSquare 0 or more
 * @param degreesOfFreedom above 0
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for an argument outside its range
 * Validity: relative accuracy about 1e-13, in the far tail too.
 * Source: Abramowitz and Stegun (1964), Handbook of Mathematical Functions, 26.4.19
 * @example chiSquareTail(3.841458820694124, 1) // 0.05
 */
export function chiSquareTail(chiSquare: number, degreesOfFreedom: number): number {
  requireDomain(chiSquare >= 0, {
    field: 'chiSquare',
    value: chiSquare,
    accepted: 'a number of 0 or more',
  });
  requireDomain(degreesOfFreedom > 0, {
    field: 'degreesOfFreedom',
    value: degreesOfFreedom,
    accepted: 'a number above 0',
  });
  return chiSquare === 0 ? 1 : gammainc(chiSquare / 2, degreesOfFreedom / 2, true, true);
}
