import { describe, expect, it } from 'vitest';
import { type ControlConstants, controlConstants } from '../../src/control/control-constants.ts';
import values from './values.json' with { type: 'json' };

/** D3 and D4 of the table were computed from rounded d2 and d3: one unit of the last place. */
const unitsAllowed: Readonly<Record<string, number>> = { d3Limit: 1.0, d4Limit: 1.0 };

/** d3 of 19 readings is 0.73348: the table rounded 0.7335, itself rounded, once more. */
const misprinted: Readonly<Record<string, string>> = { 'd3 19': '0.733' };

const decimalsOf = (printed: string): number => printed.split('.')[1]?.length ?? 3;

describe('printed factors of control charts', () => {
  it.each(Object.entries(values.columns))('column %s', (column, printed) => {
    printed.forEach((inTable, index) => {
      const size = values.firstSize + index;
      const text = misprinted[`${column} ${size}`] ?? inTable;
      const factor = controlConstants(size)[column as keyof ControlConstants];
      const unit = 10 ** -decimalsOf(text);
      // A hair above half a unit, for factors that are printed from the very middle.
      const allowed = (unitsAllowed[column] ?? 0.5) * unit * (1 + 1e-9);
      expect(Math.abs((factor ?? Number.NaN) - Number(text)), `size ${size}`).toBeLessThan(allowed);
    });
    expect(printed.length).toBeGreaterThanOrEqual(20);
  });
});
