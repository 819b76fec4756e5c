import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { proficiencyScores } from '../../src/control/precision/proficiency-scores.ts';
import figures from './figures.json' with { type: 'json' };

const participants = readFileSync(new URL('./lead-in-wine.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => {
    const [name = '', value, coverageFactor, expanded] = line.split(',');
    return {
      name,
      value: Number(value),
      uncertainty: { expanded: Number(expanded), coverageFactor: Number(coverageFactor) },
    };
  });

describe('key comparison CCQM-K30, lead in wine', () => {
  const output = proficiencyScores({
    characteristic: 'Lead in wine',
    unit: 'mg/kg',
    participants,
    // Reference value and expanded uncertainty as published.
    assignedValue: { kind: 'given', value: 2.99, expandedUncertainty: 0.06, coverageFactor: 2 },
    assessment: { kind: 'given', standardDeviation: 0.15 },
  });

  it('has the En numbers computed with R', () => {
    const right = figures.computed['e_n_against_2.99_U_0.06'];
    expect(output.participants.length).toBe(right.length);
    output.participants.forEach((row, index) => {
      expect(Math.abs((row.en ?? 0) - (right[index] ?? Number.NaN))).toBeLessThan(5.1e-7);
    });
  });

  it('sees which participants state too small an uncertainty', () => {
    const missed = output.participants.filter((row) => row.isEnSatisfactory === false);
    const right = figures.computed['e_n_against_2.99_U_0.06'].filter((en) => Math.abs(en) > 1);
    expect(missed.length).toBe(right.length);
  });
});
