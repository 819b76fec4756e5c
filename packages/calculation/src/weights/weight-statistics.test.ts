import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { sampleMoments, sampleQuantile } from '../quantity/sample-moments.ts';
import { histogram } from './histogram.ts';
import { judgeNormalShape } from './normal-shape.ts';
import {
  fractionUpperBound,
  weightStatistics,
  weightStatisticsCalculation,
} from './weight-statistics.ts';

const calculation = weightStatisticsCalculation as unknown as Calculation;
const { example } = weightStatisticsCalculation;

describe('weightStatistics', () => {
  it('gives the examples of its documentation', () => {
    const masses = [7.512, 7.502, 7.461, 7.562];
    expect(weightStatistics({ massesGrams: masses }).medianGrams).toBeCloseTo(7.507, 12);
    expect(sampleMoments([1, 2, 3, 4]).mean).toBe(2.5);
    expect(sampleQuantile([1, 2, 3, 4], 0.25)).toBe(1.75);
    expect(histogram([1, 2, 2, 3]).counts).toEqual([1, 2, 1]);
    expect(fractionUpperBound(0, 100)).toBeCloseTo(1 - 0.05 ** (1 / 100), 12);
    expect(judgeNormalShape([7.5, 7.5]).normalTheory).toBe('refused');
  });

  it('counts strictly outside the limits', () => {
    const result = weightStatistics({
      massesGrams: [7.4, 7.39, 7.6, 7.61, 7.5],
      lowerLimitGrams: 7.4,
      upperLimitGrams: 7.6,
      declaredMassGrams: 7.5,
    });
    expect(result).toMatchObject({
      belowLowerLimitPieces: 1,
      aboveUpperLimitPieces: 1,
      belowDeclaredMassPieces: 2,
    });
    expect(result.giveawayTotalGrams).toBeCloseTo(0, 12);
  });

  it('answers one piece, without a spread and without what was not asked', () => {
    expect(weightStatistics({ massesGrams: [31.1] })).toMatchObject({
      countPieces: 1,
      meanGrams: 31.1,
      standardDeviationGrams: null,
      medianGrams: 31.1,
      skewness: null,
      belowLowerLimitPieces: null,
      aboveUpperLimitPieces: null,
      giveawayMeanGrams: null,
      belowLowerLimitFractionBound: null,
      normalTheory: 'refused',
      normalTheoryReason: 'fewer than 20 pieces cannot show the shape',
    });
  });

  it('equal masses have no spread and no shape', () => {
    const result = weightStatistics({ massesGrams: new Array<number>(30).fill(0.1) });
    expect(result.standardDeviationGrams).toBe(0);
    expect(result.normalTheoryReason).toContain('all masses are equal');
  });

  it('coarse readings are refused for their division', () => {
    const masses = Array.from({ length: 40 }, (_, index) => (index % 4 === 0 ? 31.2 : 31.1));
    expect(weightStatistics({ massesGrams: masses }).normalTheoryReason).toContain('coarse');
  });

  it('two heaps are named', () => {
    const masses = Array.from(
      { length: 60 },
      (_, index) => (index % 2 ? 31 : 31.2) + 0.0007 * index,
    );
    expect(weightStatistics({ massesGrams: masses }).normalTheory).toBe('refused');
  });

  it('a lower limit above the upper one is refused', () => {
    expect(runCalculation(calculation, { ...example, lowerLimitGrams: 8 })).toMatchObject({
      outcome: 'refused',
      problems: [
        { field: 'lowerLimitGrams', value: 8, accepted: 'a mass up to the upper limit of 7.6 g' },
      ],
    });
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY, '7.5', null])(
    'refuses the mass %j',
    (value) => {
      const result = runCalculation(calculation, { ...example, massesGrams: [7.5, value] });
      expect(result).toMatchObject({
        outcome: 'refused',
        problems: [{ field: 'massesGrams.1', value, accepted: 'a mass above 0 g' }],
      });
    },
  );

  it('refuses an empty list', () => {
    expect(runCalculation(calculation, { ...example, massesGrams: [] })).toMatchObject({
      outcome: 'refused',
      problems: [{ field: 'massesGrams', accepted: 'at least one mass' }],
    });
  });

  it('draws as many pieces as were weighed, with the limits as marks', () => {
    const chart = weightStatisticsCalculation.draw?.(example, weightStatistics(example))[0];
    if (chart?.kind !== 'chart') throw new Error('no chart');
    const drawn = chart.series[0]?.y.reduce((sum, count) => sum + count, 0);
    expect(drawn).toBe(example.massesGrams.length);
    expect(chart.marks?.map((mark) => mark.x)).toEqual([7.4, 7.5, 7.6]);
  });

  it('histograms of equal values have one class', () => {
    expect(histogram([7.5, 7.5])).toEqual({ width: 0, centres: [7.5], counts: [2] });
  });
});
