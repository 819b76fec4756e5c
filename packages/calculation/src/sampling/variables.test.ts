import { describe, expect, it } from 'vitest';
import { findNormality, normalityCheck } from './normality-check.ts';
import { shapiroWilk } from './normality-shapiro-wilk.ts';
import { constantAt, fractionAt, variablesAcceptance } from './variables-acceptance.ts';
import { acceptabilityConstant, estimatedFraction } from './variables-estimate.ts';
import { tabulatedPlan, usedLimit, variablesLetter } from './variables-lookup.ts';
import { noncentralTUpper, spreadRule } from './variables-noncentral-t.ts';
import { variablesPlan } from './variables-plan.ts';
import { variablesPlanSearch } from './variables-plan-search.ts';
import { type VariablesVerdictInput, variablesVerdict } from './variables-verdict.ts';

describe('plans by variables', () => {
  const military = { standard: 'MIL-STD-414', inspectionLevel: 'IV', severity: 'normal' } as const;

  it('examine every piece of a lot that is not larger than the sample', () => {
    // Letter B, limit 0.65: the arrow leads to letter D with 5 pieces.
    const found = variablesPlan({
      lotSizePieces: 4,
      table: military,
      method: 's',
      acceptanceQualityLimitPercent: 0.65,
    });
    expect(found).toMatchObject({ codeLetter: 'B', planLetter: 'D', sampleSizePieces: 5 });
    expect(found.examineEveryPiece).toBe(true);
    expect(found.words).toContain('examine every piece');
  });

  it('turn a stated limit into one of the tables', () => {
    expect(usedLimit(1.2, 'MIL-STD-414')).toBe(1.5);
    expect(() => usedLimit(16.5, 'MIL-STD-414')).toThrow('Table A-1');
    expect(() => usedLimit(0.05, 'ANSI/ASQ Z1.9')).toThrow('0.1, 0.15');
  });

  it('refuse what the tables do not hold', () => {
    const own = {
      standard: 'MIL-STD-414',
      letter: 'K',
      limitPercent: 1,
      severity: 'normal',
    } as const;
    expect(() => tabulatedPlan({ ...own, method: 's', severity: 'reduced' })).toThrow(
      'not held here',
    );
    expect(() => tabulatedPlan({ ...own, method: 'sigma' })).toThrow('letters B to I');
    expect(() => variablesLetter(2, 'MIL-STD-414', 'IV')).toThrow('3 pieces or more');
    expect(() => variablesLetter(20, 'MIL-STD-414', 'S-3')).toThrow('one of I, II, III, IV, V');
  });

  it('refuse arguments outside their ranges', () => {
    const plan = { sampleSizePieces: 10, acceptabilityConstant: 1.5, method: 's' as const };
    expect(() => variablesAcceptance({ ...plan, sampleSizePieces: 1 })).toThrow('from 2 to 100000');
    expect(() => variablesAcceptance({ ...plan, acceptabilityConstant: 11 })).toThrow('-10 to 10');
    expect(() => variablesAcceptance(plan)(1.2)).toThrow('a fraction from 0 to 1');
    expect(() => fractionAt(plan, 1)).toThrow('above 0 and below 1');
    expect(() => estimatedFraction(1, 2, 's')).toThrow('3 pieces or more');
    expect(() => acceptabilityConstant(0, 10, 's')).toThrow('a fraction above 0 and below 1');
    expect(() => noncentralTUpper(1, 10, 2000)).toThrow('noncentrality');
    expect(() => noncentralTUpper(Number.NaN, 10, 0)).toThrow('a finite number');
    expect(() => spreadRule(0.5, 1)).toThrow('degreesOfFreedom');
  });

  it('are certain at the ends of the scale', () => {
    const accept = variablesAcceptance({
      sampleSizePieces: 10,
      acceptabilityConstant: 1.5,
      method: 's',
    });
    expect([accept(0), accept(1)]).toEqual([1, 0]);
    expect(constantAt(26, 'sigma', 0.05, 0.95)).toBeCloseTo(1.322271, 6);
  });

  it('are refused for qualities too close together', () => {
    const asked = { producerRisk: 0.05, consumerRisk: 0.05, method: 's' as const };
    expect(() => variablesPlanSearch({ goodPercent: 2, badPercent: 1, ...asked })).toThrow(
      'the bad quality',
    );
    expect(() => variablesPlanSearch({ goodPercent: 1, badPercent: 1.01, ...asked })).toThrow(
      'at most 10000 pieces',
    );
  });
});

