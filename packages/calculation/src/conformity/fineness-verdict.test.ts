import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { DomainError } from '../quantity/domain.ts';
import {
  conformanceProbability,
  type FinenessVerdictInput,
  finenessVerdict,
  finenessVerdictCalculation,
  globalRisk,
  guardedLimit,
  highestFinenessMark,
  lowerTail,
  lowerTailQuantile,
  nonconformanceProbability,
} from './fineness-verdict.ts';

const base: FinenessVerdictInput = finenessVerdictCalculation.example;

describe('finenessVerdict', () => {
  it('passes a result exactly on the acceptance limit although binary fractions would miss it', () => {
    // 916.6 + 2 × 0.15 is 916.9000000000001 or 916.8999999999999 in doubles, depending on the order.
    expect(finenessVerdict({ ...base, finenessPerMille: 916.9 }).verdict).toBe('passes');
    expect(finenessVerdict({ ...base, finenessPerMille: 916.8999999 }).verdict).toBe('undecided');
  });

  it('leaves a result exactly on the rejection limit undecided and fails one below it', () => {
    expect(finenessVerdict({ ...base, finenessPerMille: 916.3 }).verdict).toBe('undecided');
    expect(finenessVerdict({ ...base, finenessPerMille: 916.2999999 }).verdict).toBe('fails');
  });

  it('knows no undecided result when the risk is shared', () => {
    const verdict = (finenessPerMille: number) =>
      finenessVerdict({ ...base, guardFactor: 0, finenessPerMille }).verdict;
    expect([916.6, 916.5999999].map(verdict)).toEqual(['passes', 'fails']);
  });

  it('gives the risk of a result on the limit as one half', () => {
    const output = finenessVerdict({ ...base, finenessPerMille: 916.6 });
    expect(output.conformanceProbability).toBe(0.5);
    expect(output.consumerRisk).toBe(0.5);
    expect(output.marginInStandardUncertainties).toBe(0);
  });

  it('asks for more fineness when few degrees of freedom stand behind the uncertainty', () => {
    // Student's t, 95 % one-sided, 4 degrees of freedom: 2.132 (table of any statistics book).
    const output = finenessVerdict({ ...base, degreesOfFreedom: 4 });
    expect(output.finenessToBuyPerMille).toBeCloseTo(916.6 + 2.132 * 0.15, 4);
    expect(output.conformanceProbability).toBeLessThan(
      finenessVerdict(base).conformanceProbability,
    );
  });

  it('says in words when no metal can show the required probability', () => {
    const output = finenessVerdict({ ...base, limitPerMille: 999.9, finenessPerMille: 999.95 });
    expect(output.finenessToBuyPerMille).toBeGreaterThan(1000);
    expect(output.words).toContain('no metal can show the required probability');
  });

  it('puts the fineness that passes a guard band above the fineness to buy', () => {
    const output = finenessVerdict(base);
    expect(output.finenessToPassPerMille - output.finenessToBuyPerMille).toBeCloseTo(0.3, 9);
  });

  it('draws a limit rule with the guard band inside the limit', () => {
    const [rule] = finenessVerdictCalculation.draw?.(base, finenessVerdict(base)) ?? [];
    expect(rule).toMatchObject({ kind: 'limit-rule', value: 916.95, lowerLimit: 916.6 });
  });
});

