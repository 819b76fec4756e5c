import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { DomainError } from '../quantity/domain.ts';
import { fineMass, fineMassCalculation, fineMicrograms } from './fine-mass.ts';

const calculation = fineMassCalculation as unknown as Calculation;

describe('fineMass', () => {
  it('gives the fine weight that the good-delivery rules print for their example bar', () => {
    const output = fineMass(fineMassCalculation.example);
    expect(output.fineTroyOunces).toBe('399.440');
    expect(output.goldStatedGrossTroyOunces).toBe('401.125');
    expect(output.goldStatedFineTroyOunces).toBe('399.440');
  });

  it('finds 31206879 micrograms of gold in 31.21 g of 999.9', () => {
    const output = fineMass({
      grossMicrograms: 31_210_000,
      finenessPartsPerMillion: 999_900,
      roundingRule: 'half-even',
    });
    expect(output.fineMicrograms).toBe('31206879');
    expect(output.remainderMicrograms).toBe('0');
    expect(output.fineGrams).toBe('31.206879');
  });

  it('keeps the remainder exactly, negative where it rounded up', () => {
    const base = { grossMicrograms: '1000001', finenessPartsPerMillion: 999_900 } as const;
    expect(fineMass({ ...base, roundingRule: 'down' })).toMatchObject({
      fineMicrograms: '999900',
      remainderMicrograms: '0.9999',
    });
    expect(fineMass({ ...base, roundingRule: 'up' })).toMatchObject({
      fineMicrograms: '999901',
      remainderMicrograms: '-0.0001',
    });
  });

  it('sends a midway microgram where the rule says', () => {
    const of = (grossMicrograms: number, roundingRule: 'half-even' | 'half-up') =>
      fineMass({ grossMicrograms, finenessPartsPerMillion: 500_000, roundingRule }).fineMicrograms;
    expect([of(1, 'half-even'), of(3, 'half-even')]).toEqual(['0', '2']);
    expect([of(1, 'half-up'), of(3, 'half-up')]).toEqual(['1', '2']);
  });

  it('is exact for masses that a double cannot hold', () => {
    const output = fineMass({
      grossMicrograms: '123456789012345678901',
      finenessPartsPerMillion: 1_000_000,
      roundingRule: 'half-even',
    });
    expect(output.fineMicrograms).toBe('123456789012345678901');
  });

  it('states 0 for a bar lighter than one step', () => {
    const output = fineMass({
      grossMicrograms: 1000,
      finenessPartsPerMillion: 995_000,
      roundingRule: 'down',
    });
    expect(output.goldTurnOfScaleGrossTroyOunces).toBe('0.000');
    expect(output.silverStatedGrossTroyOunces).toBe('0.0');
  });
});

describe('fineMicrograms', () => {
  it('does as its example says', () => {
    expect(fineMicrograms(31_210_000n, 999_900n, 'half-even')).toBe(31_206_879n);
  });

  it('refuses a fineness above 1000000 ppm', () => {
    expect(() => fineMicrograms(1n, 1_000_001n, 'down')).toThrow(DomainError);
  });
});

describe('the fine-mass calculation', () => {
  const base = { finenessPartsPerMillion: 999_900, roundingRule: 'half-even' };
  const refused: [string, object, string][] = [
    ['neither mass', base, 'grossMicrograms'],
    ['both masses', { ...base, grossMicrograms: 1, grossTroyOunces: 1 }, 'grossMicrograms'],
    ['a negative mass', { ...base, grossMicrograms: -1 }, 'grossMicrograms'],
    ['a fraction of a microgram', { ...base, grossMicrograms: 1.5 }, 'grossMicrograms'],
    ['an unsafe number', { ...base, grossMicrograms: 2 ** 53 }, 'grossMicrograms'],
    ['text with a unit', { ...base, grossMicrograms: '12 µg' }, 'grossMicrograms'],
    ['infinite ounces', { ...base, grossTroyOunces: Number.POSITIVE_INFINITY }, 'grossTroyOunces'],
    ['no fineness', { grossMicrograms: 1, roundingRule: 'up' }, 'finenessPartsPerMillion'],
    [
      'a fineness above one',
      { ...base, grossMicrograms: 1, finenessPartsPerMillion: 1_000_001 },
      'finenessPartsPerMillion',
    ],
    ['an unknown rule', { ...base, grossMicrograms: 1, roundingRule: 'nearest' }, 'roundingRule'],
    ['an unknown field', { ...base, grossMicrograms: 1, mass: 1 }, 'mass'],
  ];
  for (const [name, input, field] of refused) {
    it(`refuses ${name} and names the field`, () => {
      const result = runCalculation(calculation, input);
      expect(result.outcome).toBe('refused');
      if (result.outcome !== 'refused') return;
      expect(result.problems.map((problem) => problem.field)).toContain(field);
      for (const problem of result.problems) expect(problem.accepted).not.toBe('');
    });
  }

  it('computes its example to an output that its schema accepts', () => {
    const result = runCalculation(calculation, fineMassCalculation.example);
    expect(result.outcome).toBe('computed');
    if (result.outcome === 'computed') fineMassCalculation.output.parse(result.output);
  });

  it('has schemas from which a form can be made', () => {
    expect(() => z.toJSONSchema(fineMassCalculation.input)).not.toThrow();
    expect(() => z.toJSONSchema(fineMassCalculation.output)).not.toThrow();
  });
});
