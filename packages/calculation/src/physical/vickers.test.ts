import { describe, expect, it } from 'vitest';
import { DomainError } from '../quantity/domain.ts';
import { vickers, vickersCalculation } from './vickers.ts';
import { vickersConstant, vickersHardness } from './vickers-number.ts';

const example = vickersCalculation.example;
const indentation = (over: object) => ({
  ...example,
  indentations: [
    { label: 'A', firstDiagonalMillimetres: 0.1, secondDiagonalMillimetres: 0.1, ...over },
  ],
});

describe('vickers', () => {
  it('finds the blank of the example soft and within its limits', () => {
    const output = vickers(example);
    expect(output.indentations[0]?.hardness).toBeCloseTo(39.657, 3);
    expect(output.indentations.map((one) => one.isValid)).toEqual([true, true, false]);
    expect(output.isWithinLimits).toBe(true);
    // C stands 0.9 mm from its neighbour; six diagonals of 0.1538 mm are 0.9228 mm.
    expect(output.words).toContain('near to the edge or to another: C');
  });

  it('keeps a distance exactly on its limit', () => {
    const judge = (over: object) => vickers(indentation(over)).indentations[0];
    expect(judge({ edgeDistanceMillimetres: 0.3 })?.isFarFromEdge).toBe(true);
    expect(judge({ edgeDistanceMillimetres: 0.2999 })?.isFarFromEdge).toBe(false);
    expect(judge({ neighbourDistanceMillimetres: 0.6 })?.isFarFromNeighbour).toBe(true);
    expect(judge({})?.isFarFromNeighbour).toBeNull();
  });

  it('lets the larger of two neighbours set the distance', () => {
    const over = { neighbourDistanceMillimetres: 0.6, neighbourDiagonalMillimetres: 0.11 };
    expect(vickers(indentation(over)).indentations[0]?.isFarFromNeighbour).toBe(false);
  });

  it('reports diagonals that differ by more than 5 %', () => {
    const judge = (secondDiagonalMillimetres: number) =>
      vickers(indentation({ firstDiagonalMillimetres: 0.1, secondDiagonalMillimetres }));
    expect(judge(0.1051).indentations[0]?.isSymmetric).toBe(true);
    expect(judge(0.106).indentations[0]?.isSymmetric).toBe(false);
    expect(judge(0.106).words).toContain('differ by more than 5 %: A');
  });

  it('gives the force whose indentation is just one and a half times within the thickness', () => {
    const output = vickers(example);
    const force = output.greatestForceNewtons ?? 0;
    const diagonal = Math.sqrt((vickersConstant * force) / output.meanHardness);
    expect(diagonal * 1.5).toBeCloseTo(1.8, 12);
  });

  it('adds the parts of the uncertainty by hand', () => {
    const output = vickers(indentation({}));
    expect(output.standardDeviation).toBeNull();
    expect(output.intervalLower).toBeNull();
    // No spread; twice 0.5 % of the diagonal and 0.5 % of the force.
    expect(output.standardUncertainty / output.meanHardness).toBeCloseTo(
      Math.hypot(0.01, 0.005),
      9,
    );
  });

  it('does not keep limits below the mean', () => {
    const output = vickers({ ...example, upperLimitHardness: 35 });
    expect(output.isWithinLimits).toBe(false);
    expect(output.words).toContain('does not keep its limits 30 to 35 HV');
  });

  it('leaves limits unjudged when there are none', () => {
    const { lowerLimitHardness: _, upperLimitHardness: __, ...rest } = example;
    expect(vickers(rest).isWithinLimits).toBeNull();
  });

  it('refuses a lower limit above the upper one', () => {
    expect(() => vickers({ ...example, lowerLimitHardness: 50 })).toThrow(
      'a lower limit not above the upper limit of 45 HV',
    );
  });

  it('refuses a force or a diagonal of nothing', () => {
    expect(() => vickersHardness(0, 0.1)).toThrow(DomainError);
    expect(() => vickersHardness(9.807, 0)).toThrow(/meanDiagonalMillimetres is 0/);
  });
});
