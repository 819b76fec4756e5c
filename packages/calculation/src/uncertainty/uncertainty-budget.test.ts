import { describe, expect, it } from 'vitest';
import { combineResults, combineResultsCalculation } from './combine-results.ts';
import type { InputQuantity } from './input-quantity-schema.ts';
import { uncertaintyBudget } from './uncertainty-budget.ts';

const input = (name: string, estimate: number, u: number, source?: string): InputQuantity => ({
  name,
  unit: '1',
  source: source ?? null,
  distribution: {
    kind: 'normal',
    estimate,
    standardUncertainty: u,
    degreesOfFreedom: null,
  },
});

const budget = (model: string, inputs: InputQuantity[], more = {}) =>
  uncertaintyBudget({ model, inputs, correlations: [], coverageProbability: 0.95, ...more });

describe('the uncertainty budget', () => {
  it('has shares that add to 100 % with the second-order terms, correlated or not', () => {
    const inputs = [input('x', 3, 0.9), input('y', 2, 0.7)];
    for (const coefficient of [0, 0.6, -0.6]) {
      const output = budget('x * y', inputs, {
        correlations: [{ first: 'x', second: 'y', coefficient }],
        terms: 'second order',
      });
      const shares = output.budget.reduce((sum, line) => sum + line.sharePercent, 0);
      expect(shares + output.secondOrderSharePercent).toBeCloseTo(100, 10);
    }
  });

  it('keeps contributions whose squares add to the variance', () => {
    const output = budget('x * y', [input('x', 3, 0.9), input('y', 2, 0.7)], {
      terms: 'second order',
    });
    const squares = output.contributions.reduce((sum, { effect }) => sum + effect ** 2, 0);
    expect(Math.sqrt(squares)).toBeCloseTo(output.standardUncertainty, 12);
    expect(output.contributions).toHaveLength(3);
  });

  it('stays at first order where the second digit does not change', () => {
    expect(budget('x * y', [input('x', 3, 0.01), input('y', 2, 0.01)]).termsUsed).toBe(
      'first order',
    );
    expect(budget('x^2', [input('x', 0, 0.01)]).termsUsed).toBe('second order');
  });

  it('copes with a result that has no uncertainty or is 0', () => {
    const output = budget('x - 1', [input('x', 1, 0)]);
    expect(output).toMatchObject({
      value: 0,
      standardUncertainty: 0,
      relativeStandardUncertaintyPercent: null,
    });
    expect(output.budget[0]?.sharePercent).toBe(0);
  });

  it('cuts the degrees of freedom or takes them as they are', () => {
    const inputs = [
      { ...input('x', 1, 0.25) },
      {
        name: 'y',
        unit: '1',
        distribution: { kind: 't', estimate: 1, standardUncertainty: 0.3, degreesOfFreedom: 4 },
      } satisfies InputQuantity,
    ];
    const whole = budget('x + y', inputs, { terms: 'first order' });
    const fractional = budget('x + y', inputs, {
      terms: 'first order',
      degreesOfFreedomUse: 'fractional',
    });
    // By hand: 4·(0.25² + 0.3²)²/0.3⁴ = 4·0.02325625/0.0081.
    expect(whole.effectiveDegreesOfFreedom).toBeCloseTo(11.4846, 4);
    // Table G.2 at 11: 2.20.
    expect(whole.coverageFactor).toBeCloseTo(2.2, 2);
    expect(fractional.coverageFactor).toBeLessThan(whole.coverageFactor);
  });

  it('warns when the series does not hold', () => {
    const output = budget('sin(x)', [input('x', 0, 2)]);
    expect(output.secondOrderStandardUncertainty).toBeNull();
    expect(output.words).toMatch(/simulate it/);
  });

  it('refuses a source named twice and a correlated set with a source for some only', () => {
    expect(() => budget('x + y', [input('x', 1, 1, 'scale'), input('y', 1, 1, 'scale')])).toThrow(
      /inputs.1.source is scale; accepted: one input per source/,
    );
    const correlations = [{ first: 'x', second: 'y', coefficient: 0.5 }];
    expect(() =>
      budget('x + y', [input('x', 1, 1, 'scale'), input('y', 1, 1)], { correlations }),
    ).toThrow(/inputs.1.source is none; accepted: a source for every input/);
  });

  it('joins correlated inputs without sources to one contribution', () => {
    const correlations = [{ first: 'x', second: 'y', coefficient: -1 }];
    const output = budget('x + y', [input('x', 1, 1), input('y', 1, 3)], { correlations });
    expect(output.contributions).toEqual([{ source: null, effect: 2, degreesOfFreedom: null }]);
  });
});

