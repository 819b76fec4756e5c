import { describe, expect, it } from 'vitest';
import { DomainError } from '../../quantity/domain.ts';
import { dixonCritical, dixonProbability, dixonRatioFor, dixonStatistic } from './dixon-ratio.ts';
import { cochranCritical, grubbsCritical, grubbsProbability } from './extreme-tests.ts';
import { grubbsPairCritical, grubbsPairProbability } from './largest-deviate.ts';
import { outlierTests, outlierTestsCalculation } from './outlier-tests.ts';

const run = (results: number[], significancePercent = 5) =>
  outlierTests({
    data: { kind: 'results', results, side: 'either', dixonRatio: 'by-number' },
    unit: 'g',
    significancePercent,
  });

describe('outlier tests', () => {
  it('say in words what was found and what to do', () => {
    const { words } = outlierTests(outlierTestsCalculation.example);
    expect(words).toContain('Grubbs finds 245.57 out of line at 5 % (2.469 against 2.032');
    expect(words).toContain('Look for the cause');
    // The pair that holds the gross result is significant too, but is not put into words.
    expect(words).not.toContain('pair');
    expect(run([1, 2, 3, 4]).words).toBe('No test finds an outlier at 5 %: keep every result.');
  });

  it('name a pair where no single result is out of line', () => {
    const output = run([10, 10.1, 9.9, 10.05, 9.95, 10.02, 15, 15.1]);
    expect(output.words).toContain('Grubbs for a pair finds 15.1 and 15 out of line');
  });

  it('watch one side only where asked', () => {
    const output = outlierTests({
      data: { kind: 'results', results: [1, 2, 3, 50], side: 'lowest', dixonRatio: 'r10' },
      unit: 'g',
      significancePercent: 5,
    });
    expect(output.tests.every((test) => test.side === 'lowest' && !test.isOutlier)).toBe(true);
  });

  it('leave Dixon out where the ratio does not fit the number of results', () => {
    const output = outlierTests({
      data: { kind: 'results', results: [1, 2, 4], side: 'highest', dixonRatio: 'r22' },
      unit: 'g',
      significancePercent: 5,
    });
    expect(output.tests.map((test) => test.test)).toEqual(['grubbs-one']);
  });

  it('find the group that scatters most', () => {
    const output = outlierTests({
      data: {
        kind: 'spreads',
        groups: [1, 1.1, 0.9, 1.05, 4].map((standardDeviation, index) => ({
          name: `L${index}`,
          standardDeviation,
        })),
        replicates: 3,
      },
      unit: 'g',
      significancePercent: 1,
    });
    // 16/(1 + 1.21 + 0.81 + 1.1025 + 16) by hand; critical 0.789 of ISO 5725-2, Table 4.
    expect(output.tests[0]?.statistic).toBeCloseTo(16 / 20.1225, 12);
    expect(output.tests[0]?.criticalValue).toBeCloseTo(0.789, 3);
    expect(output.words).toContain('Cochran finds L4');
  });

  it('refuse equal results and spreads of nothing', () => {
    expect(() => run([5, 5, 5, 5])).toThrow('data.results is equal results only');
    expect(() =>
      outlierTests({
        data: {
          kind: 'spreads',
          groups: [
            { name: 'A', standardDeviation: 0 },
            { name: 'B', standardDeviation: 0 },
          ],
          replicates: 2,
        },
        unit: 'g',
        significancePercent: 5,
      }),
    ).toThrow('at least one standard deviation above 0');
  });
});

describe('critical values', () => {
  it('refuse numbers and levels outside their range', () => {
    expect(() => grubbsCritical(0.05, 2)).toThrow(DomainError);
    expect(() => grubbsCritical(0, 5)).toThrow('upperProbability is 0');
    expect(() => grubbsProbability(1, 2.5)).toThrow('count is 2.5');
    expect(() => grubbsPairCritical(0.05, 3)).toThrow('from 4 to 200');
    expect(() => grubbsPairCritical(0.7, 5)).toThrow('upperProbability is 0.7');
    expect(() => grubbsPairProbability(1.1, 5)).toThrow('a ratio from 0 to 1');
    expect(() => dixonCritical(0.05, 3, 'r22')).toThrow('from 6 to 40 for r22');
    expect(() => dixonCritical(0.95, 5, 'r10')).toThrow('upperProbability is 0.95');
    expect(() => dixonProbability(-0.1, 5, 'r10')).toThrow('value is -0.1');
    expect(() => cochranCritical(0.05, 1, 3)).toThrow('variances is 1');
    expect(() => cochranCritical(0.05, 3, 1)).toThrow('replicates is 1');
  });

  it('choose the ratio of Dixon by number, and give 0 for tied results', () => {
    expect([3, 7, 8, 10, 11, 13, 14].map(dixonRatioFor)).toEqual([
      'r10',
      'r10',
      'r11',
      'r11',
      'r21',
      'r21',
      'r22',
    ]);
    expect(dixonStatistic([1, 2, 2], 'r11')).toBe(0);
  });
});
