import { describe, expect, it } from 'vitest';
import type { Calculation, Chart } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { switchingScheme, switchingSchemeCalculation } from './switching-scheme.ts';

const calculation = switchingSchemeCalculation as unknown as Calculation;
const { example } = switchingSchemeCalculation;

describe('switchingScheme', () => {
  it('says what happens at each quality, and where normal inspection never ends', () => {
    expect(switchingScheme(example).words).toContain(
      'At 1.9296 %, 95.1 % of the lots are accepted in the long run (95.8 % under normal, 80.8 % under tightened inspection)',
    );
    expect(switchingScheme({ ...example, qualitiesPercent: [0] }).words).toContain(
      'normal inspection never ends',
    );
  });

  it('draws the scheme between its plans, per hundred pieces where nonconformities are counted', () => {
    const input = { ...example, basis: 'poisson', qualitiesPercent: [150] } as const;
    const charts = switchingSchemeCalculation.draw?.(
      { ...input, qualitiesPercent: [150] },
      switchingScheme({ ...input, qualitiesPercent: [150] }),
    ) as readonly Chart[];
    expect(charts[0]?.series.map(({ label }) => label)).toEqual(['normal', 'tightened', 'scheme']);
    expect(charts[0]?.xTitle).toBe('Nonconformities per hundred pieces');
  });

  const odd = { kind: 'single', sampleSizePieces: 5, acceptanceNumber: 1, rejectionNumber: 1 };
  it.each([
    ['more than 100 %', { qualitiesPercent: [1, 101] }, 'qualitiesPercent.1'],
    ['a normal plan that contradicts itself', { normal: odd }, 'normal.rejectionNumber'],
    ['a tightened plan that contradicts itself', { tightened: odd }, 'tightened.rejectionNumber'],
    ['one lot alone', { basis: 'hypergeometric' }, 'basis'],
  ])('refuses %s', (_, change, field) => {
    const result = runCalculation(calculation, { ...example, ...change });
    if (result.outcome !== 'refused') throw new Error('was not refused');
    expect(result.problems[0]?.field).toBe(field);
    expect(result.problems[0]?.accepted.length).toBeGreaterThan(5);
  });
});
