import { describe, expect, it } from 'vitest';
import { conformanceProbability } from './conformance-probability.ts';
import { conformanceStatement, conformanceStatementCalculation } from './conformance-statement.ts';
import { type GuardBandsInput, guardBands, guardBandsCalculation } from './guard-bands.ts';
import { valueWithConformance } from './guarded-value.ts';

const base = guardBandsCalculation.example;
const at = (value: number, more: Partial<GuardBandsInput> = {}) =>
  guardBands({ ...base, value, ...more });

describe('the verdict by decision rule', () => {
  // Least fineness 916.6, U = 0.30: limits 916.3, 916.6 and 916.9 by hand.
  it.each([
    [916.9, 'pass', 'passes', 'passes', 'passes'],
    [916.899, 'conditional pass', 'fails', 'passes', 'undecided'],
    [916.6, 'conditional pass', 'fails', 'passes', 'undecided'],
    [916.599, 'conditional fail', 'fails', 'passes', 'undecided'],
    [916.3, 'conditional fail', 'fails', 'passes', 'undecided'],
    [916.299, 'fail', 'fails', 'fails', 'fails'],
  ] as const)('at %d is %s: seller %s, buyer %s, each %s', (value, zone, seller, buyer, each) => {
    expect(at(value)).toMatchObject({ zone, verdict: each });
    expect(at(value, { burdenOfProof: 'seller' }).verdict).toBe(seller);
    expect(at(value, { burdenOfProof: 'buyer' }).verdict).toBe(buyer);
  });

  it('mirrors between a lower and an upper limit', () => {
    const upper = at(-916.8, { lowerLimit: null, upperLimit: -916.6 });
    const lower = at(916.8);
    expect(upper).toMatchObject({ zone: lower.zone, verdict: lower.verdict });
    expect(upper.conformanceProbability).toBeCloseTo(lower.conformanceProbability, 14);
    expect(upper.guardBand).toBeCloseTo(lower.guardBand, 14);
  });

  it('never leaves anything undecided under simple acceptance', () => {
    const rule = { kind: 'simple acceptance' } as const;
    expect(at(916.6, { rule }).verdict).toBe('passes');
    expect(at(916.599, { rule }).verdict).toBe('fails');
    expect(at(916.6, { rule }).greatestConsumerRisk).toBe(0.5);
  });

  it('regards both limits for a required probability', () => {
    const rule = { kind: 'required probability', probability: 0.9 } as const;
    const limits = { lowerLimit: -2, upperLimit: 2, standardUncertainty: 1, value: 0 };
    const output = guardBands({ ...base, ...limits, rule });
    expect(output.acceptanceLower).toBeCloseTo(-(output.acceptanceUpper ?? Number.NaN), 12);
    for (const value of [output.acceptanceLower, output.acceptanceUpper]) {
      const edge = { value: value ?? 0, standardUncertainty: 1, lowerLimit: -2, upperLimit: 2 };
      expect(conformanceProbability(edge)).toBeCloseTo(0.9, 12);
    }
    const proved = { value: output.rejectionUpper ?? 0, standardUncertainty: 1 };
    expect(conformanceProbability({ ...proved, lowerLimit: -2, upperLimit: 2 })).toBeCloseTo(
      0.1,
      12,
    );
  });

  it('names the rule and says who has to prove', () => {
    expect(at(916.8).words).toMatch(/^Undecided: 916.8 ‰ by guard band w = U.*umpire decide/);
    expect(at(916.8, { burdenOfProof: 'buyer' }).words).toMatch(/buyer who refuses has to prove/);
    expect(at(916.8, { burdenOfProof: 'seller' }).words).toMatch(/seller has to prove/);
    const ruleName = (rule: GuardBandsInput['rule']) => at(917, { rule }).ruleName;
    expect(ruleName({ kind: 'share of U', share: 0.83 })).toMatch(/0.83·U.*ISO 14253-1:2017/);
    expect(ruleName({ kind: 'share of U', share: 0.5 })).toMatch(/rule of the customer/);
    expect(ruleName({ kind: 'simple acceptance' })).toMatch(/simple acceptance/);
    expect(ruleName({ kind: 'required probability', probability: 0.95 })).toMatch(/at least 0.95/);
  });

  it('refuses no limit, limits in the wrong order, and guard bands that meet', () => {
    expect(() => at(1, { lowerLimit: null })).toThrow(/lowerLimit is none; accepted: at least one/);
    expect(() => at(1, { lowerLimit: 2, upperLimit: 1 })).toThrow(
      /lowerLimit is 2; accepted: a lower limit below the upper limit 1/,
    );
    expect(() => at(1, { lowerLimit: 0, upperLimit: 0.5 })).toThrow(
      /rule is guard band U; accepted: a guard band below half the tolerance/,
    );
    const rule = { kind: 'required probability', probability: 0.95 } as const;
    expect(() => at(0, { lowerLimit: -1, upperLimit: 1, standardUncertainty: 1, rule })).toThrow(
      /rule.probability is 0.95; accepted: at most 0.68/,
    );
    expect(() =>
      valueWithConformance({
        lower: 0,
        upper: null,
        standardUncertainty: 1,
        degreesOfFreedom: null,
        conformance: 0.9,
        side: 'upper',
      }),
    ).toThrow(/upperLimit is none; accepted: a limit on this side/);
  });
});

