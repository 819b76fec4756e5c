import { describe, expect, it } from 'vitest';
import { dimensionConformity, dimensionConformityCalculation } from './dimension-conformity.ts';

const example = dimensionConformityCalculation.example;

const judge = (
  reading: number,
  rule: 'expanded uncertainty' | 'probability 95 %' = 'expanded uncertainty',
) =>
  dimensionConformity({
    rule,
    dimensions: [
      {
        label: 'thickness',
        readingsMillimetres: [reading],
        lowerLimitMillimetres: 2.7,
        upperLimitMillimetres: 2.8,
        standardUncertaintyMillimetres: 0.005,
      },
    ],
  }).verdict;

describe('dimensionConformity', () => {
  it('accepts the diameter of the example and leaves the thickness undecided', () => {
    const output = dimensionConformity(example);
    expect(output.dimensions.map((one) => one.verdict)).toEqual(['conforms', 'undecided']);
    expect(output.verdict).toBe('undecided');
    expect(output.dimensions[1]?.worstMillimetres).toBe(2.801);
    // 2 × 0.005 over 0.1 mm.
    expect(output.dimensions[0]?.uncertaintyRatioPercent).toBeCloseTo(10, 12);
  });

  it('is exact on the edges of its zones, in tenths that doubles cannot hold', () => {
    expect([judge(2.71), judge(2.79)]).toEqual(['conforms', 'conforms']);
    expect([judge(2.7099), judge(2.7901)]).toEqual(['undecided', 'undecided']);
    expect([judge(2.69), judge(2.81)]).toEqual(['undecided', 'undecided']);
    expect([judge(2.6899), judge(2.8101)]).toEqual(['does not conform', 'does not conform']);
  });

  it('is less strict by probability: 1.645 standard uncertainties instead of 2', () => {
    const byProbability = (reading: number) => judge(reading, 'probability 95 %');
    expect([byProbability(2.8 - 0.00823), byProbability(2.8 - 0.00822)]).toEqual([
      'conforms',
      'undecided',
    ]);
    expect([byProbability(2.8 + 0.00822), byProbability(2.8 + 0.00823)]).toEqual([
      'undecided',
      'does not conform',
    ]);
  });

  it('judges one limit alone', () => {
    const output = dimensionConformity({
      rule: 'expanded uncertainty',
      dimensions: [
        {
          label: 'edge height',
          readingsMillimetres: [5],
          lowerLimitMillimetres: 1,
          standardUncertaintyMillimetres: 0.01,
        },
      ],
    });
    expect(output.verdict).toBe('conforms');
    expect(output.dimensions[0]?.uncertaintyRatioPercent).toBeNull();
    expect(output.dimensions[0]?.conformanceProbability).toBe(1);
  });

  it('refuses a dimension without limits', () => {
    expect(() =>
      dimensionConformity({
        rule: 'expanded uncertainty',
        dimensions: [
          { label: 'A', readingsMillimetres: [1], standardUncertaintyMillimetres: 0.01 },
        ],
      }),
    ).toThrow('a lower limit, an upper limit, or both');
  });

  it('refuses a lower limit that is not below the upper one', () => {
    const [first] = example.dimensions;
    if (!first) throw new Error('no dimension');
    expect(() =>
      dimensionConformity({
        ...example,
        dimensions: [{ ...first, lowerLimitMillimetres: 32.74 }],
      }),
    ).toThrow('a lower limit below the upper limit 32.74 mm');
  });
});
