import { describe, expect, it } from 'vitest';
import { alloyDensity, elementDensities } from '../../src/physical/alloy-density.ts';
import values from './values.json' with { type: 'json' };

type Element = keyof typeof elementDensities;

const elementsByCase: Readonly<Record<string, readonly Element[]>> = {
  'density-mix-ag925cu': ['Ag', 'Cu'],
  'density-mix-au9167cu': ['Au', 'Cu'],
  'density-mix-au750agcu': ['Au', 'Ag', 'Cu'],
  'density-mix-ag958cu': ['Ag', 'Cu'],
};

const densityOf = (elements: readonly Element[], perMille: readonly number[], departure = 0) =>
  alloyDensity({
    components: elements.map((element, at) => ({
      element,
      massFractionPerMille: perMille[at] ?? 0,
    })),
    departurePercent: departure,
  });

describe('densities of the elements', () => {
  it.each(values.elements.rows)('%s is as in the handbook', (element, density) => {
    expect(elementDensities[element as Element]).toBeCloseTo(1000 * Number(density), 9);
  });
});

describe('alloys by additive volumes', () => {
  const mixes = values.cases.filter((one) => one.id in elementsByCase);
  it.each(mixes.map((one) => [one.id, one] as const))('%s', (id, one) => {
    const fractions = (one.inputs as Record<string, number[]>)['mass fractions'] ?? [];
    const perMille = fractions.map((fraction) => Math.round(fraction * 1e5) / 100);
    const output = densityOf(elementsByCase[id] ?? [], perMille);
    const { value = 0, tolerance = 0 } = one.expected[0] ?? {};
    const found = output.densityKilogramsPerCubicMetre / 1000;
    expect(Math.abs(found - value)).toBeLessThanOrEqual(tolerance);
  });

  it('change with the fineness of gold and copper as the inverted rule has it', () => {
    const one = values.cases.find((other) => other.id === 'fineness-from-density');
    const inputs = one?.inputs as Record<string, number>;
    const [gold, change] = one?.expected ?? [];
    const output = densityOf(['Au', 'Cu'], [908.132, 91.868]);
    expect(output.densityKilogramsPerCubicMetre / 1000).toBeCloseTo(inputs.rho ?? 0, 4);
    expect(gold?.value).toBe(908.1);
    const perMille = 10 / (output.components[0]?.changePerPerMille ?? 0);
    expect(Math.abs(perMille - (change?.value ?? 0))).toBeLessThanOrEqual(change?.tolerance ?? 0);
  });

  it('reach the ranges of the dealer tables with a departure of 1 %', () => {
    const [, low, high] = values.ranges.rows.find((row) => row[0] === 'sterling silver') ?? [];
    const output = densityOf(['Ag', 'Cu'], [925, 75], 1);
    expect(output.lowestDensityKilogramsPerCubicMetre / 1000).toBeLessThan(Number(high));
    expect(output.densityKilogramsPerCubicMetre / 1000).toBeGreaterThan(Number(low));
  });
});
