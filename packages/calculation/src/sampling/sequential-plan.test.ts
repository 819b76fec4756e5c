import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { sequentialPlan, sequentialPlanCalculation } from './sequential-plan.ts';

const calculation = sequentialPlanCalculation as unknown as Calculation;
const { example } = sequentialPlanCalculation;

describe('sequentialPlan', () => {
  it('keeps both risks nearly, and decides every lot at the end', () => {
    const { points, rows, words } = sequentialPlan(example);
    // Wald: the two real risks together are at most α + β; the end adds a little to one of them.
    const [good, , bad] = points;
    expect(1 - (good?.acceptanceProbability ?? 0) + (bad?.acceptanceProbability ?? 1)).toBeLessThan(
      0.16,
    );
    const last = rows.at(-1);
    expect(last?.rejectionNumber).toBe((last?.acceptanceNumber ?? 0) + 1);
    expect(words).toContain('Acceptance is possible from piece 24 on, rejection from piece 2 on');
  });

  it('takes exactly the first possible number of pieces for faultless and hopeless lots', () => {
    const { points } = sequentialPlan({ ...example, qualitiesPercent: [0, 100] });
    expect(points[0]).toMatchObject({ acceptanceProbability: 1, averageSamplePieces: 24 });
    expect(points[1]).toMatchObject({ acceptanceProbability: 0, averageSamplePieces: 2 });
    expect(points[0]?.undecidedProbability).toBe(0);
  });

  it('with an end after one piece is the single plan of one piece', () => {
    // One piece that must be good: 0.7 at 30 %.
    const { points } = sequentialPlan({
      ...example,
      greatestSamplePieces: 1,
      qualitiesPercent: [30],
    });
    expect(points[0]).toMatchObject({ acceptanceProbability: 0.7, averageSamplePieces: 1 });
  });

  it('says so when an end that comes too early leaves no way to accept', () => {
    const { rows, points, words } = sequentialPlan({
      ...example,
      producersRisk: 0.4,
      consumersRisk: 0.0001,
      greatestSamplePieces: 3,
      qualitiesPercent: [0],
    });
    expect(rows.every(({ acceptanceNumber }) => acceptanceNumber === null)).toBe(true);
    expect(points[0]?.acceptanceProbability).toBe(0);
    expect(words).toContain('Acceptance is never possible');
  });

  it.each([
    ['qualities in the wrong order', { consumersQualityPercent: 0.5 }, 'consumersQualityPercent'],
    ['a quality of nothing', { producersQualityPercent: 0 }, 'producersQualityPercent'],
    ['a risk of one half', { producersRisk: 0.5 }, 'producersRisk'],
    ['an end beyond 2000', { greatestSamplePieces: 2001 }, 'greatestSamplePieces'],
    ['more than 100 %', { qualitiesPercent: [101] }, 'qualitiesPercent.0'],
  ])('refuses %s', (_, change, field) => {
    const result = runCalculation(calculation, { ...example, ...change });
    if (result.outcome !== 'refused') throw new Error('was not refused');
    expect(result.problems[0]?.field).toBe(field);
    expect(result.problems[0]?.accepted.length).toBeGreaterThan(5);
  });
});
