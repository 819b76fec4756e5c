import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { airDensity } from '../src/mass/air-density.ts';
import { type AirState, moistAirDensity, simplifiedAirDensity } from '../src/mass/moist-air.ts';
import { seededNormal, standardDeviation } from './simulation.ts';

const state = (range: {
  readonly temperature: readonly [number, number];
  readonly pressure: readonly [number, number];
  readonly humidity: number;
}): fc.Arbitrary<AirState> =>
  fc.record({
    temperatureCelsius: fc.double({
      min: range.temperature[0],
      max: range.temperature[1],
      noNaN: true,
    }),
    pressurePascals: fc.double({ min: range.pressure[0], max: range.pressure[1], noNaN: true }),
    humidityFraction: fc.double({ min: 0, max: range.humidity, noNaN: true }),
    carbonDioxideFraction: fc.constant(0.0004),
  });

const shortRange = state({ temperature: [10, 30], pressure: [90_000, 110_000], humidity: 0.8 });
const fullRange = state({ temperature: [15, 27], pressure: [60_000, 110_000], humidity: 1 });

describe('laws of air density', () => {
  it('the short formula keeps within twice its stated relative uncertainty of 2e-4, by the root mean square within once', () => {
    const squares: number[] = [];
    fc.assert(
      fc.property(shortRange, (air) => {
        const relative = simplifiedAirDensity(air) / moistAirDensity(air) - 1;
        squares.push(relative ** 2);
        // The greatest departure, 2.9e-4, lies in the corner of 10 °C, 1100 hPa and 80 %.
        expect(Math.abs(relative)).toBeLessThan(2.9e-4);
      }),
      { seed: 411, numRuns: 2000 },
    );
    const meanSquare = squares.reduce((sum, one) => sum + one, 0) / squares.length;
    expect(Math.sqrt(meanSquare)).toBeLessThan(2e-4);
  });

  it('rises with pressure, falls with temperature and with humidity', () => {
    fc.assert(
      fc.property(fullRange, (air) => {
        const density = moistAirDensity(air);
        const at = (change: Partial<AirState>) => moistAirDensity({ ...air, ...change });
        expect(at({ pressurePascals: air.pressurePascals + 10 })).toBeGreaterThan(density);
        expect(at({ temperatureCelsius: air.temperatureCelsius + 0.01 })).toBeLessThan(density);
        expect(at({ humidityFraction: air.humidityFraction + 0.001 })).toBeLessThan(density);
        expect(at({ carbonDioxideFraction: 0.0005 })).toBeGreaterThan(density);
      }),
      { seed: 412, numRuns: 500 },
    );
  });

  it('comes near to an ideal gas as the pressure falls', () => {
    const thin = { temperatureCelsius: 20, humidityFraction: 0, carbonDioxideFraction: 0.0004 };
    const ideal = (pascals: number) => (pascals * 28.96546e-3) / (8.314472 * 293.15);
    const departure = (pascals: number) =>
      Math.abs(moistAirDensity({ ...thin, pressurePascals: pascals }) / ideal(pascals) - 1);
    expect(departure(100)).toBeLessThan(1e-6);
    // In proportion to the pressure, but for the small square term.
    const ratio = departure(100_000) / departure(100);
    expect(Math.abs(ratio / 1000 - 1)).toBeLessThan(0.01);
  });

  it('claims the spread of simulated readings, seed 41', () => {
    const input = {
      formula: 'CIPM-2007',
      temperatureCelsius: 21,
      pressureHectopascals: 990,
      relativeHumidityPercent: 45,
      carbonDioxidePartsPerMillion: 450,
      temperatureStandardUncertaintyKelvin: 0.3,
      pressureStandardUncertaintyHectopascals: 0.5,
      humidityStandardUncertaintyPercent: 5,
      carbonDioxideStandardUncertaintyPartsPerMillion: 50,
    } as const;
    const output = airDensity(input);
    const normal = seededNormal(41);
    const trials = 40_000;
    const densities = Array.from(
      { length: trials },
      () =>
        moistAirDensity({
          temperatureCelsius: 21 + 0.3 * normal(),
          pressurePascals: 99_000 + 50 * normal(),
          humidityFraction: 0.45 + 0.05 * normal(),
          carbonDioxideFraction: 450e-6 + 50e-6 * normal(),
        }) *
        (1 + 22e-6 * normal()),
    );
    const ratio = standardDeviation(densities) / output.standardUncertaintyKilogramsPerCubicMetre;
    // Four standard errors of a standard deviation from that many normal values.
    expect(Math.abs(ratio - 1)).toBeLessThan(4 / Math.sqrt(2 * trials));
  });
});
