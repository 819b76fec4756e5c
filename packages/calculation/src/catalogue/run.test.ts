import { describe, expect, it } from 'vitest';
import { weightStatisticsCalculation } from '../weights/weight-statistics.ts';
import type { Calculation } from './calculation.ts';
import { runCalculation } from './run.ts';

const statistics = weightStatisticsCalculation as unknown as Calculation;

describe('runCalculation', () => {
  it('names a field that the schema does not know, with its value', () => {
    const result = runCalculation(statistics, { massesGrams: [1, 2], colour: 'red' });
    expect(result).toMatchObject({
      outcome: 'refused',
      problems: [{ field: 'colour', value: 'red', accepted: 'no field of this name' }],
    });
  });

  it('refuses readings whose result would not be finite', () => {
    const result = runCalculation(statistics, { massesGrams: [1e300, 1e308, 1e308] });
    expect(result).toMatchObject({ outcome: 'refused' });
  });
});
