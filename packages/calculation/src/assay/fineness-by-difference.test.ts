import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { elementSymbols } from './element-symbols.ts';
import {
  type FinenessByDifferenceInput,
  finenessByDifference,
  finenessByDifferenceCalculation,
} from './fineness-by-difference.ts';

const impurity = (element: string, found: number | null, uncertainty: number, limit: number) => ({
  element,
  contentMilligramsPerKilogram: found,
  standardUncertaintyMilligramsPerKilogram: uncertainty,
  detectionLimitMilligramsPerKilogram: limit,
});
const base: FinenessByDifferenceInput = {
  metal: 'gold',
  impurities: [impurity('Ag', 82, 4, 1), impurity('Cu', 31, 3, 1), impurity('Pt', null, 0, 12)],
  policy: 'zero',
};

describe('finenessByDifference', () => {
  it('does as its example says', () => {
    const output = finenessByDifference({ policy: 'zero', impurities: [impurity('Ag', 82, 4, 1)] });
    expect(output.finenessPerMille).toBe(999.918);
  });

  it('counts what is below the limit as nothing, half or all of it', () => {
    const { byPolicy } = finenessByDifference(base);
    expect(byPolicy).toEqual({ zero: 999.887, half: 999.881, limit: 999.875 });
    expect(finenessByDifference({ ...base, policy: 'half' }).finenessPerMille).toBe(999.881);
    expect(finenessByDifference({ ...base, policy: 'limit' }).sumMilligramsPerKilogram).toBe(125);
  });

  it('gives an element below its limit the spread that the policy leaves', () => {
    // 3-4-5 for the elements found, in mg/kg; 12/√12 for the middle, 12/√3 for the ends.
    const u = (policy: 'zero' | 'half' | 'limit') =>
      finenessByDifference({ ...base, policy }).standardUncertaintyPerMille * 1000;
    expect(u('half')).toBeCloseTo(Math.sqrt(25 + 12), 9);
    expect(u('zero')).toBeCloseTo(Math.sqrt(25 + 48), 9);
    expect(u('limit')).toBeCloseTo(Math.sqrt(25 + 48), 9);
  });

  it('treats a content below its own limit as not detected and says so', () => {
    const output = finenessByDifference({
      ...base,
      impurities: [impurity('Ag', 0.9, 5, 1), impurity('Cu', 1, 0.1, 1)],
    });
    expect(output.budget.map((line) => line.handling)).toEqual(['below detection limit', 'found']);
    expect(output.words).toContain('Below their detection limits and counted as zero: Ag.');
    expect(output.sumFoundMilligramsPerKilogram).toBe(1);
  });

  it('adds decimals exactly where doubles would not', () => {
    const tenths = ['Ag', 'Cu', 'Fe'].map((element) => impurity(element, 0.1, 0, 0));
    expect(finenessByDifference({ ...base, impurities: tenths }).sumMilligramsPerKilogram).toBe(
      0.3,
    );
  });

  it('has a budget whose shares add to 100 %', () => {
    const { budget } = finenessByDifference(base);
    expect(budget.reduce((sum, line) => sum + line.sharePercent, 0)).toBeCloseTo(100, 9);
  });

  it('tells when the metal is too impure for the method', () => {
    const output = finenessByDifference({ ...base, impurities: [impurity('Cu', 1000.1, 1, 1)] });
    expect(output.scope).toBe('outside');
    expect(finenessByDifference(base).scope).toBe('inside');
  });

  it('knows 118 elements', () => {
    expect(elementSymbols.size).toBe(118);
  });

  it('draws the impurities as they were counted', () => {
    const [chart] = finenessByDifferenceCalculation.draw?.(base, finenessByDifference(base)) ?? [];
    expect(chart).toMatchObject({ kind: 'chart', yTitle: 'Content, mg/kg' });
  });
});

describe('the fineness-by-difference calculation', () => {
  const calculation = finenessByDifferenceCalculation as unknown as Calculation;
  const first = 'impurities.0';
  const refused: [string, string, object][] = [
    ['gold in gold', `${first}.element`, { impurities: [impurity('Au', 5, 1, 1)] }],
    ['silver in silver', `${first}.element`, { metal: 'silver' }],
    [
      'an element twice',
      'impurities.1.element',
      { impurities: [impurity('Cu', 1, 1, 1), impurity('Cu', 2, 1, 1)] },
    ],
    ['an unknown symbol', `${first}.element`, { impurities: [impurity('Xx', 1, 1, 1)] }],
    ['a symbol in small letters', `${first}.element`, { impurities: [impurity('ag', 1, 1, 1)] }],
    [
      'a negative content',
      `${first}.contentMilligramsPerKilogram`,
      { impurities: [impurity('Ag', -1, 1, 1)] },
    ],
    [
      'NaN for a limit',
      `${first}.detectionLimitMilligramsPerKilogram`,
      { impurities: [impurity('Ag', 1, 1, Number.NaN)] },
    ],
    [
      'nothing detected without a limit',
      `${first}.detectionLimitMilligramsPerKilogram`,
      { impurities: [impurity('Ag', null, 1, 0)] },
    ],
    [
      'more impurities than metal',
      'impurities',
      { impurities: [impurity('Ag', 6e5, 1, 1), impurity('Cu', 6e5, 1, 1)] },
    ],
    ['no impurity', 'impurities', { impurities: [] }],
    ['an unknown policy', 'policy', { policy: 'third' }],
  ];
  for (const [name, field, change] of refused) {
    it(`refuses ${name} and names the field`, () => {
      const result = runCalculation(calculation, { ...base, ...change });
      expect(result).toMatchObject({ outcome: 'refused', problems: [{ field }] });
    });
  }

  it('computes its example to an output that its schema accepts', () => {
    const result = runCalculation(calculation, finenessByDifferenceCalculation.example);
    expect(result.outcome).toBe('computed');
    if (result.outcome === 'computed') finenessByDifferenceCalculation.output.parse(result.output);
    expect(() => z.toJSONSchema(finenessByDifferenceCalculation.input)).not.toThrow();
    expect(() => z.toJSONSchema(finenessByDifferenceCalculation.output)).not.toThrow();
  });
});
