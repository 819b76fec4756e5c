import { describe, expect, it } from 'vitest';
import type { Calculation, Chart } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import {
  binomialAcceptance,
  hypergeometricAcceptance,
  poissonAcceptance,
} from './acceptance-probability.ts';
import { attributePlan, attributePlanCalculation } from './attribute-plan.ts';
import { codeLetter, singlePlan } from './single-plan.ts';

const calculation = attributePlanCalculation as unknown as Calculation;
const { example } = attributePlanCalculation;

function drawn(input: typeof example): Chart {
  const charts = attributePlanCalculation.draw?.(input, attributePlan(input)) ?? [];
  return charts[0] as Chart;
}

describe('attributePlan', () => {
  it('gives the examples of its documentation', () => {
    expect(attributePlan(example).sampleSizePieces).toBe(200);
    expect(codeLetter(7000, 'II')).toBe('L');
    expect(singlePlan('E', 0.4, 'normal').sampleSizePieces).toBe(32);
    const plan = { sampleSizePieces: 10, acceptanceNumber: 3 };
    expect(binomialAcceptance(plan, 0.1)).toBeCloseTo(0.9872048016, 10);
    expect(poissonAcceptance({ sampleSizePieces: 180, acceptanceNumber: 9 }, 0.03)).toBeCloseTo(
      0.951,
      3,
    );
    expect(
      hypergeometricAcceptance(
        { sampleSizePieces: 5, acceptanceNumber: 0 },
        { lotSizePieces: 50, nonconformingPieces: 5 },
      ),
    ).toBeCloseTo(0.5766, 4);
  });

  it('states the probability at the limit by the binomial up to 10 and by the Poisson above', () => {
    const ten = attributePlan({ ...example, acceptanceQualityLimitPercent: 10 });
    expect(ten.acceptanceProbabilityAtLimit).toBe(
      binomialAcceptance(
        { sampleSizePieces: ten.sampleSizePieces, acceptanceNumber: ten.acceptanceNumber },
        0.1,
      ),
    );
    const fifteen = attributePlan({ ...example, acceptanceQualityLimitPercent: 15 });
    expect(fifteen.acceptanceProbabilityAtLimit).toBe(
      poissonAcceptance(
        { sampleSizePieces: fifteen.sampleSizePieces, acceptanceNumber: fifteen.acceptanceNumber },
        0.15,
      ),
    );
  });

  it('counts the gap of a reduced plan as accepted', () => {
    const reduced = attributePlan({ ...example, severity: 'reduced' });
    expect(reduced).toMatchObject({
      sampleSizePieces: 80,
      acceptanceNumber: 3,
      rejectionNumber: 6,
    });
    expect(reduced.acceptanceProbabilityAtLimit).toBe(
      binomialAcceptance({ sampleSizePieces: 80, acceptanceNumber: 5 }, 0.015),
    );
  });

  it('draws a falling curve from one, exact points for a small lot', () => {
    const large = drawn(example);
    expect(large.series[0]?.kind).toBe('line');
    expect(large.series[0]?.y[0]).toBe(1);
    expect(large.series[0]?.y.at(-1)).toBeLessThan(0.05);
    const small = drawn({ ...example, lotSizePieces: 100 });
    expect(small.series[0]?.kind).toBe('points');
    expect(small.series[0]?.label).toBe('this lot, exact');
    expect(small.marks).toEqual([{ x: 1.5, label: 'limit 1.5' }]);
  });

  it.each([
    ['lotSizePieces', 1, 'a whole number of 2 pieces or more'],
    ['lotSizePieces', 100.5, 'a whole number of 2 pieces or more'],
    ['inspectionLevel', 'IV', 'one of S-1, S-2, S-3, S-4, I, II, III'],
    ['acceptanceQualityLimitPercent', 2, 'one of 0.01, 0.015'],
    ['severity', 'strict', 'one of normal, tightened, reduced'],
  ])('refuses %s %s and says what is accepted', (field, value, accepted) => {
    const result = runCalculation(calculation, { ...example, [field]: value });
    if (result.outcome !== 'refused') throw new Error('was not refused');
    expect(result.problems[0]).toMatchObject({ field, value });
    expect(result.problems[0]?.accepted).toContain(accepted);
  });

  it('refuses arguments outside the domain of the probabilities', () => {
    const plan = { sampleSizePieces: 10, acceptanceNumber: 1 };
    expect(() => binomialAcceptance(plan, 1.1)).toThrow('fractionNonconforming is 1.1');
    expect(() => poissonAcceptance(plan, -1)).toThrow('nonconformitiesPerPiece is -1');
    expect(() =>
      hypergeometricAcceptance(plan, { lotSizePieces: 9, nonconformingPieces: 1 }),
    ).toThrow('at most the 9 pieces of the lot');
    expect(() => singlePlan('S', 1, 'normal')).toThrow('letter is S');
  });
});
