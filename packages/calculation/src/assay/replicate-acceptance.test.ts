import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { DomainError } from '../quantity/domain.ts';
import {
  rangeDistribution,
  rangeQuantile,
  replicateAcceptance,
  replicateAcceptanceCalculation,
} from './replicate-acceptance.ts';

const sigma = { repeatabilityStandardDeviationPerMille: 0.1 };

describe('replicateAcceptance', () => {
  it('does as its example says', () => {
    const output = replicateAcceptance(replicateAcceptanceCalculation.example);
    expect(output.finalResultPerMille).toBe(916.4975);
    expect(output).toMatchObject({ state: 'accepted', rule: 'mean of four' });
  });

  it('asks for a second result after the first', () => {
    expect(replicateAcceptance({ resultsPerMille: [916.3], ...sigma })).toMatchObject({
      state: 'more-needed',
      furtherResultsNeeded: 1,
      rangePerMille: null,
    });
  });

  it('accepts two results exactly on the critical range', () => {
    // 916.58 − 916.3 is 0.2800000000000864 in doubles.
    const output = replicateAcceptance({ resultsPerMille: [916.3, 916.58], ...sigma });
    expect(output).toMatchObject({ state: 'accepted', rule: 'mean of two', rangePerMille: 0.28 });
    expect(output.finalResultPerMille).toBe(916.44);
  });

  it('accepts two results exactly on a limit that a method states', () => {
    const output = replicateAcceptance({
      resultsPerMille: [999.63, 999.43],
      duplicateLimitPerMille: 0.2,
    });
    expect(output).toMatchObject({ state: 'accepted', criticalRangePerMille: 0.2 });
  });

  it('asks for two more results when two disagree, and for one more when three do', () => {
    expect(replicateAcceptance({ resultsPerMille: [916.3, 916.59], ...sigma })).toMatchObject({
      state: 'more-needed',
      furtherResultsNeeded: 2,
      finalResultPerMille: null,
    });
    expect(replicateAcceptance({ resultsPerMille: [916.3, 916.7, 916.5], ...sigma })).toMatchObject(
      {
        state: 'more-needed',
        furtherResultsNeeded: 1,
      },
    );
  });

  it('states the mean of three within 3.3 standard deviations', () => {
    const output = replicateAcceptance({ resultsPerMille: [916.3, 916.63, 916.5], ...sigma });
    expect(output).toMatchObject({ state: 'accepted', rule: 'mean of three' });
    expect(output.finalResultPerMille).toBeCloseTo((916.3 + 916.63 + 916.5) / 3, 9);
  });

  it('states the median of four when even their range is too wide, discarding nothing', () => {
    const output = replicateAcceptance({ resultsPerMille: [916.9, 916.1, 916.5, 916.4], ...sigma });
    expect(output).toMatchObject({
      state: 'median-of-four',
      rule: 'median of four',
      finalResultPerMille: 916.45,
      furtherResultsNeeded: 0,
    });
  });

  it('goes on beyond four results: their mean within f(n), else their median', () => {
    // Range 0.39 of five is on f(5)·σ = 3.9 × 0.1; of six 0.41 is beyond 4.0 × 0.1.
    const five = [916.3, 916.4, 916.5, 916.6, 916.69];
    expect(replicateAcceptance({ resultsPerMille: five, ...sigma })).toMatchObject({
      state: 'accepted',
      rule: 'mean of all',
      criticalRangeFactor: 3.9,
      finalResultPerMille: 4582.49 / 5,
    });
    const six = [...five.slice(0, 4), 916.71, 916.35];
    expect(replicateAcceptance({ resultsPerMille: six, ...sigma })).toMatchObject({
      state: 'median-of-all',
      rule: 'median of all',
      // Sorted: 916.30 916.35 916.40 916.50 916.60 916.71.
      finalResultPerMille: 916.45,
      furtherResultsNeeded: 0,
    });
    const seven = [...six, 917];
    expect(replicateAcceptance({ resultsPerMille: seven, ...sigma })).toMatchObject({
      state: 'median-of-all',
      finalResultPerMille: 916.5,
    });
  });

  it('widens a limit on duplicates in the ratio of the factors for four results', () => {
    const output = replicateAcceptance({
      resultsPerMille: [916.3, 916.9, 916.5, 916.4],
      duplicateLimitPerMille: 0.5,
    });
    expect(output.criticalRangePerMille).toBeCloseTo((0.5 * 3.6) / 2.8, 12);
    expect(output.state).toBe('accepted');
  });

  it('draws the range against the critical range, and nothing for one result', () => {
    const draw = replicateAcceptanceCalculation.draw;
    const one = { resultsPerMille: [916.3], ...sigma };
    expect(draw?.(one, replicateAcceptance(one))).toEqual([]);
    const two = { resultsPerMille: [916.3, 916.4], ...sigma };
    expect(draw?.(two, replicateAcceptance(two))[0]).toMatchObject({ upperLimit: 0.28 });
  });
});

