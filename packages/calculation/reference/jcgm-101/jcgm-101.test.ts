import { describe, expect, it } from 'vitest';
import type { InputQuantity } from '../../src/uncertainty/input-quantity-schema.ts';
import {
  type MonteCarloInput,
  monteCarlo,
  monteCarloCalculation,
} from '../../src/uncertainty/monte-carlo.ts';
import {
  uncertaintyBudget,
  uncertaintyBudgetCalculation,
} from '../../src/uncertainty/uncertainty-budget.ts';
import { expectValues, referenceCase } from '../uncertainty-cases.ts';
import values from './values.json' with { type: 'json' };

const one = (id: string) => referenceCase(values.cases, id);
const million = { kind: 'fixed', trials: 1_000_000 } as const;

function input(name: string, distribution: InputQuantity['distribution']): InputQuantity {
  return { name, unit: '1', distribution };
}

const normal = (estimate: number, standardUncertainty: number) =>
  ({ kind: 'normal', estimate, standardUncertainty, degreesOfFreedom: null }) as const;

function run(
  options: Pick<MonteCarloInput, 'model' | 'inputs'> & Partial<MonteCarloInput>,
): ReturnType<typeof monteCarlo> {
  return monteCarlo({
    correlations: [],
    coverageProbability: 0.95,
    seed: 101,
    trials: million,
    significantDigits: 2,
    ...options,
  });
}

/** Standard errors of the figures of a run, the ends from the density that the run shows there. */
function standardErrorsOf(output: ReturnType<typeof run>) {
  const { trials, standardUncertainty: u, histogram } = output;
  const tail = 0.025;
  const end = (x: number) => {
    const bin = Math.floor((x - histogram.lowerEdge) / histogram.binWidth);
    const density = histogram.densities[bin] ?? Number.NaN;
    return Math.sqrt((tail * (1 - tail)) / trials) / density;
  };
  return {
    value: u / Math.sqrt(trials),
    // Exact for a normal output; those of this clause have no longer tails.
    standardUncertainty: u / Math.sqrt(2 * trials),
    lower: end(output.symmetricLower),
    upper: end(output.symmetricUpper),
  };
}

const four = ['a', 'b', 'c', 'd'];

describe('additive models (9.2)', () => {
  it('agree for four normal inputs, and confirm the law of propagation', () => {
    const output = run({
      model: 'a + b + c + d',
      inputs: four.map((name) => input(name, normal(0, 1))),
      significantDigits: 1,
    });
    const errors = standardErrorsOf(output);
    expectValues(
      one('jcgm101-9.2.2'),
      {
        y: output.value,
        'u(y)': output.standardUncertainty,
        'lower 95 %': output.symmetricLower,
        'upper 95 %': output.symmetricUpper,
      },
      undefined,
      {
        y: errors.value,
        'u(y)': errors.standardUncertainty,
        'lower 95 %': errors.lower,
        'upper 95 %': errors.upper,
      },
    );
    expect(output.comparisons[0]?.isConfirmed).toBe(true);
  });

  it('agree for four rectangular inputs, whose interval is shorter', () => {
    const output = run({
      model: 'a + b + c + d',
      inputs: four.map((name) =>
        input(name, { kind: 'rectangular', estimate: 0, halfWidth: Math.sqrt(3) }),
      ),
    });
    const errors = standardErrorsOf(output);
    expectValues(
      one('jcgm101-9.2.3'),
      {
        'u(y)': output.standardUncertainty,
        'upper 95 %, GUM framework': output.comparisons[0]?.intervalUpper ?? Number.NaN,
        'upper 95 %, Monte Carlo / exact': output.symmetricUpper,
      },
      undefined,
      {
        'u(y)': errors.standardUncertainty,
        'upper 95 %, Monte Carlo / exact': errors.upper,
      },
    );
    // Exact end of the sum of four uniform quantities.
    const exact = 2 * Math.sqrt(3) * (2 - 0.6 ** 0.25);
    expect(Math.abs(output.symmetricUpper - exact)).toBeLessThan(4 * errors.upper);
  });
});

