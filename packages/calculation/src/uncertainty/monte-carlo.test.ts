import { describe, expect, it } from 'vitest';
import { numberAlgebra } from './algebra.ts';
import { blockEvaluator } from './block-evaluator.ts';
import type { InputQuantity } from './input-quantity-schema.ts';
import {
  type MonteCarloInput,
  monteCarlo,
  monteCarloCalculation,
  monteCarloSteps,
} from './monte-carlo.ts';
import { RandomWords, randomStream } from './random-words.ts';
import { coverageIntervals, sortedCopy } from './sorted-sample.ts';
import { textModel } from './text-model.ts';

const { example } = monteCarloCalculation;

function run(model: string, inputs: InputQuantity[], more: Partial<MonteCarloInput> = {}) {
  return monteCarlo({
    model,
    inputs,
    correlations: [],
    coverageProbability: 0.95,
    seed: 7,
    trials: { kind: 'fixed', trials: 20_000 },
    significantDigits: 1,
    ...more,
  });
}

const input = (name: string, distribution: InputQuantity['distribution']): InputQuantity => ({
  name,
  unit: '1',
  distribution,
});
const normal = (estimate: number, standardUncertainty: number) =>
  ({ kind: 'normal', estimate, standardUncertainty, degreesOfFreedom: null }) as const;

describe('the stream of random words', () => {
  it('is that of the published generator', () => {
    // First words of xoshiro128** version 1.1 from the state 1, 2, 3, 4, as its authors' program
    // gives them.
    const words = new RandomWords([1, 2, 3, 4]);
    const expected = [
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597,
      4258142804,
    ];
    expect(expected.map(() => words.next() >>> 0)).toEqual(expected);
  });

  it('differs between seeds and between streams of a seed, also beyond 32 bits', () => {
    const firsts = [
      [1, 0],
      [1, 1],
      [2, 0],
      [0, 0],
      [2 ** 32 + 1, 0],
      [2 ** 53 - 1, 0],
    ].map(([seed = 0, stream = 0]) => randomStream(seed, stream).next());
    expect(new Set(firsts).size).toBe(firsts.length);
  });
});

describe('a simulation', () => {
  it('repeats itself by its seed, and no other seed gives the same', () => {
    expect(monteCarlo(example)).toEqual(monteCarlo(example));
    expect(monteCarlo({ ...example, seed: 1 }).value).not.toBe(monteCarlo(example).value);
  });

  it('can be run in steps with progress, and left between two of them', () => {
    const steps = monteCarloSteps(example);
    const progress: number[] = [];
    for (let step = steps.next(); ; step = steps.next()) {
      if (step.done) {
        expect(step.value).toEqual(monteCarlo(example));
        break;
      }
      progress.push(step.value.trialsDone);
      expect(step.value.trialsAtMost).toBe(100_000);
    }
    expect(progress).toEqual(Array.from({ length: 10 }, (_, index) => (index + 1) * 10_000));
    const left = monteCarloSteps(example);
    left.next();
    left.return(undefined as never);
    expect(left.next().done).toBe(true);
  });

  it('does not change the draws of an input when another is added behind it', () => {
    const alone = run('x', [input('x', normal(0, 1))]);
    const both = run('x + 0 * y', [input('x', normal(0, 1)), input('y', normal(0, 1))]);
    expect(both.value).toBeCloseTo(alone.value, 12);
    expect(both.symmetricLower).toBe(alone.symmetricLower);
  });

  it('keeps correlated inputs correlated', () => {
    const inputs = [input('x', normal(1, 2)), input('y', normal(5, 3)), input('z', normal(0, 1))];
    const correlations = [
      { first: 'x', second: 'y', coefficient: 0.5 },
      { first: 'y', second: 'z', coefficient: -0.6 },
    ];
    const output = run('x + 2 * y - z', inputs, {
      correlations,
      trials: { kind: 'fixed', trials: 200_000 },
    });
    // By hand: 4 + 36 + 1 + 2·2·6·0.5 + 2·6·1·0.6 = 60.2.
    const exact = Math.sqrt(60.2);
    expect(Math.abs(output.standardUncertainty - exact)).toBeLessThan((4 * exact) / Math.sqrt(4e5));
    expect(output.comparisons[0]?.standardUncertainty).toBeCloseTo(exact, 12);
  });

  it('makes one constant of inputs that are known exactly', () => {
    const output = run('x^2 + 1', [input('x', normal(2, 0))]);
    expect(output).toMatchObject({ value: 5, standardUncertainty: 0, numericalTolerance: null });
    expect(output.histogram.densities).toEqual([]);
  });

  it('goes on without the law of propagation where the model has no derivative', () => {
    const output = run('abs(x)', [input('x', normal(0, 1))]);
    expect(output.comparisons).toEqual([]);
    expect(output.words).toMatch(/no derivative at the estimates/);
    // Mean of the half-normal distribution √(2/π).
    expect(output.value).toBeCloseTo(Math.sqrt(2 / Math.PI), 1);
  });

  it('says when an adaptive run did not settle', () => {
    const output = run('x', [input('x', normal(0, 1))], {
      trials: { kind: 'adaptive', mostTrials: 20_000 },
      significantDigits: 2,
    });
    expect(output).toMatchObject({ isSettled: false, trials: 20_000 });
    expect(output.words).toMatch(/before its figures had settled/);
  });

  it('refuses what it cannot simulate', () => {
    const x = input('x', normal(0, 1));
    expect(() =>
      run('x + y', [x, input('y', { kind: 'rectangular', estimate: 0, halfWidth: 1 })], {
        correlations: [{ first: 'x', second: 'y', coefficient: 0.5 }],
      }),
    ).toThrow(/inputs.1.distribution.kind is rectangular; accepted: normal for every input/);
    const t = { kind: 't', estimate: 0, standardUncertainty: 1, degreesOfFreedom: 2 } as const;
    expect(() => run('x', [input('x', t)])).toThrow(
      /inputs.0.distribution.degreesOfFreedom is 2; accepted: more than 2 degrees of freedom/,
    );
    expect(() => run('x', [input('x', { kind: 'readings', readings: [1, 2, 3] })])).toThrow(
      /inputs.0.distribution.readings is 2; accepted: more than 2 degrees/,
    );
    expect(() => run('sqrt(x)', [input('x', normal(1, 1))])).toThrow(
      /model is without a finite value in \d+ of 1000 trials; accepted: a model that has a finite/,
    );
    expect(() => run('x', [x], { trials: { kind: 'adaptive', mostTrials: 19_999 } })).toThrow(
      /trials.mostTrials is 19999; accepted: at least 20000 trials/,
    );
  });
});

