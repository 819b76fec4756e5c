import { describe, expect, it } from 'vitest';
import { algorithmA } from './algorithm-a.ts';
import { proficiencyScores, proficiencyScoresCalculation } from './proficiency-scores.ts';
import { hampelMean, qHampel, qStandardDeviation } from './q-hampel.ts';

const { example } = proficiencyScoresCalculation;
const people = (values: readonly number[]) =>
  values.map((value, index) => ({ name: `P${index + 1}`, value }));

describe('scores of participants', () => {
  it('judges by z, with words for each participant', () => {
    const output = proficiencyScores({
      ...example,
      participants: people([10, 10.21, 10.3, 9.8]),
      assignedValue: { kind: 'given', value: 10, expandedUncertainty: 0.02, coverageFactor: 2 },
      assessment: { kind: 'given', standardDeviation: 0.1 },
    });
    expect(output.participants.map((row) => row.verdict)).toEqual([
      'satisfactory',
      'questionable',
      'unsatisfactory',
      'satisfactory',
    ]);
    expect([output.questionableCount, output.unsatisfactoryCount]).toEqual([1, 1]);
    expect(output.participants[2]?.words).toContain('not in order');
    expect(output.words).toContain('Not in order: P3. Questionable: P2.');
    expect(output.participants[0]).toMatchObject({ zeta: null, en: null, isEnSatisfactory: null });
  });

  it('lets z′ decide where the assigned value is uncertain, just above 0.3 σ', () => {
    const run = (expandedUncertainty: number) =>
      proficiencyScores({
        ...example,
        assignedValue: { kind: 'given', value: 2.99, expandedUncertainty, coverageFactor: 2 },
        assessment: { kind: 'given', standardDeviation: 1 },
      });
    expect(run(0.6).isUncertaintyNegligible).toBe(true);
    expect(run(0.601).isUncertaintyNegligible).toBe(false);
    expect(run(0.601).words).toContain('z′ decides');
  });

  it('draws the assigned value from the results by either method', () => {
    for (const method of ['algorithm-a', 'q-hampel'] as const) {
      const values = [10, 10.1, 9.9, 10.05, 9.95, 14];
      const output = proficiencyScores({
        ...example,
        participants: people(values),
        assignedValue: { kind: 'robust', method },
        assessment: { kind: 'robust', method },
      });
      const robust = method === 'algorithm-a' ? algorithmA(values) : qHampel(values);
      expect(output.assignedValue).toBe(robust.mean);
      expect(output.assignedStandardUncertainty).toBeCloseTo(
        (1.25 * robust.standardDeviation) / Math.sqrt(6),
        13,
      );
      expect(output.participants[5]?.verdict).toBe('unsatisfactory');
    }
  });

  it('refuses results that are mostly equal, unless the deviation is given', () => {
    const input = {
      ...example,
      participants: people([5, 5, 5, 5, 5, 5, 6]),
      assignedValue: { kind: 'robust', method: 'algorithm-a' },
    } as const;
    expect(() =>
      proficiencyScores({ ...input, assessment: { kind: 'robust', method: 'algorithm-a' } }),
    ).toThrow('assessment is 0');
    const given = { ...input, assessment: { kind: 'given', standardDeviation: 1 } } as const;
    expect(proficiencyScores(given).assignedValue).toBeCloseTo(5, 9);
  });

  it('refuses too few results and a deviation that is not above 0', () => {
    expect(() => algorithmA([1])).toThrow('at least 2 results');
    expect(() => qStandardDeviation([1])).toThrow('2 to 3000 results');
    expect(() => hampelMean([1, 2], 0)).toThrow('standardDeviation is 0');
    expect(qStandardDeviation([2, 2, 2])).toBe(0);
    expect(qHampel([2, 2, 2])).toEqual({ mean: 2, standardDeviation: 0 });
  });

  it('takes the median where two zeros of the score lie equally near', () => {
    // Two heaps, mirror images about 0, so far apart that neither sees the other.
    expect(hampelMean([-10, -10.1, -9.9, 10, 10.1, 9.9], 0.1)).toBe(0);
  });
});