describe('the probability of conformity', () => {
  const { example } = conformanceStatementCalculation;

  it('has the tails on both sides and the capability index', () => {
    const output = conformanceStatement(example);
    const outside = output.belowLowerLimit + output.aboveUpperLimit;
    expect(output.conformanceProbability + outside).toBeCloseTo(1, 14);
    // (16.3 − 12.5)/(4 · 1.8)
    expect(output.measuringCapabilityIndex).toBeCloseTo(0.5278, 4);
  });

  it('counts samples, both limits included', () => {
    const samples = Array.from({ length: 100 }, (_, index) => index + 1);
    const output = conformanceStatement({
      ...example,
      lowerLimit: 11,
      upperLimit: 95,
      knowledge: { kind: 'samples', samples },
    });
    expect(output.conformanceProbability).toBe(0.85);
    expect(output.belowLowerLimit).toBeCloseTo(0.1, 14);
    expect(output.aboveUpperLimit).toBeCloseTo(0.05, 14);
    expect(output.leastProbability).toBeLessThan(0.85);
    expect(output.greatestProbability).toBeGreaterThan(0.85);
    expect(output.measuringCapabilityIndex).toBeNull();
  });

  it('keeps bounds from quantiles, wider where nothing is known', () => {
    const quantiles = [
      { probability: 0.025, value: 10 },
      { probability: 0.5, value: 12 },
      { probability: 0.975, value: 15 },
    ];
    const statement = (lowerLimit: number | null, upperLimit: number | null) =>
      conformanceStatement({
        ...example,
        lowerLimit,
        upperLimit,
        knowledge: { kind: 'quantiles', quantiles },
      });
    expect(statement(10, 15)).toMatchObject({
      leastProbability: 0.95,
      greatestProbability: 0.95,
    });
    expect(statement(9, null)).toMatchObject({ leastProbability: 0.975, greatestProbability: 1 });
    const inner = statement(11, null);
    // Half-way between the quantiles of 0.025 and 0.5.
    expect(inner.conformanceProbability).toBeCloseTo(1 - 0.2625, 12);
    expect(inner.leastProbability).toBe(0.5);
    expect(inner.greatestProbability).toBe(0.975);
    expect(statement(null, 20).leastProbability).toBe(0.975);
  });

  it('refuses quantiles that do not rise', () => {
    const quantiles = [
      { probability: 0.5, value: 12 },
      { probability: 0.6, value: 12 },
    ];
    expect(() =>
      conformanceStatement({ ...example, knowledge: { kind: 'quantiles', quantiles } }),
    ).toThrow(/quantiles.1 is 12 at 0.6; accepted: probabilities and values that both rise/);
  });
});
