import { describe, expect, it } from 'vitest';
import { type EndPointInput, endPoint } from '../../src/assay/end-point.ts';
import { nernstMillivolts } from '../../src/assay/gran.ts';
import values from './values.json' with { type: 'json' };

type Gran = Extract<EndPointInput['method'], { kind: 'Gran' }>;

function gran(points: readonly (readonly [number, number])[], more: Partial<Gran>) {
  return endPoint({
    curve: points.map(([volumeMillilitres, potentialMillivolts]) => ({
      volumeMillilitres,
      potentialMillivolts,
    })),
    method: {
      kind: 'Gran',
      side: 'after',
      potential: 'rises',
      startVolumeMillilitres: 100,
      temperatureDegreesCelsius: 25,
      slopeShare: 1,
      weighting: 'equal',
      ...more,
    },
    volumeStandardUncertaintyMillilitres: 0,
    confidencePercent: 95,
  });
}

const { dickson, comeau } = values;
const published = dickson.published;
const sampleGrams = published['sample mass, g'];
const molesPerKilogram = published['acid, mol/kg'];
/** Grams of acid and millivolts. */
const acid = dickson.rows.map(
  ([volume = 0, volts = 0]) => [volume * published['acid density, g/cm3'], 1000 * volts] as const,
);
const settings = {
  startVolumeMillilitres: sampleGrams,
  temperatureDegreesCelsius: published['temperature, degC'],
};
const alkalinity = (endPointGrams: number) =>
  (1e6 * endPointGrams * molesPerKilogram) / sampleGrams;

describe('end point of sea water titrated with acid, all points after it', () => {
  it('is what a plain Gran line on the data of the guide gives', () => {
    const found = gran(acid, settings);
    expect(found.endPointMillilitres).toBeCloseTo(
      dickson.computed.gran_intercept_mass_g as number,
      5,
    );
    expect(alkalinity(found.endPointMillilitres)).toBeCloseTo(
      dickson.computed.gran_alkalinity_umol_per_kg as number,
      2,
    );
    // Side reactions left out, it lies 0.15 % above the published figure, no more.
    const share = alkalinity(found.endPointMillilitres) / published['total alkalinity, umol/kg'];
    expect(share).toBeGreaterThan(1);
    expect(share).toBeLessThan(1.002);
  });

  it('reaches the published alkalinity when sulfate and fluoride are counted', () => {
    // Constants from memory, see SOURCE.md; hydrogen ion by the published E°.
    const kelvin = 273.15 + published['temperature, degC'];
    const salinity = published.salinity as number;
    const ionic = (19.924 * salinity) / (1000 - 1.005 * salinity);
    const dilution = Math.log(1 - 0.001005 * salinity);
    const sulfateConstant = Math.exp(
      -4276.1 / kelvin +
        141.328 -
        23.093 * Math.log(kelvin) +
        (-13856 / kelvin + 324.57 - 47.986 * Math.log(kelvin)) * Math.sqrt(ionic) +
        (35474 / kelvin - 771.54 + 114.723 * Math.log(kelvin)) * ionic -
        (2698 / kelvin) * ionic ** 1.5 +
        (1776 / kelvin) * ionic ** 2 +
        dilution,
    );
    const fluorideConstant = Math.exp(
      1590.2 / kelvin - 12.641 + 1.525 * Math.sqrt(ionic) + dilution,
    );
    const sulfate = ((0.14 / 96.062) * salinity) / 1.80655;
    const fluoride = ((6.7e-5 / 18.998) * salinity) / 1.80655;
    const total = 1 + sulfate / sulfateConstant;
    const slope = nernstMillivolts(published['temperature, degC']);
    const standardPotential = 1000 * published['E0, V'];
    const corrected = acid.map(([grams, millivolts]) => {
      // The published E° is that of the total scale: hydrogen ions with those that sulfate holds.
      const free = Math.exp((millivolts - standardPotential) / slope) / total;
      const onSulfate = sulfate / (1 + sulfateConstant / free);
      const onFluoride = fluoride / (1 + fluorideConstant / free);
      const share = sampleGrams / (sampleGrams + grams);
      return [grams, slope * Math.log(free + share * (onSulfate + onFluoride))] as const;
    });
    const found = gran(corrected, settings);
    const away = alkalinity(found.endPointMillilitres) - published['total alkalinity, umol/kg'];
    // Of 2260.06, a figure whose last place the constants from memory may move.
    expect(Math.abs(away)).toBeLessThan(0.05);
  });

  it('is, on the record of Comeau, near the line that lets the temperature drift', () => {
    const points = comeau.rows.map(([volume = 0, millivolts = 0]) => [volume, millivolts] as const);
    const mean = comeau.rows.reduce((sum, row) => sum + (row[2] ?? 0), 0) / comeau.rows.length;
    const found = gran(points, {
      startVolumeMillilitres: comeau.published['sample mass, g'] as number,
      temperatureDegreesCelsius: mean,
      weighting: 'potential',
    });
    const { gran_all_points_v_eq_ml: computed } = comeau.computed;
    // One mean temperature for 23.16 to 23.58 °C: a slope off by 0.07 % at either end.
    expect(Math.abs(found.endPointMillilitres / (computed as number) - 1)).toBeLessThan(0.001);
  });
});