describe('calibration of a weight (9.3)', () => {
  it('agrees in first order, higher order and simulation', () => {
    const {
      trials: _t,
      seed: _s,
      significantDigits: _d,
      ...budgetInput
    } = monteCarloCalculation.example;
    const first = uncertaintyBudget({ ...budgetInput, terms: 'first order' });
    const higher = uncertaintyBudget({ ...budgetInput, terms: 'where needed' });
    const output = monteCarlo({ ...monteCarloCalculation.example, trials: million });
    expect(higher.termsUsed).toBe('second order');
    expectValues(one('jcgm101-9.3'), {
      estimate: first.value,
      'u, first-order': first.standardUncertainty,
      'lower 95 %, first-order': first.intervalLower,
      'upper 95 %, first-order': first.intervalUpper,
      'u, with higher-order terms': higher.standardUncertainty,
      // The guide multiplies by 1.96 and rounds u to 0.0750 first.
      'lower 95 %, higher order': higher.value - 1.96 * 0.075,
      'upper 95 %, higher order': higher.value + 1.96 * 0.075,
      'u, Monte Carlo': output.standardUncertainty,
      'lower 95 % shortest, Monte Carlo': output.shortestLower,
      'upper 95 % shortest, Monte Carlo': output.shortestUpper,
    });
    expect(higher.intervalLower).toBeCloseTo(1.087, 3);
    expect(higher.intervalUpper).toBeCloseTo(1.381, 3);
    expect(output.comparisons.map(({ terms }) => terms)).toEqual(['first order', 'second order']);
    expect(output.comparisons[0]?.isConfirmedByShortest).toBe(false);
  });

  it('settles by itself with two digits', () => {
    const output = monteCarlo({
      ...monteCarloCalculation.example,
      trials: { kind: 'adaptive', mostTrials: 5_000_000 },
    });
    expect(output.isSettled).toBe(true);
    // The guide's own adaptive runs of this example needed some 0.7 million trials (from memory).
    expect(output.trials).toBeGreaterThan(200_000);
    expect(output.trials).toBeLessThan(2_000_000);
    expect(output.standardUncertainty).toBeCloseTo(0.0754, 3);
  });
});

