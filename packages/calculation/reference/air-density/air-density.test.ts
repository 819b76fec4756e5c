import { describe, expect, it } from 'vitest';
import {
  type AirState,
  compressibilityFactor,
  enhancementFactor,
  moistAirDensity,
  saturationVapourPressure,
  simplifiedAirDensity,
  vapourFraction,
} from '../../src/mass/moist-air.ts';
import values from './values.json' with { type: 'json' };

const millimetreOfMercury = 133.322387415;

describe('states computed from the published constants', () => {
  it.each(values.cases.map((one) => [one.id, one] as const))('%s', (_id, one) => {
    const { t, p, h } = one.inputs;
    const state: AirState = {
      temperatureCelsius: t,
      pressurePascals: p,
      humidityFraction: h,
      carbonDioxideFraction: one.inputs.x_CO2,
    };
    const vapour = vapourFraction(state);
    const actual = [
      saturationVapourPressure(t + 273.15),
      enhancementFactor(t, p),
      vapour,
      compressibilityFactor(t, p, vapour),
      moistAirDensity(state),
      simplifiedAirDensity(state),
    ];
    // The last value of each case belongs to a short formula that is not built here.
    for (const [at, { value, tolerance }] of one.expected.slice(0, 6).entries()) {
      expect(Math.abs((actual[at] ?? Number.NaN) - value)).toBeLessThanOrEqual(tolerance * 1.01);
    }
  });
});

const published = values.published.map((one) => {
  const state: AirState = {
    temperatureCelsius: one.temperatureCelsius,
    pressurePascals: one.pressureMillimetresOfMercury * millimetreOfMercury,
    humidityFraction: one.relativeHumidityPercent / 100,
    carbonDioxideFraction: 0.0004,
  };
  return { ...one, found: moistAirDensity(state) / 1000 };
});

describe('published densities', () => {
  it('of CIPM-2007 are met to the last printed place, which is cut', () => {
    const [gupta] = published.filter((one) => one.formula === 'CIPM-2007');
    expect(gupta?.found).toBeDefined();
    expect((gupta?.found ?? 0) - (gupta?.densityGramsPerCubicCentimetre ?? 0)).toBeGreaterThan(0);
    expect((gupta?.found ?? 0) - (gupta?.densityGramsPerCubicCentimetre ?? 0)).toBeLessThan(1e-8);
  });

  it('of the older formula lie below by no more than the correction for argon', () => {
    const older = published.filter((one) => one.formula === 'Jones 1978');
    expect(older).toHaveLength(2);
    for (const one of older) {
      const relative = one.found / one.densityGramsPerCubicCentimetre - 1;
      // One unit of the last printed place below, the argon correction of 6.4e-5 above.
      expect(relative).toBeGreaterThan(-2e-5);
      expect(relative).toBeLessThan(6.4e-5);
    }
  });
});

describe('sensitivities', () => {
  it('are those of the publication in their leading digits', () => {
    const at = (change: Partial<AirState>) =>
      moistAirDensity({
        temperatureCelsius: 20,
        pressurePascals: 101_325,
        humidityFraction: 0.5,
        carbonDioxideFraction: 0.0004,
        ...change,
      });
    const base = at({});
    const { perKelvin, perPascal, perHumidityFraction, perCarbonDioxideFraction } =
      values.relativeSensitivities;
    expect((at({ temperatureCelsius: 20.1 }) / base - 1) / 0.1).toBeCloseTo(perKelvin, 3);
    expect(((at({ pressurePascals: 101_425 }) / base - 1) / 100) * 1e5).toBeCloseTo(
      perPascal * 1e5,
      1,
    );
    expect((at({ humidityFraction: 0.6 }) / base - 1) / 0.1).toBeCloseTo(perHumidityFraction, 3);
    expect((at({ carbonDioxideFraction: 0.0005 }) / base - 1) / 1e-4).toBeCloseTo(
      perCarbonDioxideFraction,
      1,
    );
  });
});