describe('the functions behind the verdict', () => {
  it('do as their examples say', () => {
    expect(lowerTail(-1.959963984540054)).toBeCloseTo(0.025, 12);
    expect(lowerTailQuantile(0.95)).toBeCloseTo(1.6448536269514722, 12);
    expect(
      conformanceProbability({ value: -5.47, standardUncertainty: 0.05, upperLimit: -5.4 }),
    ).toBeCloseTo(0.9192, 4);
    expect(
      nonconformanceProbability({ value: 2, standardUncertainty: 1, lowerLimit: 0 }),
    ).toBeCloseTo(0.02275, 5);
    expect(
      guardedLimit({
        limit: 999.9,
        standardUncertainty: 0.02,
        requiredProbability: 0.95,
        conforms: 'above',
      }),
    ).toBeCloseTo(999.9329, 4);
    expect(highestFinenessMark(584, [375, 585, 750, 916, 999])).toBe(375);
    expect(
      globalRisk({
        process: { kind: 'normal', mean: 1500, standardDeviation: 0.12 },
        measuringStandardUncertainty: 0.04,
        limits: { lower: 1499.8, upper: 1500.2 },
        acceptance: { lower: 1499.8, upper: 1500.2 },
      }).consumerRisk,
    ).toBeCloseTo(0.01894, 5);
  });

  it('keep tiny risks instead of rounding them to nothing', () => {
    // Φ(−10) = 7.6198530241605e-24 (Abramowitz and Stegun, Table 26.2, continued).
    const risk = nonconformanceProbability({ value: 10, standardUncertainty: 1, lowerLimit: 0 });
    expect(risk / 7.6198530241605e-24).toBeCloseTo(1, 10);
  });

  it('follow Student with few degrees of freedom', () => {
    // t(0.975; 10) = 2.2281 in any table.
    expect(lowerTail(2.228138851986274, 10)).toBeCloseTo(0.975, 12);
    expect(lowerTailQuantile(0.025, 10)).toBeCloseTo(-2.228138851986274, 10);
    expect(lowerTail(1.5, Number.POSITIVE_INFINITY)).toBe(lowerTail(1.5));
    expect(lowerTailQuantile(0.9, Number.POSITIVE_INFINITY)).toBe(lowerTailQuantile(0.9));
  });

  it('refuse what lies outside their ranges', () => {
    const ok = { value: 1, standardUncertainty: 1, lowerLimit: 0 };
    expect(() => conformanceProbability({ ...ok, standardUncertainty: 0 })).toThrow(DomainError);
    expect(() => conformanceProbability({ ...ok, value: Number.NaN })).toThrow(DomainError);
    expect(() => conformanceProbability({ ...ok, upperLimit: 0 })).toThrow('below the upper limit');
    expect(() => conformanceProbability({ ...ok, lowerLimit: undefined })).toThrow('at least one');
    expect(() => conformanceProbability({ ...ok, degreesOfFreedom: 0 })).toThrow(DomainError);
    expect(() => lowerTailQuantile(1)).toThrow(DomainError);
    const limit = { limit: 1, requiredProbability: 0.95, conforms: 'above' } as const;
    expect(() => guardedLimit(limit)).toThrow(DomainError);
    expect(() => guardedLimit({ ...limit, relativeStandardUncertainty: 1 })).toThrow(DomainError);
    expect(() => highestFinenessMark(1001, [999])).toThrow(DomainError);
    expect(() => highestFinenessMark(999, [])).toThrow(DomainError);
    expect(highestFinenessMark(300, [375])).toBeNull();
    const process = { kind: 'gamma', shape: 0.5, rate: 1 } as const;
    const rule = { measuringStandardUncertainty: 1, limits: { upper: 2 }, acceptance: {} };
    expect(() => globalRisk({ process, ...rule })).toThrow('a shape of 1 or more');
    expect(() => globalRisk({ ...rule, process: { ...process, shape: 1, rate: 0 } })).toThrow(
      'a rate above 0',
    );
    expect(() =>
      globalRisk({ ...rule, process: { ...process, shape: 1 }, limits: { lower: 2, upper: 1 } }),
    ).toThrow('limits that enclose');
  });
});

describe('the fineness-verdict calculation', () => {
  const calculation = finenessVerdictCalculation as unknown as Calculation;
  const refused: [string, string, unknown][] = [
    ['a fineness above 1000', 'finenessPerMille', 1000.1],
    ['a fineness of 0', 'finenessPerMille', 0],
    ['an uncertainty of 0', 'standardUncertaintyPerMille', 0],
    ['text for a limit', 'limitPerMille', '916.6'],
    ['a negative guard factor', 'guardFactor', -1],
    ['NaN for the guard factor', 'guardFactor', Number.NaN],
    ['degrees of freedom below 1', 'degreesOfFreedom', 0.5],
    ['a required probability of 1', 'requiredConformanceProbability', 1],
    ['a missing required probability', 'requiredConformanceProbability', undefined],
  ];
  for (const [name, field, value] of refused) {
    it(`refuses ${name} and names the field`, () => {
      const result = runCalculation(calculation, { ...base, [field]: value });
      expect(result).toMatchObject({ outcome: 'refused', problems: [{ field }] });
    });
  }

  it('computes its example to an output that its schema accepts', () => {
    const result = runCalculation(calculation, base);
    expect(result.outcome).toBe('computed');
    if (result.outcome === 'computed') finenessVerdictCalculation.output.parse(result.output);
    expect(() => z.toJSONSchema(finenessVerdictCalculation.input)).not.toThrow();
    expect(() => z.toJSONSchema(finenessVerdictCalculation.output)).not.toThrow();
  });
});
