import { describe, expect, it } from 'vitest';
import { valueBetween } from '../../src/assay/bracket.ts';
import {
  spectrometricDifference,
  spectrometricDifferenceCalculation,
} from '../../src/assay/spectrometric-difference.ts';
import values from './values.json' with { type: 'json' };

const caseOf = (id: string) => {
  const found = values.cases.find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  return { inputs: found.inputs as Record<string, unknown>, expected: found.expected };
};

describe('spectrometry', () => {
  it('interpolates platinum between its brackets', () => {
    const { inputs, expected } = caseOf('platinum-bracketing');
    const standards = inputs['standards (mg Pt in 50 ml, intensity ratio)'] as number[][];
    // The bracket runs over the intensity ratio here as it runs over time elsewhere.
    const known = standards.map(([value = 0, minutes = 0]) => ({ minutes, value }));
    const { value } = valueBetween(known, inputs['sample intensity ratio'] as number, 'ratio');
    const [platinum, fineness] = expected;
    expect(Math.abs(value - (platinum?.value ?? 0))).toBeLessThanOrEqual(platinum?.tolerance ?? 0);
    const found = (1000 * value) / (inputs['sample in 50 ml'] as number);
    expect(Math.abs(found - (fineness?.value ?? 0))).toBeLessThanOrEqual(fineness?.tolerance ?? 0);
  });

  it('comes from signals to the two bounds of gold by difference', () => {
    const { inputs, expected } = caseOf('difference-gold');
    const found = Object.entries(inputs['impurities'] as Record<string, number>);
    const below = Object.entries(inputs['below detection limit'] as Record<string, number>);
    // 1 g in 100 mL at 1000 counts per mg/L: 1 ‰ in the metal is 10 mg/L and 10 000 counts.
    const element = (name: string, perMille: number, spread: number) => ({
      element: name,
      line: 'any',
      blankSignals: [-spread, 0, spread],
      checks: [0, 60].map((minutes) => ({ minutes, contentMilligramsPerLitre: 1, signal: 1000 })),
      reading: { minutes: 30, signal: 10_000 * perMille, integrations: 1 },
      relativeRepeatabilityPercent: 0,
      standardRelativeUncertaintyPercent: 0,
      interferences: [],
    });
    // Detection limit of blanks −d, 0, d: 2·t(0.95; 2)·d·√(1 + 1/3), in counts.
    const perSpread = 2 * 2.919985580353724 * Math.sqrt(4 / 3);
    const output = spectrometricDifference({
      ...spectrometricDifferenceCalculation.example,
      sampleMassGrams: 1,
      policy: 'zero',
      elements: [
        ...found.map(([name, perMille]) => element(name, perMille, 0.1)),
        ...below.map(([name, limit]) => element(name, 0, (10_000 * limit) / perSpread)),
      ],
    });
    const actual: Readonly<Record<string, number>> = {
      'sum of impurities found': 1000 - output.byPolicy.zero,
      'gold, below-limit elements as zero': output.byPolicy.zero,
      'gold, below-limit elements at the limit': output.byPolicy.limit,
    };
    expect(expected).toHaveLength(3);
    for (const { name, value, tolerance } of expected) {
      expect(Math.abs((actual[name] ?? Number.NaN) - value), name).toBeLessThanOrEqual(tolerance);
    }
  });
});
