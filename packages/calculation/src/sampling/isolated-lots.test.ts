import { describe, expect, it } from 'vitest';
import type { Calculation, Chart } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { acceptZeroPlan, acceptZeroPlanCalculation } from './accept-zero-plan.ts';
import { earnedCredit, earnedCreditCalculation } from './earned-credit.ts';
import { limitingQualityPlan, limitingQualityPlanCalculation } from './limiting-quality-plan.ts';

function refused(calculation: unknown, input: unknown) {
  const result = runCalculation(calculation as Calculation, input);
  if (result.outcome !== 'refused') throw new Error('was not refused');
  return result.problems[0];
}

describe('acceptZeroPlan', () => {
  it('says what a clean sample shows', () => {
    const { words } = acceptZeroPlan({ lotSizePieces: 20, toleratedPieces: 0, confidence: 0.95 });
    expect(words).toBe(
      'Examine 19 of 20 pieces; accept the lot only if none is faulty. A clean sample then shows with 95.00 % confidence that no piece of the lot is faulty: one more would be found 95.00 times in a hundred.',
    );
    const all = acceptZeroPlan({ lotSizePieces: 10, toleratedPieces: 0, confidence: 0.95 });
    expect(all).toMatchObject({ examineEveryPiece: true, detectionProbability: 1 });
    expect(all.words).toContain('Examine every one of the 10 pieces.');
  });

  it('refuses to tolerate as many pieces as the lot has', () => {
    const { example } = acceptZeroPlanCalculation;
    expect(refused(acceptZeroPlanCalculation, { ...example, toleratedPieces: 500 })).toEqual({
      field: 'toleratedPieces',
      value: 500,
      accepted: 'fewer than the 500 pieces of the lot',
    });
    expect(refused(acceptZeroPlanCalculation, { ...example, confidence: 1 })?.field).toBe(
      'confidence',
    );
  });
});

describe('limitingQualityPlan', () => {
  const { example } = limitingQualityPlanCalculation;

  it('gives one plan for each acceptance number and says the first and the last', () => {
    const found = limitingQualityPlan(example);
    expect(found.plans.map(({ acceptanceNumber }) => acceptanceNumber)).toEqual([0, 1, 2, 3]);
    expect(found.words).toContain('Examine 44 pieces with up to 0 nonconforming');
    expect(found.words).toContain('or 128 pieces with up to 3 nonconforming');
  });

  it('draws at most four curves', () => {
    const input = { ...example, greatestAcceptanceNumber: 12 };
    const [chart] = limitingQualityPlanCalculation.draw?.(input, limitingQualityPlan(input)) ?? [];
    expect((chart as Chart).series).toHaveLength(4);
  });

  it.each([
    ['lotSizePieces', 1],
    ['limitingQualityPercent', 0],
    ['consumersRisk', 0.6],
    ['greatestAcceptanceNumber', 31],
  ])('refuses %s %d', (field, value) => {
    expect(refused(limitingQualityPlanCalculation, { ...example, [field]: value })?.field).toBe(
      field,
    );
  });
});

describe('earnedCredit', () => {
  const { example } = earnedCreditCalculation;
  const accepted = (lot: string, pieces: number) => ({ lot, pieces, outcome: 'accepted' as const });

  it('counts the pieces accepted since the last refusal, up to the greatest credit', () => {
    // By the rule: 10 000/(1 + 0.001·100 000) = 99.01, so 100; without credit 10 000/11 = 909.1.
    expect(earnedCredit(example)).toMatchObject({
      earnedPieces: 90_000,
      countedPieces: 90_000,
      sampleSizePieces: 100,
      sampleWithoutCreditPieces: 910,
      acceptanceNumber: 0,
    });
    expect(earnedCredit({ ...example, greatestCreditPieces: 50_000 }).countedPieces).toBe(50_000);
    const lost = { lot: 'last', pieces: 10, outcome: 'not accepted' as const };
    expect(earnedCredit({ ...example, history: [...example.history, lost] })).toMatchObject({
      earnedPieces: 0,
      sampleSizePieces: 910,
    });
  });

  it('keeps to the least sample, and to the lot', () => {
    expect(earnedCredit({ ...example, leastSamplePieces: 315 }).sampleSizePieces).toBe(315);
    const small = earnedCredit({ ...example, lotSizePieces: 20, leastSamplePieces: 315 });
    expect(small).toMatchObject({ sampleSizePieces: 20, singleFaultDetection: 1 });
  });

  it('says how many faulty pieces are found half of the time', () => {
    // 100 of 10 000: (1 − D/10 000)¹⁰⁰ ≈ 1/2 at 69, as 0.99⁶⁹ = 0.4998.
    const found = earnedCredit(example);
    expect(found.faultsFoundHalfTheTimePieces).toBe(69);
    expect(found.words).toContain('at most 0.1 % of the pieces presented pass faulty');
    const quick = earnedCredit({
      outgoingLimitPercent: 50,
      lotSizePieces: 1_000_000_000,
      history: [accepted('A', 1_000_000_000)],
    });
    expect(quick.sampleSizePieces).toBe(1);
    expect(quick.faultsFoundHalfTheTimePieces).toBe(500_000_000);
  });

  it('has no credit without a history', () => {
    expect(earnedCredit({ ...example, history: [] }).words).toContain('has no credit');
  });

  it.each([
    ['a lot twice', { history: [accepted('A', 5), accepted('A', 6)] }, 'history.1.lot'],
    ['a limit of nothing', { outgoingLimitPercent: 0 }, 'outgoingLimitPercent'],
    ['a lot without pieces', { lotSizePieces: 0 }, 'lotSizePieces'],
    [
      'another outcome',
      { history: [{ ...accepted('A', 5), outcome: 'good' }] },
      'history.0.outcome',
    ],
  ])('refuses %s', (_, change, field) => {
    expect(refused(earnedCreditCalculation, { ...example, ...change })?.field).toBe(field);
  });
});
