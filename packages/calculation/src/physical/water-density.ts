import { requireDomain } from '../quantity/domain.ts';

/** Constants of the formula of Thiesen as fitted for water (Tanaka et al. 2001, Table 1). */
const a1 = -3.983035;
const a2 = 301.797;
const a3 = 522_528.9;
const a4 = 69.34881;
const a5 = 999.97495;

/** Temperatures for which the recommended formula holds, in °C. */
const waterRangeCelsius = { least: 0, greatest: 40 } as const;

/** Temperatures up to which the correction for dissolved air holds, in °C. */
export const airSaturatedGreatestCelsius = 25;

/** Standard uncertainty of the recommended density in kg/m³: half the 0.00084 stated at k = 2. */
export const waterFormulaUncertainty = 0.00042;

/**
 * Density of clean water free of air, at one atmosphere.
 *
 * Formula: ρ = a5·(1 − (t + a1)²·(t + a2)/(a3·(t + a4))).
 *
 * @param celsius temperature from 0 °C to 40 °C
 * @returns density in kg/m³, not rounded
 * @throws DomainError outside that range
 * Validity: standard mean ocean water at 101 325 Pa; about 0.0008 kg/m³ at k = 2 (from memory). Tap
 * water that was distilled differs by a few thousandths. See reference/water-density.
 * Source: M. Tanaka, G. Girard, R. Davis, A. Peuto, N. Bignell (2001), Recommended table for the
 * density of water between 0 °C and 40 °C, Metrologia 38, 301-309
 * @example waterDensity(20) // 998.2067
 */
export function waterDensity(celsius: number): number {
  const { least, greatest } = waterRangeCelsius;
  requireDomain(celsius >= least && celsius <= greatest, {
    field: 'celsius',
    value: celsius,
    accepted: `a temperature from ${least} °C to ${greatest} °C`,
  });
  return unboundedWaterDensity(celsius);
}

/** The formula alone, so that a temperature may be moved by its uncertainty at the ends. */
export function unboundedWaterDensity(celsius: number): number {
  return a5 * (1 - ((celsius + a1) ** 2 * (celsius + a2)) / (a3 * (celsius + a4)));
}

/** What dissolved air changes in the density of water, in kg/m³, 0 °C to 25 °C (same, eq. 4). */
export function dissolvedAirChange(celsius: number): number {
  return -4.612e-3 + 0.106e-3 * celsius;
}
