import { describe, expect, it } from 'vitest';
import type { Calculation, Chart } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { attributePlanSearch, attributePlanSearchCalculation } from './attribute-plan-search.ts';

const calculation = attributePlanSearchCalculation as unknown as Calculation;
const { example } = attributePlanSearchCalculation;

describe('attributePlanSearch', () => {
  it('says both plans with their risks', () => {
    expect(attributePlanSearch(example).words).toMatch(
      /^Single plan: examine 132 pieces, accept with up to 3\. Good lots are rejected 4\.43 %, bad lots accepted 9\.92 % of the time\. Double plan: examine /,
    );
  });

  it('rounds the pieces of one lot so that both promises hold', () => {
    const found = attributePlanSearch({
      ...example,
      basis: 'hypergeometric',
      lotSizePieces: 430,
      producersQualityPercent: 1.1,
      consumersQualityPercent: 5.1,
    });
    // 4.73 pieces cut to 4, 21.93 filled up to 22.
    expect(found).toMatchObject({ goodPieces: 4, badPieces: 22 });
  });

  it('counts a percentage as the decimal it is written as', () => {
    // 0.29 % of 10 000 is 29 exactly; as doubles the product lies below it.
    const found = attributePlanSearch({
      ...example,
      basis: 'hypergeometric',
      lotSizePieces: 10_000,
      producersQualityPercent: 0.29,
    });
    expect(found.goodPieces).toBe(29);
  });

  it('decides a risk met exactly with whole numbers', () => {
    // Nine of ten pieces miss the one bad piece in one case of ten, exactly.
    const found = attributePlanSearch({
      ...example,
      basis: 'hypergeometric',
      lotSizePieces: 10,
      producersQualityPercent: 5,
      consumersQualityPercent: 10,
    });
    expect(found.single).toMatchObject({ sampleSizePieces: 9, acceptanceNumber: 0 });
  });

  it('leaves out the double plan where the search would be long', () => {
    const found = attributePlanSearch({ ...example, consumersQualityPercent: 1.6 });
    expect(found.single.acceptanceNumber).toBeGreaterThan(30);
    expect(found.double).toBeNull();
    expect(found.words).toContain('No double plan');
    const [chart] = attributePlanSearchCalculation.draw?.(example, found) ?? [];
    expect((chart as Chart).series.map(({ label }) => label)).toEqual(['single', 'points']);
  });

  it.each([
    ['qualities in the wrong order', { consumersQualityPercent: 0.5 }, 'consumersQualityPercent'],
    ['more than 100 %', { consumersQualityPercent: 101 }, 'consumersQualityPercent'],
    ['one lot without a size', { basis: 'hypergeometric' }, 'lotSizePieces'],
    [
      'points too close to each other',
      { consumersQualityPercent: 1.001 },
      'consumersQualityPercent',
    ],
    ['a risk of nothing', { consumersRisk: 0 }, 'consumersRisk'],
    ['another ratio', { secondSampleRatio: 3 }, 'secondSampleRatio'],
  ])('refuses %s', (_, change, field) => {
    const result = runCalculation(calculation, { ...example, ...change });
    if (result.outcome !== 'refused') throw new Error('was not refused');
    expect(result.problems[0]?.field).toBe(field);
    expect(result.problems[0]?.accepted.length).toBeGreaterThan(4);
  });
});
