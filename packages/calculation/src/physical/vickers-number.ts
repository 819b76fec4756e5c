import { requireDomain } from '../quantity/domain.ts';

/** Standard gravity in m/s², exact (3rd General Conference on Weights and Measures, 1901). */
const standardGravity = 9.80665;

/** 2·sin(136°/2)/9.80665: test force in newtons over the square of millimetres. */
export const vickersConstant = (2 * Math.sin((68 * Math.PI) / 180)) / standardGravity;

/**
 * Vickers hardness number of an indentation.
 *
 * Formula: HV = 2·sin(136°/2)/9.80665·F/d², about 0.1891·F/d².
 *
 * @param testForceNewtons above 0 N
 * @param meanDiagonalMillimetres mean of the two diagonals, above 0 mm
 * @returns hardness number, not rounded
 * @throws DomainError for a force or diagonal that is not above 0
 * Validity: pyramid of 136° between opposite faces. See reference/vickers.
 * Source: ISO 6507-1:2018, Table 1 (formula)
 * @example vickersHardness(9.807, 0.05) // 741.77
 */
export function vickersHardness(testForceNewtons: number, meanDiagonalMillimetres: number): number {
  requireDomain(testForceNewtons > 0 && Number.isFinite(testForceNewtons), {
    field: 'testForceNewtons',
    value: testForceNewtons,
    accepted: 'a force above 0 N',
  });
  requireDomain(meanDiagonalMillimetres > 0 && Number.isFinite(meanDiagonalMillimetres), {
    field: 'meanDiagonalMillimetres',
    value: meanDiagonalMillimetres,
    accepted: 'a diagonal above 0 mm',
  });
  return (vickersConstant * testForceNewtons) / meanDiagonalMillimetres ** 2;
}
