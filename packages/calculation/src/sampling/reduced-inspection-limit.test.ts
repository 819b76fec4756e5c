import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { limitNumber } from './limit-number.ts';
import {
  reducedInspectionLimit,
  reducedInspectionLimitCalculation,
} from './reduced-inspection-limit.ts';

const calculation = reducedInspectionLimitCalculation as unknown as Calculation;
const { example } = reducedInspectionLimitCalculation;

describe('reducedInspectionLimit', () => {
  it('says whether the count is good enough', () => {
    expect(reducedInspectionLimit(example).words).toBe(
      '7 nonconforming among 1250 pieces examined, limit number 7: good enough for reduced inspection.',
    );
    expect(reducedInspectionLimit({ ...example, nonconformingPieces: 8 }).words).toContain(
      'too many for reduced inspection',
    );
  });

  it('says how many pieces are needed, and where the table ends', () => {
    const few = reducedInspectionLimit({ ...example, sampleUnits: 199 });
    expect(few).toMatchObject({ limitNumber: null, unitsNeeded: 200, isMet: false });
    expect(few.words).toContain('until 200 pieces are reached');
    const beyond = reducedInspectionLimit({ ...example, acceptanceQualityLimitPercent: 1000 });
    expect(beyond).toMatchObject({ limitNumber: null, unitsNeeded: null, isMet: false });
    expect(beyond.words).toContain('stay on normal inspection');
    expect(reducedInspectionLimitCalculation.draw?.({ ...example, sampleUnits: 199 }, few)).toEqual(
      [],
    );
  });

  it.each([
    ['sampleUnits', -1],
    ['nonconformingPieces', 0.5],
    ['acceptanceQualityLimitPercent', 3],
  ])('refuses %s %d', (field, value) => {
    const result = runCalculation(calculation, { ...example, [field]: value });
    if (result.outcome !== 'refused') throw new Error('was not refused');
    expect(result.problems[0]).toMatchObject({ field, value });
  });

  it('refuses units and limits outside the table when asked directly', () => {
    expect(() => limitNumber(1.5, 1)).toThrow('sampleUnits is 1.5');
    expect(() => limitNumber(100, 3)).toThrow('acceptanceQualityLimitPercent is 3');
  });
});
