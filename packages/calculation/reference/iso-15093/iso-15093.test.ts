import { describe, expect, it } from 'vitest';
import { finenessByDifference } from '../../src/assay/fineness-by-difference.ts';
import values from './values.json' with { type: 'json' };

describe('gold by difference', () => {
  it('gives the sum found and the two bounds of the printed example', () => {
    const [one] = values.cases;
    if (!one) throw new Error('no case');
    const inMilligramsPerKilogram = (perMille: number) => Math.round(perMille * 1e6) / 1000;
    const found = Object.entries(one.inputs.impurities).map(([element, perMille]) => ({
      element,
      contentMilligramsPerKilogram: inMilligramsPerKilogram(perMille),
      standardUncertaintyMilligramsPerKilogram: 1,
      detectionLimitMilligramsPerKilogram: 1,
    }));
    const below = Object.entries(one.inputs['below detection limit']).map(
      ([element, perMille]) => ({
        element,
        contentMilligramsPerKilogram: null,
        standardUncertaintyMilligramsPerKilogram: 0,
        detectionLimitMilligramsPerKilogram: inMilligramsPerKilogram(perMille),
      }),
    );
    const output = finenessByDifference({
      metal: 'gold',
      impurities: [...found, ...below],
      policy: 'zero',
    });
    const actual: Readonly<Record<string, number>> = {
      'sum of impurities found': output.sumFoundMilligramsPerKilogram / 1000,
      'gold, below-limit elements as zero': output.byPolicy.zero,
      'gold, below-limit elements at the limit': output.byPolicy.limit,
    };
    for (const { name, value, tolerance } of one.expected) {
      expect(Math.abs((actual[name] ?? Number.NaN) - value), name).toBeLessThanOrEqual(tolerance);
    }
    expect(one.expected.length).toBe(3);
  });
});