describe('the range of normal results', () => {
  it('is distributed as the examples say', () => {
    expect(rangeDistribution(2.7718, 2)).toBeCloseTo(0.95, 5);
    expect(rangeQuantile(0.95, 2)).toBeCloseTo(2.7718, 4);
  });

  it('of two results is √2 times a normal deviate, a second road', () => {
    expect(rangeQuantile(0.95, 2)).toBeCloseTo(Math.SQRT2 * 1.959963984540054, 10);
    expect(rangeQuantile(0.99, 2)).toBeCloseTo(Math.SQRT2 * 2.5758293035489, 10);
  });

  it('refuses what lies outside its range', () => {
    expect(() => rangeDistribution(-1, 2)).toThrow(DomainError);
    expect(() => rangeDistribution(1, 1)).toThrow(DomainError);
    expect(() => rangeQuantile(1, 2)).toThrow(DomainError);
  });
});

describe('the replicate-acceptance calculation', () => {
  const calculation = replicateAcceptanceCalculation as unknown as Calculation;
  const spread = 'repeatabilityStandardDeviationPerMille';
  const refused: [string, string, object][] = [
    ['no result', 'resultsPerMille', { resultsPerMille: [], ...sigma }],
    ['eleven results', 'resultsPerMille', { resultsPerMille: Array(11).fill(1), ...sigma }],
    ['a result above 1000', 'resultsPerMille.1', { resultsPerMille: [999, 1001], ...sigma }],
    ['text for a result', 'resultsPerMille.0', { resultsPerMille: ['999'], ...sigma }],
    ['no measure of spread', spread, { resultsPerMille: [999, 999] }],
    [
      'two measures of spread',
      spread,
      { resultsPerMille: [999], ...sigma, duplicateLimitPerMille: 1 },
    ],
    ['a spread of 0', spread, { resultsPerMille: [999], [spread]: 0 }],
  ];
  for (const [name, field, input] of refused) {
    it(`refuses ${name} and names the field`, () => {
      const result = runCalculation(calculation, input);
      expect(result).toMatchObject({ outcome: 'refused', problems: [{ field }] });
    });
  }

  it('refuses the same when it is called without its schema', () => {
    expect(() => replicateAcceptance({ resultsPerMille: [999, 999] })).toThrow(DomainError);
    expect(() => replicateAcceptance({ resultsPerMille: [], ...sigma })).toThrow(DomainError);
  });

  it('computes its example to an output that its schema accepts', () => {
    const result = runCalculation(calculation, replicateAcceptanceCalculation.example);
    expect(result.outcome).toBe('computed');
    if (result.outcome === 'computed') replicateAcceptanceCalculation.output.parse(result.output);
    expect(() => z.toJSONSchema(replicateAcceptanceCalculation.input)).not.toThrow();
    expect(() => z.toJSONSchema(replicateAcceptanceCalculation.output)).not.toThrow();
  });
});
