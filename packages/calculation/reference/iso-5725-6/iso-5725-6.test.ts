import { describe, expect, it } from 'vitest';
import {
  criticalRangeFactors,
  criticalRangeFactorsOfMany,
  rangeQuantile,
  replicateAcceptance,
} from '../../src/assay/replicate-acceptance.ts';
import values from './values.json' with { type: 'json' };

interface Case {
  readonly id: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly { name: string; value: number; tolerance: number }[];
  readonly decision?: string;
}

const cases = values.cases as unknown as readonly Case[];

function expectValues(one: Case, actual: Readonly<Record<string, number | null>>): void {
  for (const { name, value, tolerance } of one.expected) {
    const found = actual[name];
    if (found === undefined || found === null) throw new Error(`${one.id}: nothing for ${name}`);
    expect(Math.abs(found - value), `${one.id}: ${name}`).toBeLessThanOrEqual(tolerance);
  }
}

describe('the four-result rule', () => {
  it('asks for two more results, then reports the mean of four', () => {
    const one = cases.find((candidate) => candidate.id === 'iso5725-6-duplicates');
    if (!one) throw new Error('no case iso5725-6-duplicates');
    const repeatabilityStandardDeviationPerMille = Number(one.inputs.s_r);
    const firstTwo = one.inputs['first two'] as number[];
    const nextTwo = one.inputs['next two'] as number[];
    const two = replicateAcceptance({
      resultsPerMille: firstTwo,
      repeatabilityStandardDeviationPerMille,
    });
    const four = replicateAcceptance({
      resultsPerMille: [...firstTwo, ...nextTwo],
      repeatabilityStandardDeviationPerMille,
    });
    expect(two).toMatchObject({ state: 'more-needed', furtherResultsNeeded: 2 });
    expect(four).toMatchObject({ state: 'accepted', rule: 'mean of four' });
    expectValues(one, {
      'r = 2.8 s_r': two.criticalRangePerMille,
      'difference of first two': two.rangePerMille,
      'CR95(4) = 3.6 s_r': four.criticalRangePerMille,
      'range of four': four.rangePerMille,
      'reported: mean of four': four.finalResultPerMille,
    });
  });

  it('uses printed factors that the exact quantiles round to', () => {
    for (const [count = 0, computed = 0, printed = 0] of values.factors.rows) {
      const exact = rangeQuantile(0.95, count);
      expect(Math.abs(exact - computed)).toBeLessThanOrEqual(0.005);
      expect(Math.round(exact * 10) / 10).toBe(printed);
      const factors: Readonly<Record<number, number>> = {
        ...criticalRangeFactors,
        ...criticalRangeFactorsOfMany,
      };
      expect(factors[count]).toBe(printed);
    }
  });
});

describe('duplicate gold assays against a limit', () => {
  for (const one of cases.filter((candidate) => candidate.id.startsWith('gold-duplicates-'))) {
    it(`${one.id}: ${one.decision}`, () => {
      const output = replicateAcceptance({
        resultsPerMille: one.inputs.results as number[],
        duplicateLimitPerMille: Number(one.inputs.limit),
      });
      expect(output.state).toBe(one.decision === 'accept' ? 'accepted' : 'more-needed');
      expectValues(one, {
        difference: output.rangePerMille,
        mean: output.meanPerMille,
      });
    });
  }
});