describe('the verdict by variables', () => {
  const base: VariablesVerdictInput = {
    sample: { given: 'measurements', measurements: [197, 188, 184, 205, 201] },
    upperLimit: 209,
    criterion: { form: 'k', acceptabilityConstant: 1.53 },
    normality: 'test',
  };
  const judge = (changes: Partial<VariablesVerdictInput>) =>
    variablesVerdict({ ...base, ...changes });

  it('says that few pieces cannot show their distribution', () => {
    expect(judge({})).toMatchObject({ verdict: 'accept', normality: 'too few to tell' });
    expect(judge({}).words).toContain('know it from earlier lots');
  });

  it('refuses a verdict on a sample from two sortings, with the reason', () => {
    const heaps = Array.from({ length: 40 }, (_, index) => (index % 2 ? 31.2 : 31) + 0.001 * index);
    const found = judge({ sample: { given: 'measurements', measurements: heaps }, upperLimit: 32 });
    expect(found).toMatchObject({ verdict: 'refused', normality: 'contradicted' });
    expect(found.words).toContain('Judge this lot by attributes');
    const shown = judge({
      sample: { given: 'measurements', measurements: heaps },
      upperLimit: 32,
      normality: 'shown otherwise',
    });
    expect(shown.verdict).toBe('accept');
  });

  it('with a limit of quality for each side asks for all three', () => {
    // Estimates of MIL-STD-414's example B-3: 0.617 % below 180, 2.182 % above 209.
    const each = (lowerMaximumPercent: number, upperMaximumPercent: number) =>
      judge({
        lowerLimit: 180,
        criterion: { form: 'M for each limit', lowerMaximumPercent, upperMaximumPercent },
      }).verdict;
    expect(each(1, 3)).toBe('accept');
    expect(each(0.5, 3)).toBe('do not accept');
    expect(each(1, 2)).toBe('do not accept');
    // Each by itself, but not the sum of 2.799 %.
    expect(each(1, 2.5)).toBe('do not accept');
  });

  it('refuses questions that do not fit together', () => {
    const { upperLimit: _, ...noLimit } = base;
    expect(() => variablesVerdict(noLimit)).toThrow('a lower limit, an upper limit, or both');
    expect(() => judge({ lowerLimit: 210 })).toThrow('below the upper limit');
    expect(() => judge({ lowerLimit: 180 })).toThrow('form M when both limits');
    const each = {
      form: 'M for each limit',
      lowerMaximumPercent: 1,
      upperMaximumPercent: 1,
    } as const;
    expect(() => judge({ criterion: each })).toThrow('form k or M');
    expect(() => judge({ sample: { given: 'measurements', measurements: [5, 5, 5] } })).toThrow(
      'not all equal',
    );
    const summary = {
      given: 'summary',
      sampleSizePieces: 5,
      mean: 1,
      standardDeviation: 1,
    } as const;
    expect(() => judge({ sample: summary })).toThrow('shown otherwise');
  });

  it('takes a known deviation in place of that of the sample', () => {
    expect(judge({ knownStandardDeviation: 7 })).toMatchObject({ standardDeviation: 7 });
    expect(judge({ knownStandardDeviation: 7 }).upperQualityIndex).toBe(2);
  });
});

describe('the check for a normal distribution', () => {
  const scores = [-1.6, -1.1, -0.8, -0.5, -0.2, 0, 0.2, 0.5, 0.8, 1.1, 1.6];

  it('names a long tail, and equal values', () => {
    expect(findNormality(Array.from({ length: 30 }, () => 5)).reason).toContain('equal');
    const skewed = Array.from({ length: 60 }, (_, index) => Math.exp(index / 12));
    expect(findNormality(skewed).verdict).toBe('contradicted');
    expect(normalityCheck({ measurements: skewed }).words).toContain('Do not use normal theory');
  });

  it('finds nothing against values that look normal', () => {
    expect(normalityCheck({ measurements: scores })).toMatchObject({ verdict: 'not contradicted' });
  });

  it('refuses too few or too many values', () => {
    expect(() => findNormality([])).toThrow('from 1 to 5000 values');
    expect(() => shapiroWilk([1, 2])).toThrow('from 3 to 5000 values');
    expect(() => shapiroWilk([1, 1, 1])).toThrow('not all equal');
  });
});
