import { describe, expect, it } from 'vitest';
import { groupsByLevel } from './duplicate-lines.ts';
import { duplicatePrecision, duplicatePrecisionCalculation } from './duplicate-precision.ts';

const run = (pairs: readonly (readonly [number, number])[], confidencePercent = 99) =>
  duplicatePrecision({
    characteristic: 'Silver',
    unit: '‰',
    pairs: pairs.map(([first, second], index) => ({ name: `S${index + 1}`, first, second })),
    groupSizePairs: 3,
    confidencePercent,
  });

describe('precision from duplicates', () => {
  it('computes a case by hand', () => {
    // Differences 1, −2, 2: s² = 9/6; mean 1/3; no shift.
    const output = run([
      [11, 10],
      [20, 22],
      [32, 30],
    ]);
    expect(output.standardDeviation).toBeCloseTo(Math.sqrt(1.5), 14);
    expect(output.meanDifference).toBeCloseTo(1 / 3, 14);
    expect(output.groups).toMatchObject([{ pairCount: 3, medianDifference: 2 }]);
    expect(output.grouped).toBe(null);
  });

  it('names pairs beyond the limit and a shift between first and second', () => {
    const calm = Array.from(
      { length: 30 },
      (_, index) => [100 + index + (index % 2 ? 0.1 : 0.3), 100 + index] as const,
    );
    const output = run([...calm, [150, 140]]);
    expect(output.pairs.filter((pair) => pair.isBeyond).map((pair) => pair.name)).toEqual(['S31']);
    expect(output.words).toContain('Beyond the limit: S31; 0.31 expected by chance.');
    expect(run(calm).words).toContain('First and second results differ by 0.2 ‰ on average');
  });

  it('has no line where no pair differs, and no share where a level is 0', () => {
    const equal = run([
      [1, 1],
      [2, 2],
      [3, 3],
    ]);
    expect(equal.fitted).toBe(null);
    expect(equal.differenceT).toBe(null);
    expect(equal.pairs[0]?.limit).toBe(null);
    const zero = run([
      [1, -1],
      [2, 2.1],
      [3, 3],
    ]);
    expect(zero.relativeStandardDeviationPercent).toBe(null);
    const input = { ...duplicatePrecisionCalculation.example, pairs: [] };
    expect(duplicatePrecisionCalculation.input.safeParse(input).success).toBe(false);
  });

  it('joins a small rest to the group before, and makes a group of a larger one', () => {
    const pairs = Array.from({ length: 7 }, (_, level) => ({ level, size: 1 }));
    expect(groupsByLevel(pairs, 3).map((group) => group.pairCount)).toEqual([3, 4]);
    expect(
      groupsByLevel(pairs.concat([{ level: 8, size: 1 }]), 3).map((group) => group.pairCount),
    ).toEqual([3, 3, 2]);
  });
});
