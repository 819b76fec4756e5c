import { requireDomain } from '../quantity/domain.ts';

/**
 * Numerical tolerance of a standard uncertainty: half a unit of its last significant digit.
 *
 * Formula: u written as c × 10^l with c a whole number of the wanted digits; tolerance 10^l / 2.
 *
 * @param standardUncertainty above 0
 * @param significantDigits 1 or 2 as a rule
 * @returns tolerance in the unit of the uncertainty
 * @throws DomainError when the standard uncertainty is not above 0
 * Validity: the number of digits is counted after rounding, so 0.0996 with two digits is 10 × 10⁻².
 * Source: JCGM 101:2008, 7.9.2
 * @example numericalTolerance(0.035, 2) // 0.0005
 */
export function numericalTolerance(standardUncertainty: number, significantDigits: number): number {
  requireDomain(standardUncertainty > 0 && Number.isFinite(standardUncertainty), {
    field: 'standardUncertainty',
    value: standardUncertainty,
    accepted: 'a standard uncertainty above 0',
  });
  const exponent = Number(standardUncertainty.toExponential(significantDigits - 1).split('e')[1]);
  return 0.5 * 10 ** (exponent - significantDigits + 1);
}
