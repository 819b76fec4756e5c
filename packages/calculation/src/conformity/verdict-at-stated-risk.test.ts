import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import {
  type VerdictAtStatedRiskInput,
  verdictAtStatedRisk,
  verdictAtStatedRiskCalculation,
} from './verdict-at-stated-risk.ts';

const base: VerdictAtStatedRiskInput = verdictAtStatedRiskCalculation.example;
const judged = (more: Partial<VerdictAtStatedRiskInput>) =>
  verdictAtStatedRisk({ ...base, ...more });

describe('verdictAtStatedRisk', () => {
  // One-sided 95 % and 97.5 % quantiles of Student's t, as any table of it prints them.
  it.each([
    [1, 0.95, 6.314],
    [2, 0.95, 2.92],
    [4, 0.95, 2.132],
    [10, 0.95, 1.812],
    [30, 0.95, 1.697],
    [1, 0.975, 12.706],
    [3, 0.975, 3.182],
    [null, 0.95, 1.645],
    [null, 0.975, 1.96],
  ])(
    'takes the guard factor for %s degrees of freedom and %d from the t table: %d',
    (degreesOfFreedom, p, t) => {
      const output = judged({ degreesOfFreedom, requiredConformanceProbability: p });
      expect(output.guardFactor).toBeCloseTo(t, 3);
      expect(output.acceptanceLimitPerMille).toBeCloseTo(916.6 + t * 0.15, 3);
      expect(output.consumerRiskAtAcceptanceLimit).toBeCloseTo(1 - p, 12);
    },
  );

  it('does not pass a result that the normal distribution would pass, where little is known of u', () => {
    // 7/3 standard uncertainties above the limit: 0.990 of a normal; of t with 2 degrees, whose
    // distribution is 1/2 + x/(2·√(2 + x²)), 0.9276.
    expect(judged({ degreesOfFreedom: null }).verdict).toBe('passes');
    const output = judged({ degreesOfFreedom: 2 });
    expect(output.verdict).toBe('undecided');
    const x = 7 / 3;
    expect(output.conformanceProbability).toBeCloseTo(0.5 + x / (2 * Math.sqrt(2 + x * x)), 9);
    expect(output.words).toBe(
      'Undecided: 916.950 ‰ lies between the rejection limit 916.162 ‰ and the acceptance limit 917.038 ‰; more replicates, a second method or the umpire decide. Probability of conformity 0.9276, required 0.95: with 2.0 degrees of freedom a guard band of 2.92 standard uncertainties.',
    );
  });

  it('fails where the probability of conformity is at most one less the required one', () => {
    const output = judged({ finenessPerMille: 916.1 });
    expect(output.conformanceProbability).toBeLessThan(0.05);
    expect(output.verdict).toBe('fails');
    expect(output.words).toMatch(/^Fails: 916\.100 ‰ is not above the rejection limit 916\.162 ‰/);
  });

  it('leaves nothing undecided where the risk is shared', () => {
    const shared = { requiredConformanceProbability: 0.5 };
    expect(judged({ ...shared, finenessPerMille: 916.6 })).toMatchObject({
      verdict: 'passes',
      guardFactor: 0,
      guardBandPerMille: 0,
      conformanceProbability: 0.5,
    });
    expect(judged({ ...shared, finenessPerMille: 916.5999 }).verdict).toBe('fails');
  });

  it('prints a probability so that it is seen to miss the required one', () => {
    // Just below 1.645 standard uncertainties: 0.94997.
    const output = judged({ degreesOfFreedom: null, finenessPerMille: 916.6 + 0.15 * 1.6446 });
    expect(output.verdict).toBe('undecided');
    expect(output.words).toMatch(/Probability of conformity 0\.94997\d, required 0\.95:/);
  });

  it('rounds no probability to sure or to impossible', () => {
    // 5.2 standard uncertainties above the limit and as many below: 1 in ten million remains.
    const sure = judged({ degreesOfFreedom: null, finenessPerMille: 916.6 + 0.15 * 5.2 });
    expect(sure.words).toMatch(/Probability of conformity 0\.9999999, required/);
    const hopeless = judged({ degreesOfFreedom: null, finenessPerMille: 916.6 - 0.15 * 5.2 });
    expect(hopeless.words).toContain('Probability of conformity less than 1 in 10\u00a0000,');
  });

  it('says when no metal can show the required probability', () => {
    const output = judged({ limitPerMille: 999.9, finenessPerMille: 999.95, degreesOfFreedom: 1 });
    expect(output.words).toContain('no metal can show the required probability');
  });

  it('draws the limit rule, and the guard factor by degrees of freedom', () => {
    const [rule, chart] = verdictAtStatedRiskCalculation.draw?.(base, judged({})) ?? [];
    expect(rule).toMatchObject({ kind: 'limit-rule', value: 916.95, lowerLimit: 916.6 });
    expect(chart).toMatchObject({ kind: 'chart', marks: [{ x: 2 }] });
  });

  it.each([
    ['finenessPerMille', { finenessPerMille: 1001 }],
    ['standardUncertaintyPerMille', { standardUncertaintyPerMille: 0 }],
    ['limitPerMille', { limitPerMille: 0 }],
    ['degreesOfFreedom', { degreesOfFreedom: 0.5 }],
    ['requiredConformanceProbability', { requiredConformanceProbability: 0.4 }],
    ['requiredConformanceProbability', { requiredConformanceProbability: 1 }],
  ])('refuses a value of %s outside its range', (field, more) => {
    const calculation = verdictAtStatedRiskCalculation as unknown as Calculation;
    expect(runCalculation(calculation, { ...base, ...more })).toMatchObject({
      outcome: 'refused',
      problems: [{ field }],
    });
  });
});