describe('results that share a reference', () => {
  const single = (reading: number) =>
    budget('reading * reference / 1000', [
      input('reading', reading, 0.15),
      input('reference', 1000, 0.08, 'reference alloy'),
    ]);
  const mean = (readings: readonly number[]) => {
    const names = readings.map((_, index) => `r${index}`);
    return combineResults({
      model: `(${names.join(' + ')}) / ${readings.length}`,
      results: readings.map((reading, index) => {
        const output = single(reading);
        return {
          name: names[index] as string,
          unit: '‰',
          value: output.value,
          contributions: output.contributions,
        };
      }),
      sourceCorrelations: [],
      coverageProbability: 0.95,
    });
  };

  it('keep the part of the reference however many are averaged', () => {
    const readings = Array.from({ length: 64 }, () => 916.8);
    const output = mean(readings);
    // By hand: shared 916.8/1000 · 0.08, own 0.15/√64.
    expect(output.sharedStandardUncertainty).toBeCloseTo(0.9168 * 0.08, 12);
    expect(output.ownStandardUncertainty).toBeCloseTo(0.15 / 8, 12);
    expect(output.standardUncertainty).toBeCloseTo(Math.hypot(0.9168 * 0.08, 0.15 / 8), 12);
    expect(output.standardUncertaintyIfIndependent).toBeLessThan(0.4 * output.standardUncertainty);
    expect(output.sources[0]).toMatchObject({ source: 'reference alloy', resultCount: 64 });
  });

  it('lose it in their difference', () => {
    const contributions = single(916.8).contributions;
    const output = combineResults({
      model: 'a - b',
      results: ['a', 'b'].map((name) => ({ name, unit: '‰', value: 916.8, contributions })),
      sourceCorrelations: [],
      coverageProbability: 0.95,
    });
    expect(output.sharedStandardUncertainty).toBe(0);
    expect(output.standardUncertainty).toBeCloseTo(0.15 * Math.SQRT2, 12);
  });

  it('give the same when combined at once or in two steps', () => {
    const readings = [916.5, 916.7, 916.9, 917.1];
    const halves = [readings.slice(0, 2), readings.slice(2)].map(mean);
    const inSteps = combineResults({
      model: '(a + b) / 2',
      results: halves.map((half, index) => ({
        name: index === 0 ? 'a' : 'b',
        unit: '‰',
        value: half.value,
        contributions: half.contributions,
      })),
      sourceCorrelations: [],
      coverageProbability: 0.95,
    });
    const atOnce = mean(readings);
    expect(inSteps.value).toBeCloseTo(atOnce.value, 10);
    expect(inSteps.standardUncertainty).toBeCloseTo(atOnce.standardUncertainty, 12);
    expect(inSteps.sharedStandardUncertainty).toBeCloseTo(atOnce.sharedStandardUncertainty, 12);
  });

  it('refuse a source twice in a result, other degrees of freedom, an unknown source', () => {
    const { example } = combineResultsCalculation;
    const [first, ...rest] = example.results;
    if (!first) throw new Error('no result');
    const own = first.contributions[0];
    if (!own) throw new Error('no contribution');
    const twice = { ...first, contributions: [own, own] };
    expect(() => combineResults({ ...example, results: [twice, ...rest] })).toThrow(
      /results.0.contributions.1.source is proof gold; accepted: each source once in a result/,
    );
    const other = { ...first, contributions: [{ ...own, degreesOfFreedom: 3 }] };
    expect(() => combineResults({ ...example, results: [other, ...rest] })).toThrow(
      /results.1.contributions.0.degreesOfFreedom is null; accepted: 3, as another result states/,
    );
    const unknown = [{ first: 'proof gold', second: 'balance', coefficient: 0.5 }];
    expect(() => combineResults({ ...example, sourceCorrelations: unknown })).toThrow(
      /sourceCorrelations.0.second is balance; accepted: one of proof gold/,
    );
    expect(() => combineResults({ ...example, model: 'first' })).toThrow(
      /results.1.name is second/,
    );
  });
});
