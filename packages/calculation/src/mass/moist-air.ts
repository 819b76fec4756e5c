/** State of the air about a balance. */
export interface AirState {
  readonly temperatureCelsius: number;
  readonly pressurePascals: number;
  /** Relative humidity as a fraction, 0 to 1. */
  readonly humidityFraction: number;
  /** Mole fraction of carbon dioxide, 0.0004 in outside air. */
  readonly carbonDioxideFraction: number;
}

const gasConstant = 8.314472;
const zeroCelsius = 273.15;
const vapourMolarMass = 18.01528e-3;

/** Saturation vapour pressure of water in pascals at a temperature in kelvin (CIPM-2007, A1.1). */
export function saturationVapourPressure(kelvin: number): number {
  return Math.exp(
    1.2378847e-5 * kelvin * kelvin - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin,
  );
}

/** Factor by which moist air departs from ideal mixing (CIPM-2007, A1.2). */
export function enhancementFactor(celsius: number, pascals: number): number {
  return 1.00062 + 3.14e-8 * pascals + 5.6e-7 * celsius * celsius;
}

/** Compressibility factor of moist air (CIPM-2007, A1.4); `vapour` is the mole fraction of water. */
export function compressibilityFactor(celsius: number, pascals: number, vapour: number): number {
  const ratio = pascals / (celsius + zeroCelsius);
  const first =
    1.58123e-6 -
    2.9331e-8 * celsius +
    1.1043e-10 * celsius * celsius +
    (5.707e-6 - 2.051e-8 * celsius) * vapour +
    (1.9898e-4 - 2.376e-6 * celsius) * vapour * vapour;
  return 1 - ratio * first + ratio * ratio * (1.83e-11 - 0.765e-8 * vapour * vapour);
}

/** Mole fraction of water vapour in air of a relative humidity. */
export function vapourFraction(state: AirState): number {
  const { temperatureCelsius, pressurePascals, humidityFraction } = state;
  return (
    (humidityFraction *
      enhancementFactor(temperatureCelsius, pressurePascals) *
      saturationVapourPressure(temperatureCelsius + zeroCelsius)) /
    pressurePascals
  );
}

/**
 * Density of moist air by the equation of state that metrology has agreed on.
 *
 * Formula: ρ = p·Ma/(Z·R·T)·(1 − xv·(1 − Mv/Ma)), with Ma = (28.96546 + 12.011·(xCO2 − 0.0004))
 * g/mol, Mv = 18.01528 g/mol, R = 8.314472 J/(mol·K), xv = h·f·psv/p and the polynomials of the
 * publication for psv, f and Z.
 *
 * @param state temperature in °C, pressure in Pa, humidity and carbon dioxide as fractions
 * @returns density in kg/m³, not rounded
 * Validity: 15 °C to 27 °C and 600 hPa to 1100 hPa, relative standard uncertainty of the equation
 * 22e-6; outside this range the value is an extrapolation. See reference/air-density.
 * Source: A. Picard, R. S. Davis, M. Gläser, K. Fujii (2008), Revised formula for the density of
 * moist air (CIPM-2007), Metrologia 45, 149-155
 * @example moistAirDensity({ temperatureCelsius: 20, pressurePascals: 101325,
 *   humidityFraction: 0.5, carbonDioxideFraction: 0.0004 }) // 1.199314
 */
export function moistAirDensity(state: AirState): number {
  const { temperatureCelsius, pressurePascals } = state;
  const vapour = vapourFraction(state);
  const z = compressibilityFactor(temperatureCelsius, pressurePascals, vapour);
  const dryMolarMass = (28.96546 + 12.011 * (state.carbonDioxideFraction - 0.0004)) * 1e-3;
  const dry =
    (pressurePascals * dryMolarMass) / (z * gasConstant * (temperatureCelsius + zeroCelsius));
  return dry * (1 - vapour * (1 - vapourMolarMass / dryMolarMass));
}

/**
 * Density of moist air by the short formula of the recommendation on weights.
 *
 * Formula: ρ = (0.34848·p − 0.009·h·exp(0.061·t))/(273.15 + t), p in hPa, h in %, t in °C.
 *
 * @param state as `moistAirDensity`; carbon dioxide is not used
 * @returns density in kg/m³, not rounded
 * Validity: 900 hPa to 1100 hPa, 10 °C to 30 °C, humidity up to 80 %; relative uncertainty 2e-4.
 * Over that range it departs from CIPM-2007 by at most 2.9e-4 (10 °C, 1100 hPa, 80 %), see
 * laws/mass-air.test.ts; it is older, and the formula before CIPM-2007 lies 7e-5 lower.
 * Source: OIML R 111-1:2004, E.3, equation (E.3-1)
 * @example simplifiedAirDensity({ temperatureCelsius: 20, pressurePascals: 101325,
 *   humidityFraction: 0.5, carbonDioxideFraction: 0.0004 }) // 1.19929
 */
export function simplifiedAirDensity(state: AirState): number {
  const { temperatureCelsius: celsius, pressurePascals, humidityFraction } = state;
  const vapour = 0.009 * (100 * humidityFraction) * Math.exp(0.061 * celsius);
  return (0.34848 * (pressurePascals / 100) - vapour) / (zeroCelsius + celsius);
}
