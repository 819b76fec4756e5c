import { describe, expect, it } from 'vitest';
import { waterDensity } from '../../src/physical/water-density.ts';
import values from './values.json' with { type: 'json' };

describe('density of water', () => {
  it('is the published value of the formula', () => {
    expect(waterDensity(values.formula20.celsius)).toBeCloseTo(values.formula20.value, 10);
  });

  it('agrees with an older formula within the difference of their temperature scales', () => {
    const { celsius, value, tolerance } = values.otherFormula20;
    expect(Math.abs(waterDensity(celsius) - value)).toBeLessThan(tolerance);
  });

  it.each(values.table.rows)('rounds to the table at %s °C', (celsius = 0, printed = 0) => {
    expect(Math.abs(waterDensity(celsius) - printed)).toBeLessThanOrEqual(0.5e-4 + 1e-9);
  });
});