describe('the parts of a simulation', () => {
  it('evaluate a block as single numbers are evaluated, to the bit', () => {
    const text =
      'abs(a) + acos(b) * asin(b) - atan(a) / cos(b) + exp(b)^1.5 - log(c) + log10(c) * sin(a) + sqrt(c) * tan(b) + -a^2 + 2^3 + (a * 1)^1 + sqrt(4)';
    const names = ['a', 'b', 'c'];
    const model = textModel(text, names);
    const evaluator = blockEvaluator(model, names, 8);
    const rows = Array.from({ length: 8 }, (_, k) => ({ a: k - 3.5, b: k / 9, c: k + 0.5 }));
    rows.forEach((row, k) => {
      for (const [place, name] of names.entries()) {
        (evaluator.inputs[place] as Float64Array)[k] = row[name as 'a'];
      }
    });
    const block = evaluator.evaluate(8);
    rows.forEach((row, k) => {
      expect(block[k]).toBe(model(numberAlgebra, row));
    });
  });

  it('sort any values as the engine does', () => {
    const random = randomStream(3, 0);
    const lists = [
      Array.from({ length: 5000 }, () => random.uniform()),
      Array.from({ length: 5000 }, () => Math.tan(Math.PI * (random.uniform() - 0.5))),
      Array.from({ length: 5000 }, () => Math.floor(3 * random.uniform())),
      Array.from({ length: 100 }, () => 7),
      [3, 1, 2],
      [Number.MAX_VALUE, -Number.MAX_VALUE, ...Array.from({ length: 99 }, () => random.uniform())],
    ];
    for (const list of lists) {
      const values = Float64Array.from(list);
      expect(sortedCopy(values)).toEqual(values.slice().sort());
    }
  });

  it('find intervals as counted by hand', () => {
    // Ten values, p = 0.5: q = 5; symmetric r = (10 − 5 + 1)/2 = 3, the third to the eighth value.
    const sorted = Float64Array.from([0, 10, 20, 21, 22, 23, 24, 25, 40, 90]);
    const { symmetric, shortest } = coverageIntervals(sorted, 0.5);
    expect(symmetric).toEqual({ lower: 20, upper: 25 });
    expect(shortest).toEqual({ lower: 20, upper: 25 });
    const skewed = Float64Array.from([0, 1, 2, 3, 4, 5, 20, 40, 60, 90]);
    expect(coverageIntervals(skewed, 0.5).shortest).toEqual({ lower: 0, upper: 5 });
  });
});
