import { describe, expect, it } from 'vitest';
import { massSlipFactors, massSlips } from './mass-slips.ts';

const bad = { probability: 1e-3, spreadGrams: 20 };
const written = (pieces: number, grams: number) => ({
  pieces,
  grams,
  standardUncertaintyGrams: 0.4,
});

describe('massSlips', () => {
  it.each(massSlipFactors.map(({ factor }) => factor))(
    'knows a slip of %d by the mass',
    (factor) => {
      const [slip] = massSlips(written(120, (120 * 8.01) / factor), 8.01, bad);
      expect(slip?.factor).toBe(factor);
      expect(slip?.ratio).toBeGreaterThan(1e6);
      // What the book lacks or has too much is the true mass less the written one.
      expect(slip?.missingGrams).toBeCloseTo(120 * 8.01 - (120 * 8.01) / factor, 6);
    },
  );

  it('sees none where the mass fits the pieces, nor where it is off by a piece', () => {
    expect(massSlips(written(120, 120 * 8.01), 8.01, bad)).toEqual([]);
    expect(massSlips(written(120, 119 * 8.01), 8.01, bad)).toEqual([]);
  });

  it('takes the ounce as what it is and not as a place of the decimal sign', () => {
    const [slip] = massSlips(written(20, (20 * 31.1) / 31.1034768), 31.1, bad);
    expect(slip?.words).toBe('troy ounces written as grams');
  });

  it('refuses what has no piece and a mass below nothing', () => {
    expect(() => massSlips(written(0, 1), 8.01, bad)).toThrow(/pieces.*from 1/s);
    expect(() => massSlips(written(1, -1), 8.01, bad)).toThrow(/grams.*from 0 g/s);
  });
});
