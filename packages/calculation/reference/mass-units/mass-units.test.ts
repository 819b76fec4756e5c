import { describe, expect, it } from 'vitest';
import { convertedMass, convertMass } from '../../src/mass/convert-mass.ts';
import type { MassUnit } from '../../src/mass/mass-units.ts';
import values from './values.json' with { type: 'json' };

function caseById(id: string) {
  const found = values.cases.find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  return found;
}

const exactly = (mass: number | string, from: MassUnit, to: MassUnit, decimalPlaces = 12) =>
  Number(convertedMass(mass, { from, to }, { decimalPlaces, roundingRule: 'half-even' }));

function expectCase(id: string, actual: readonly number[]): void {
  const { expected } = caseById(id);
  expect(actual).toHaveLength(expected.length);
  for (const [at, { value, tolerance }] of expected.entries()) {
    expect(Math.abs((actual[at] ?? Number.NaN) - value)).toBeLessThanOrEqual(tolerance + 1e-9);
  }
}

describe('units of the trade', () => {
  it('are the printed ones, exactly where the figure is exact', () => {
    expectCase('troy-units', [
      exactly(1, 'grain', 'milligram'),
      exactly(1, 'pennyweight', 'gram'),
      exactly(1, 'troy ounce', 'gram'),
      exactly(1, 'troy pound', 'gram'),
      exactly(1, 'gram', 'troy ounce'),
    ]);
    const ounce = convertMass({
      mass: 1,
      unit: 'troy ounce',
      decimalPlaces: 3,
      roundingRule: 'half-even',
    });
    expect(ounce.conversions.find((one) => one.unit === 'gram')?.exact).toBe('31.1034768');
  });

  it('give the sovereign of the act its grains and grams', () => {
    const { inputs } = caseById('sovereign-weight');
    const grains =
      exactly(Number(inputs['standard gold']), 'troy pound', 'grain') / Number(inputs.pieces);
    expectCase('sovereign-weight', [grains, exactly(grains.toFixed(9), 'grain', 'gram')]);
  });

  it('give the mint price of standard gold', () => {
    const { inputs } = caseById('mint-price');
    const sovereigns = exactly(1, 'troy ounce', 'grain') / Number(inputs.sovereign);
    const pence = (sovereigns * 240) % 12;
    expectCase('mint-price', [sovereigns, pence]);
  });

  it('count ten tolas as 3.75 ounces, as the agreed fine content of 999.9 has it', () => {
    expect(values.agreedTolas.rows[0]?.[3]).toBe(3.75);
    expect(
      convertedMass(
        '10',
        { from: 'tola', to: 'troy ounce' },
        { decimalPlaces: 2, roundingRule: 'down' },
      ),
    ).toBe('3.75');
  });

  it.each(values.coinageAct.rows)(
    'turn the grains of the act into its grams: %s %s',
    (_metal, _coin, grains, grams) => {
      // The grain of the act over that of today. Grains and grams are both cut at the fifth place:
      // a hundred-thousandth of a grain is 6.5e-7 g.
      const ratio = 0.06479895 / 0.06479891;
      const found = exactly(Number(grains), 'grain', 'gram') * ratio;
      expect(found - Number(grams)).toBeGreaterThan(-6.5e-7);
      expect(found - Number(grams)).toBeLessThan(1.1e-5);
    },
  );
});

describe('bars', () => {
  it.each(['gd-metric-a', 'gd-metric-b'])('weighed in kilograms are stated as %s has it', (id) => {
    const { inputs, expected } = caseById(id);
    const output = convertMass({
      mass: Number(inputs.mass),
      unit: 'kilogram',
      decimalPlaces: 3,
      roundingRule: 'half-even',
    });
    const ounces = output.conversions.find((one) => one.unit === 'troy ounce');
    expect(ounces?.rounded).toBe(expected[0]?.printed);
    expect(output.goldBarTroyOunces).toBe(expected[1]?.printed);
  });

  it.each(['gd-turn-scale-a', 'gd-turn-scale-c'])('turn the scale as %s has it', (id) => {
    const { inputs, expected } = caseById(id);
    const output = convertMass({
      mass: Number(inputs['dead weight']),
      unit: 'troy ounce',
      decimalPlaces: 3,
      roundingRule: 'half-even',
    });
    expect(output.goldBarTurnOfScaleTroyOunces).toBe(expected[0]?.printed);
  });

  it('of silver are listed to a tenth of an ounce', () => {
    const { expected } = caseById('gd-silver-1164.9');
    const output = convertMass({
      mass: '1164.99',
      unit: 'troy ounce',
      decimalPlaces: 3,
      roundingRule: 'half-even',
    });
    expect(output.silverBarTroyOunces).toBe(expected[0]?.printed);
  });
});
