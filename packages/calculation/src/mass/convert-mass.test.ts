import { describe, expect, it } from 'vitest';
import { DomainError } from '../quantity/domain.ts';
import { convertedMass, convertMass, convertMassCalculation } from './convert-mass.ts';
import { massUnits, tensOfNanogramsByUnit } from './mass-units.ts';

const half = { decimalPlaces: 3, roundingRule: 'half-even' } as const;

describe('convertMass', () => {
  it('states the bar of the example in ounces and steps', () => {
    const output = convertMass(convertMassCalculation.example);
    const ounces = output.conversions.find((one) => one.unit === 'troy ounce');
    expect(ounces?.rounded).toBe('400.495');
    expect(output.goldBarTroyOunces).toBe('400.475');
    expect(output.silverBarTroyOunces).toBe('400.4');
    expect(output.words).toContain('12456.780 g, that is 400.495 ozt');
  });

  it('writes exact decimals where they end and none where they do not', () => {
    const { conversions } = convertMass({ mass: '1', unit: 'gram', ...half });
    const exact = Object.fromEntries(conversions.map((one) => [one.unit, one.exact]));
    expect(exact).toMatchObject({ milligram: '1000', kilogram: '0.001', 'metric carat': '5' });
    // 31.1034768 g has the prime factors 3 and 7 and more, which no power of ten has.
    expect(exact['troy ounce']).toBeNull();
    const ounces = conversions.find((one) => one.unit === 'troy ounce');
    expect(Number(ounces?.numerator) / Number(ounces?.denominator)).toBeCloseTo(1 / 31.1034768, 15);
  });

  it('rounds a midway figure as each rule says', () => {
    const of = (roundingRule: 'half-even' | 'half-up' | 'down' | 'up') =>
      convertedMass('0.0025', { from: 'gram', to: 'gram' }, { decimalPlaces: 3, roundingRule });
    expect([of('half-even'), of('half-up'), of('down'), of('up')]).toEqual([
      '0.002',
      '0.003',
      '0.002',
      '0.003',
    ]);
  });

  it('turns a negative difference and states no bar for it', () => {
    const output = convertMass({ mass: '-0.5', unit: 'pennyweight', ...half });
    expect(output.conversions.find((one) => one.unit === 'grain')?.exact).toBe('-12');
    expect(output.goldBarTroyOunces).toBeNull();
    expect(output.goldBarTurnOfScaleTroyOunces).toBeNull();
    expect(output.silverBarTroyOunces).toBeNull();
  });

  it('reads a number as the decimal that it prints as', () => {
    const output = convertMass({ mass: 0.1, unit: 'gram', ...half });
    expect(output.conversions.find((one) => one.unit === 'microgram')?.exact).toBe('100000');
  });

  it('holds the factors of the trade, each against another', () => {
    // 7000 grains are the pound of 0.45359237 kg; 12 ounces of 20 pennyweights a troy pound.
    expect(7000n * tensOfNanogramsByUnit.grain).toBe(45_359_237_000n);
    expect(tensOfNanogramsByUnit['troy pound']).toBe(240n * tensOfNanogramsByUnit.pennyweight);
    expect(tensOfNanogramsByUnit.tola).toBe(180n * tensOfNanogramsByUnit.grain);
    expect(massUnits).toHaveLength(10);
  });

  it('refuses text that is no decimal', () => {
    expect(() => convertedMass('1,5', { from: 'gram', to: 'grain' }, half)).toThrow(DomainError);
  });

  it('refuses a number of places that is not whole', () => {
    expect(() =>
      convertedMass(1, { from: 'gram', to: 'grain' }, { ...half, decimalPlaces: 1.5 }),
    ).toThrow(/decimalPlaces is 1.5/);
  });
});