describe('sum of two squares (9.4)', () => {
  const squares = (x1: number, coefficient: number) =>
    run({
      model: 'a^2 + b^2',
      inputs: [input('a', normal(x1, 0.005)), input('b', normal(0, 0.005))],
      correlations: coefficient === 0 ? [] : [{ first: 'a', second: 'b', coefficient }],
    });
  const micro = (value: number) => value * 1e6;
  const simulated = (output: ReturnType<typeof run>) => ({
    'y, Monte Carlo': micro(output.value),
    'u(y), Monte Carlo': micro(output.standardUncertainty),
    'shortest 95 % lower': micro(output.shortestLower),
    'shortest 95 % upper': micro(output.shortestUpper),
  });

  const firstOrder = (output: ReturnType<typeof run>) => ({
    'y, first-order law': micro(output.comparisons[0]?.value ?? Number.NaN),
    'u(y), first-order law': micro(output.comparisons[0]?.standardUncertainty ?? Number.NaN),
  });

  it('agrees in jcgm101-9.4-r0-x000', () => {
    const output = squares(0, 0);
    expectValues(one('jcgm101-9.4-r0-x000'), { ...simulated(output), ...firstOrder(output) });
  });

  it('agrees in jcgm101-9.4-r0-x050, the ends with the analytic ones', () => {
    const example = one('jcgm101-9.4-r0-x050');
    const output = squares(0.05, 0);
    const found = simulated(output);
    const { 'shortest 95 % lower': lower, 'shortest 95 % upper': upper, ...rest } = found;
    const ends = {
      'shortest 95 % lower, analytic': lower,
      'shortest 95 % upper, analytic': upper,
    };
    const compared = { ...rest, ...firstOrder(output), ...ends };
    const errors = standardErrorsOf(output);
    expectValues(example, compared, Object.keys(compared), {
      'y, Monte Carlo': micro(errors.value),
      'u(y), Monte Carlo': micro(errors.standardUncertainty),
    });
    // The printed ends are those of one run; their distance is as sharp as half a unit of each.
    expect(Math.abs(upper - lower - (3543 - 1590))).toBeLessThan(6);
  });

  it.each([
    ['jcgm101-9.4-r09-x000', 0],
    ['jcgm101-9.4-r09-x010', 0.01],
  ])('agrees in %s', (id, x1) => {
    expectValues(one(id), simulated(squares(x1, 0.9)));
  });

  it('has the second-order figures that are exact for normal inputs, correlated too', () => {
    const { terms: _t, ...budget } = {
      model: 'a^2 + b^2',
      inputs: [input('a', normal(0.01, 0.005)), input('b', normal(0, 0.005))],
      correlations: [{ first: 'a', second: 'b', coefficient: 0.9 }],
      coverageProbability: 0.95,
      terms: undefined,
    };
    const output = uncertaintyBudget(budget);
    // Mean x1² + 2σ²; variance 4x1²σ² + 4σ⁴(1 + r²): moments of squares of normal quantities.
    const variance = 4 * 0.01 ** 2 * 0.005 ** 2 + 4 * 0.005 ** 4 * (1 + 0.9 ** 2);
    expect(output.termsUsed).toBe('second order');
    expect(output.standardUncertainty).toBeCloseTo(Math.sqrt(variance), 15);
    expect(output.value + output.meanShift).toBeCloseTo(0.01 ** 2 + 2 * 0.005 ** 2, 15);
  });
});

describe('gauge block (9.5)', () => {
  it('agrees in law of propagation and simulation', () => {
    const t = (estimate: number, standardUncertainty: number, degreesOfFreedom: number) =>
      ({ kind: 't', estimate, standardUncertainty, degreesOfFreedom }) as const;
    const output = run({
      model: 'L + D + d1 + d2 - L * (da * (theta + Delta) + alpha * dtheta) - 50000000',
      inputs: [
        input('L', t(50_000_623, 25, 18)),
        input('D', t(215, 6, 24)),
        input('d1', t(0, 4, 5)),
        input('d2', t(0, 7, 8)),
        input('alpha', { kind: 'rectangular', estimate: 11.5e-6, halfWidth: 2e-6 }),
        input('theta', normal(-0.1, 0.2)),
        input('Delta', { kind: 'arc-sine', estimate: 0, halfWidth: 0.5 }),
        input('da', {
          kind: 'curvilinear trapezoidal',
          estimate: 0,
          halfWidth: 1e-6,
          halfWidthTolerance: 0.1e-6,
        }),
        input('dtheta', {
          kind: 'curvilinear trapezoidal',
          estimate: 0,
          halfWidth: 0.05,
          halfWidthTolerance: 0.025,
        }),
      ],
      coverageProbability: 0.99,
    });
    // For the law of propagation the guide keeps the budget of H.1, with a/√3 for temperatures.
    const first = uncertaintyBudget(uncertaintyBudgetCalculation.example);
    expectValues(one('jcgm101-9.5'), {
      estimate: output.value,
      'u, law of propagation': first.standardUncertainty,
      'u, Monte Carlo': output.standardUncertainty,
      'lower 99 %, law of propagation': first.intervalLower,
      'upper 99 %, law of propagation': first.intervalUpper,
      'lower 99 %, Monte Carlo': output.shortestLower,
      'upper 99 %, Monte Carlo': output.shortestUpper,
    });
  });
});
