import { describe, expect, it } from 'vitest';
import { massComparison } from '../../src/mass/mass-comparison.ts';
import values from './values.json' with { type: 'json' };

const output = massComparison({
  reference: values.reference,
  cycles: values.cyclesGrams.map(([a1 = 0, b1 = 0, b2 = 0, a2 = 0]) => ({
    firstReferenceGrams: a1,
    firstUnknownGrams: b1,
    secondUnknownGrams: b2,
    secondReferenceGrams: a2,
  })),
  pooled: { standardDeviationMilligrams: values.limits.pooledStandardDeviationMilligrams },
  cornerLoadLimitMilligrams: values.limits.cornerLoadMilligrams,
  buoyancy: { kind: 'limit', limitMilligrams: values.limits.buoyancyMilligrams },
  levelPercent: 95.45,
});

describe('10 kg weight of class M1 against a reference of class F2', () => {
  it('differs by the printed figures in each cycle', () => {
    expect(output.differencesMilligrams).toEqual(values.differencesMilligrams);
  });

  it.each(values.expected.map((one) => [one.name, one] as const))(
    'has the printed %s',
    (name, one) => {
      const budget = Object.fromEntries(
        output.budget.map((line) => [line.contribution, line.standardUncertainty]),
      );
      const actual =
        {
          'mean difference': output.meanDifferenceMilligrams,
          'conventional mass': output.conventionalMassGrams,
          'standard uncertainty': output.standardUncertaintyMilligrams,
          'expanded uncertainty': output.expandedUncertaintyMilligrams,
        }[name] ?? budget[name];
      expect(Math.abs((actual ?? Number.NaN) - one.value)).toBeLessThanOrEqual(one.tolerance);
    },
  );

  it('would have the 29.1 mg of the page seen with its 14.2 mg for the weighings', () => {
    const others = output.budget.filter((line) => line.contribution !== 'weighings');
    const all = Math.hypot(14.2, ...others.map((line) => line.standardUncertainty));
    expect(all).toBeCloseTo(29.1, 1);
  });
});
