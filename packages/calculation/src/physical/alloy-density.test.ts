import { describe, expect, it } from 'vitest';
import { alloyDensity, alloyDensityCalculation } from './alloy-density.ts';

const example = alloyDensityCalculation.example;

describe('alloyDensity', () => {
  it('gives sterling silver 10.366 g/cm³ and its range', () => {
    const output = alloyDensity(example);
    expect(output.densityKilogramsPerCubicMetre).toBeCloseTo(10_366.37, 2);
    expect(output.lowestDensityKilogramsPerCubicMetre).toBeCloseTo(10_366.37 * 0.995, 1);
    expect(output.words).toContain('10366 kg/m³, from 10315 to 10418 kg/m³');
  });

  it('has volume fractions that add to 100 %', () => {
    const shares = alloyDensity(example).components.map((one) => one.volumeFractionPercent);
    expect(shares.reduce((sum, one) => sum + one, 0)).toBeCloseTo(100, 9);
  });

  it('is the element itself when pure', () => {
    const output = alloyDensity({
      components: [{ element: 'Au', massFractionPerMille: 1000 }],
      departurePercent: 0,
    });
    expect(output.densityKilogramsPerCubicMetre).toBeCloseTo(19_300, 9);
    expect(output.components[0]?.changePerPerMille).toBe(0);
  });

  it('takes a density that is given in place of the handbook', () => {
    const output = alloyDensity({
      components: [
        { element: 'Au', massFractionPerMille: 1000, densityKilogramsPerCubicMetre: 19_320 },
      ],
      departurePercent: 0,
    });
    expect(output.densityKilogramsPerCubicMetre).toBeCloseTo(19_320, 9);
  });

  it('changes by the difference that it states for one per mille', () => {
    const at = (gold: number) =>
      alloyDensity({
        components: [
          { element: 'Au', massFractionPerMille: gold },
          { element: 'Cu', massFractionPerMille: 1000 - gold },
        ],
        departurePercent: 0,
      });
    const change = at(917).components[0]?.changePerPerMille ?? 0;
    const found = at(917.5).densityKilogramsPerCubicMetre - at(916.5).densityKilogramsPerCubicMetre;
    expect(change / found).toBeCloseTo(1, 5);
  });

  it('refuses fractions that do not add to 1000 ‰, in tenths that doubles cannot hold', () => {
    const of = (third: number) =>
      alloyDensity({
        components: [
          { element: 'Au', massFractionPerMille: 999.7 },
          { element: 'Ag', massFractionPerMille: 0.1 },
          { element: 'Cu', massFractionPerMille: third },
        ],
        departurePercent: 0,
      });
    expect(() => of(0.3)).toThrow('components is 1000.1 ‰ in all');
    expect(of(0.2).densityKilogramsPerCubicMetre).toBeGreaterThan(19_000);
  });

  it('refuses an element twice', () => {
    const parsed = alloyDensityCalculation.input.safeParse({
      ...example,
      components: [example.components[0], example.components[0]],
    });
    expect(parsed.error?.issues[0]?.message).toBe('each element once');
  });
});
