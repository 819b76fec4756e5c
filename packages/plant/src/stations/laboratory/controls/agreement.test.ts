import { proficiencyScores, proficiencyScoresCalculation } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { agreement } from './agreement.ts';

const silver = {
  found: 999.71,
  foundStandardUncertainty: 0.003,
  certified: 999.7,
  certifiedStandardUncertainty: 0.004,
  greatestNormalizedError: 1,
};

describe('agreement with a certificate', () => {
  it('is the Eₙ of the key comparison CCQM-K30, lead in wine', () => {
    // Metrologia 45 (2008) 08001: reference value 2.99 mg/kg, U 0.06, k 2; three of its participants.
    const { example } = proficiencyScoresCalculation;
    const { participants } = proficiencyScores(example);
    for (const [index, { value, uncertainty }] of example.participants.entries()) {
      const { expanded = 0, coverageFactor = 2 } = uncertainty ?? {};
      const expected = participants[index]?.en;
      const ours = agreement({
        found: value,
        // Participants state U with their own k; Eₙ takes U as it is stated.
        foundStandardUncertainty: expanded / 2,
        certified: 2.99,
        certifiedStandardUncertainty: 0.03,
        greatestNormalizedError: 1,
      });
      expect(coverageFactor).toBeGreaterThanOrEqual(2);
      expect(ours.normalizedError).toBeCloseTo(Number(expected), 12);
      expect(ours.agrees).toBe(Math.abs(Number(expected)) <= 1);
    }
  });

  it('takes a difference of the whole expanded uncertainty as agreeing, and no more', () => {
    // U = 2·√(0.003² + 0.004²) = 0.01: a triangle of 3, 4 and 5.
    expect(agreement(silver)).toMatchObject({ agrees: true });
    expect(agreement(silver).normalizedError).toBeCloseTo(1, 9);
    expect(agreement({ ...silver, found: 999.7101 }).agrees).toBe(false);
    expect(agreement({ ...silver, found: 999.6899 }).agrees).toBe(false);
    expect(agreement({ ...silver, greatestNormalizedError: 0.9 }).agrees).toBe(false);
  });

  it('refuses two values that are both certain', () => {
    const certain = { ...silver, foundStandardUncertainty: 0, certifiedStandardUncertainty: 0 };
    expect(() => agreement(certain)).toThrow('one at least is above 0');
  });
});
