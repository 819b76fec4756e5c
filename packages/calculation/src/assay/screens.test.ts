import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { conductivityScreen, conductivityScreenCalculation } from './conductivity-screen.ts';
import { densityScreen, densityScreenCalculation } from './density-screen.ts';
import { fluorescenceScreen, fluorescenceScreenCalculation } from './fluorescence-screen.ts';
import { flagOf, screenFlags } from './screen-fields.ts';

const fluorescence = fluorescenceScreenCalculation.example;
const density = densityScreenCalculation.example;
const conductivity = conductivityScreenCalculation.example;

describe('screens', () => {
  it('have no state for a pass, in none of their outputs', () => {
    expect(screenFlags).toEqual(['deviates', 'no deviation seen', 'cannot tell']);
    for (const one of [
      fluorescenceScreenCalculation,
      densityScreenCalculation,
      conductivityScreenCalculation,
    ]) {
      const text = JSON.stringify(z.toJSONSchema(one.output)).replaceAll(
        /"description":"[^"]*"/g,
        '',
      );
      expect(text).not.toMatch(/\b(pass|passes|passed|accept|accepted|good|genuine)\b/i);
    }
  });

  it('flag beyond k standard uncertainties and say nothing where too blunt', () => {
    expect(flagOf(2.1, 1, 2, 10)).toEqual({ flag: 'deviates', ratio: 2.1 });
    expect(flagOf(1.9, 1, 2, 10).flag).toBe('no deviation seen');
    expect(flagOf(1.9, 6, 2, 10).flag).toBe('cannot tell');
    expect(flagOf(0, 0, 2, 10).flag).toBe('no deviation seen');
    expect(flagOf(0.1, 0, 2, 10).flag).toBe('deviates');
  });
});

describe('fluorescenceScreen', () => {
  it('gives the figures by hand', () => {
    // Piece 917, standard 916.6 with certificate 916.6: ratio 917/916.6, indicated 917.
    const output = fluorescenceScreen(fluorescence);
    expect(output.indicatedFinenessPerMille).toBeCloseTo(917, 9);
    // Squares about the means: 0.74/12 and 0.82/12 per reading mean; certificate 0.2; surface 1.
    const scatter = Math.hypot(Math.sqrt(0.74 / 12), (917 / 916.6) * Math.sqrt(0.82 / 12));
    const expected = Math.hypot(scatter, (0.2 * 917) / 916.6, 1);
    expect(output.standardUncertaintyPerMille).toBeCloseTo(expected, 9);
  });

  it('flags a piece that indicates less than declared', () => {
    const pieceReadings = [905, 905.6, 904.8, 905.2];
    const output = fluorescenceScreen({ ...fluorescence, pieceReadings });
    expect(output.flag).toBe('deviates');
    expect(output.words).toContain('assay it');
  });

  it('does not average the surface away with more standards and readings', () => {
    const [standard] = fluorescence.standards;
    const standards = Array.from({ length: 10 }, (_, i) => ({ ...standard, label: `S${i}` }));
    const output = fluorescenceScreen({ ...fluorescence, standards: standards as never });
    expect(output.standardUncertaintyPerMille).toBeGreaterThan(1);
  });
});

describe('densityScreen', () => {
  it('mixes specific volumes and turns the density back into the fineness', () => {
    const output = densityScreen(density);
    // 1/ρ = 0.9167/19.30 + 0.0833/8.96 by hand.
    const expected = 1 / (0.9167 / 19.3 + 0.0833 / 8.96);
    expect(output.expectedDensityGramsPerCubicCentimetre).toBeCloseTo(expected, 12);
    // Weighed so that the density is just the expected one, the indicated fineness is the declared.
    const volume = 33.93 / expected;
    const inLiquid = 33.93 - volume * 0.9982 + (33.93 / expected - volume) * 0.0012;
    // With air of 0.0012 g/cm³: ρ = (m_a·ρ_l − m_l·ρ_air)/(m_a − m_l), solved for m_l.
    const exact = (33.93 * (expected - 0.9982)) / (expected - 0.0012);
    expect(Math.abs(exact - inLiquid)).toBeLessThan(0.003);
    const same = densityScreen({ ...density, massInLiquidGrams: exact });
    expect(same.densityGramsPerCubicCentimetre).toBeCloseTo(expected, 9);
    expect(same.indicatedFinenessPerMille).toBeCloseTo(916.7, 6);
  });

  it('sees the difference that silver in place of copper makes only in part, and says so by its flag', () => {
    const light = densityScreen({ ...density, massInLiquidGrams: 31.7 });
    expect(light.flag).toBe('deviates');
    const blunt = densityScreen({ ...density, massStandardUncertaintyGrams: 0.05 });
    expect(blunt.flag).toBe('cannot tell');
  });

  it('refuses a mass that does not fall in the liquid, and two metals alike', () => {
    expect(() => densityScreen({ ...density, massInLiquidGrams: 34 })).toThrow(
      'below the mass in air',
    );
    expect(() => densityScreen({ ...density, alloyDensityGramsPerCubicCentimetre: 19.25 })).toThrow(
      'differs from 19.3',
    );
  });
});

describe('conductivityScreen', () => {
  it('gives the figures by hand', () => {
    const output = conductivityScreen(conductivity);
    const mean = (10.1 + 10.13 + 10.09) / 3;
    expect(output.conductivityMegasiemensPerMetre).toBeCloseTo(mean * (1 + 0.0013 * 3), 12);
    // Student's t(0.975; 4) = 2.776.
    const half = output.upperMegasiemensPerMetre - output.referenceMegasiemensPerMetre;
    expect(half / output.standardUncertaintyMegasiemensPerMetre).toBeCloseTo(2.776, 3);
  });

  it('flags a core of another metal', () => {
    expect(conductivityScreen({ ...conductivity, pieceReadings: [14, 14.1] }).flag).toBe(
      'deviates',
    );
    const unlike = [4, 10, 16].map((conductivityMegasiemensPerMetre, i) => ({
      label: `R${i}`,
      conductivityMegasiemensPerMetre,
    }));
    expect(conductivityScreen({ ...conductivity, references: unlike }).flag).toBe('cannot tell');
  });
});
