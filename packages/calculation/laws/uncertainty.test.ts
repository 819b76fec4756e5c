import betainc from '@stdlib/math-base-special-betainc';
import gammainc from '@stdlib/math-base-special-gammainc';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalDistribution } from '../src/quantity/normal.ts';
import type { MeasurementModel } from '../src/uncertainty/algebra.ts';
import { numberAlgebra } from '../src/uncertainty/algebra.ts';
import { derivativeAlgebra, variable } from '../src/uncertainty/derivatives.ts';
import { momentsOf } from '../src/uncertainty/input-moments.ts';
import type { InputDistribution, InputQuantity } from '../src/uncertainty/input-quantity-schema.ts';
import { samplerOf } from '../src/uncertainty/input-sampler.ts';
import { monteCarlo } from '../src/uncertainty/monte-carlo.ts';
import { randomStream } from '../src/uncertainty/random-words.ts';
import { meanAndDeviation, sortedCopy } from '../src/uncertainty/sorted-sample.ts';
import { textModel } from '../src/uncertainty/text-model.ts';
import { uncertaintyBudget } from '../src/uncertainty/uncertainty-budget.ts';

const draws = 30_000;

/** Each kind with its distribution function, written from its definition. */
const kinds: readonly (readonly [InputDistribution, (x: number) => number])[] = [
  [
    { kind: 'normal', estimate: 3, standardUncertainty: 2, degreesOfFreedom: null },
    (x) => normalDistribution(x, 3, 2),
  ],
  [{ kind: 'rectangular', estimate: 3, halfWidth: 2 }, (x) => (x - 1) / 4],
  [
    { kind: 'triangular', estimate: 0, halfWidth: 1 },
    (x) => (x < 0 ? (1 + x) ** 2 / 2 : 1 - (1 - x) ** 2 / 2),
  ],
  [{ kind: 'trapezoidal', estimate: 0, halfWidth: 1, topShare: 0.5 }, (x) => trapezoid(x, 0.5)],
  [
    { kind: 'curvilinear trapezoidal', estimate: 0, halfWidth: 1, halfWidthTolerance: 0.4 },
    (x) => curvilinear(x, 1, 0.4),
  ],
  [
    { kind: 'arc-sine', estimate: 0, halfWidth: 1 },
    (x) => 0.5 + Math.asin(Math.min(1, Math.max(-1, x))) / Math.PI,
  ],
  [{ kind: 'exponential', estimate: 2 }, (x) => 1 - Math.exp(-x / 2)],
  [{ kind: 'gamma', shape: 3.5, scale: 2 }, (x) => gammainc(x / 2, 3.5)],
  [{ kind: 'gamma', shape: 0.4, scale: 1 }, (x) => gammainc(x, 0.4)],
  [
    { kind: 't', estimate: 1, standardUncertainty: 2, degreesOfFreedom: 5 },
    (x) => student((x - 1) / 2, 5),
  ],
  [{ kind: 'readings', readings: [1, 2, 3, 4] }, (x) => student((x - 2.5) / Math.sqrt(5 / 12), 3)],
];

function trapezoid(x: number, top: number): number {
  const height = 1 / (1 + top);
  const left = (y: number) =>
    y <= -top ? (height * (1 + y) ** 2) / (2 * (1 - top)) : height * ((1 - top) / 2 + y + top);
  return x <= 0 ? left(x) : 1 - left(-x);
}

/** Average of rectangular distribution functions over half-widths from a − d to a + d, on a grid. */
function curvilinear(x: number, a: number, d: number): number {
  let sum = 0;
  for (let k = 0; k < 400; k += 1) {
    const end = a + d * ((2 * k + 1) / 400 - 1);
    sum += Math.min(1, Math.max(0, 0.5 + x / (2 * end)));
  }
  return sum / 400;
}

function student(t: number, freedom: number): number {
  const tail = betainc(freedom / (freedom + t * t), freedom / 2, 0.5) / 2;
  return t > 0 ? 1 - tail : tail;
}

describe('draws of an input', () => {
  it.each(kinds.map(([distribution, cdf], index) => ({ distribution, cdf, index })))(
    'of kind $distribution.kind follow their distribution',
    ({ distribution, cdf, index }) => {
      const block = new Float64Array(draws);
      samplerOf(distribution, randomStream(500 + index, 0))(block, draws);
      const sorted = sortedCopy(block);
      let distance = 0;
      sorted.forEach((x, k) => {
        const f = cdf(x);
        distance = Math.max(distance, Math.abs(f - k / draws), Math.abs(f - (k + 1) / draws));
      });
      // Kolmogorov's distance passes 1.95/√n once in a thousand.
      expect(distance * Math.sqrt(draws)).toBeLessThan(1.95);
    },
  );

  it.each(kinds.filter(([{ kind }]) => kind !== 't' && kind !== 'readings'))(
    'of kind $kind have the moments that the law of propagation takes',
    (distribution) => {
      const block = new Float64Array(draws);
      samplerOf(distribution, randomStream(77, 1))(block, draws);
      const { mean, deviation } = meanAndDeviation(block);
      const { estimate, standardUncertainty } = momentsOf(distribution);
      const error = standardUncertainty / Math.sqrt(draws);
      expect(Math.abs(mean - estimate)).toBeLessThan(4 * error);
      expect(Math.abs(deviation / standardUncertainty - 1)).toBeLessThan(0.03);
    },
  );
});

/** Models over three inputs that are smooth between 0.5 and 2. */
const models = [
  'x * y * z',
  'x / y + z^3',
  'sqrt(x * y) - log(z)',
  'exp(x - y) * sin(z)',
  'x^y + tan(z / 4)',
  'log10(x + y) / atan(z)',
  'asin(x / 4) * acos(y / 4) + cos(z)',
  'abs(x - 3) * z^-2 + y^2.5',
];
const names = ['x', 'y', 'z'];
const place = fc.array(fc.double({ min: 0.5, max: 2, noNaN: true }), {
  minLength: 3,
  maxLength: 3,
});

function evaluate(model: MeasurementModel, at: readonly number[]): number {
  return model(numberAlgebra, Object.fromEntries(names.map((name, i) => [name, at[i] as number])));
}

describe('exact derivatives', () => {
  it.each(models)('of %s agree with differences of the numbers', (text) => {
    const model = textModel(text, names);
    fc.assert(
      fc.property(place, (at) => {
        const variables = Object.fromEntries(
          names.map((name, i) => [
            name,
            variable(
              at[i] as number,
              names.map((_, j) => (i === j ? 1 : 0)),
            ),
          ]),
        );
        const { value, parts } = model(derivativeAlgebra(3), variables);
        expect(value).toBe(evaluate(model, at));
        const h = 2e-3;
        const shifted = (...steps: readonly (readonly [number, number])[]) =>
          evaluate(
            model,
            at.map((x, i) => x + steps.reduce((s, [j, step]) => s + (i === j ? step * h : 0), 0)),
          );
        // Differences on five points: their own error stays below 1e-4 at this step.
        for (let i = 0; i < 3; i += 1) {
          const slope =
            (8 * (shifted([i, 1]) - shifted([i, -1])) - (shifted([i, 2]) - shifted([i, -2]))) /
            (12 * h);
          expect(Math.abs((parts?.[i] ?? 0) - slope)).toBeLessThan(1e-6);
          for (let j = 0; j < 3; j += 1) {
            const mixed =
              (shifted([i, 1], [j, 1]) -
                shifted([i, 1], [j, -1]) -
                shifted([i, -1], [j, 1]) +
                shifted([i, -1], [j, -1])) /
              (4 * h * h);
            const third =
              (shifted([i, 1], [j, 1]) +
                shifted([i, 1], [j, -1]) -
                2 * shifted([i, 1]) -
                shifted([i, -1], [j, 1]) -
                shifted([i, -1], [j, -1]) +
                2 * shifted([i, -1])) /
              (2 * h * h * h);
            const scale = 1 + Math.abs(third);
            expect(Math.abs((parts?.[3 + 3 * i + j] ?? 0) - mixed)).toBeLessThan(2e-3 * scale);
            expect(Math.abs((parts?.[12 + 3 * i + j] ?? 0) - third)).toBeLessThan(5e-2 * scale);
          }
        }
      }),
      { seed: 61, numRuns: 10 },
    );
  });
});

const uncertainties = fc.array(fc.double({ min: 0.001, max: 0.1, noNaN: true }), {
  minLength: 3,
  maxLength: 3,
});

function quantities(at: readonly number[], u: readonly number[], scale = 1): InputQuantity[] {
  return names.map((name, i) => ({
    name,
    unit: '1',
    distribution: {
      kind: 'normal',
      estimate: at[i] as number,
      standardUncertainty: scale * (u[i] as number),
      degreesOfFreedom: 10 + i,
    },
  }));
}

function budget(text: string, inputs: InputQuantity[], terms: 'first order' | 'second order') {
  return uncertaintyBudget({
    model: text,
    inputs,
    correlations: [],
    coverageProbability: 0.95,
    terms,
  });
}

describe('laws of the budget', () => {
  const text = 'x / y + z^3';

  it('first order grows in proportion to the uncertainties, degrees of freedom stay', () => {
    fc.assert(
      fc.property(place, uncertainties, (at, u) => {
        const [one, two] = [1, 2].map((scale) =>
          budget(text, quantities(at, u, scale), 'first order'),
        );
        const ratio = (two?.standardUncertainty ?? 0) / (one?.standardUncertainty ?? 1);
        expect(ratio).toBeCloseTo(2, 9);
        expect(two?.effectiveDegreesOfFreedom).toBeCloseTo(one?.effectiveDegreesOfFreedom ?? 0, 8);
      }),
      { seed: 62, numRuns: 50 },
    );
  });

  it('does not depend on the order of the inputs', () => {
    fc.assert(
      fc.property(place, uncertainties, (at, u) => {
        const inputs = quantities(at, u);
        const one = budget(text, inputs, 'second order');
        const other = budget(text, inputs.toReversed(), 'second order');
        expect(other.standardUncertainty).toBeCloseTo(one.standardUncertainty, 12);
        expect(other.meanShift).toBeCloseTo(one.meanShift, 12);
      }),
      { seed: 63, numRuns: 50 },
    );
  });

  it('effective degrees of freedom lie between the smallest and the sum', () => {
    fc.assert(
      fc.property(place, uncertainties, (at, u) => {
        const freedom = budget(text, quantities(at, u), 'first order').effectiveDegreesOfFreedom;
        expect(freedom ?? 0).toBeGreaterThanOrEqual(10 - 1e-9);
        expect(freedom ?? 0).toBeLessThanOrEqual(10 + 11 + 12 + 1e-9);
      }),
      { seed: 64, numRuns: 50 },
    );
  });

  it('no terms of second order for a model that is a straight sum', () => {
    fc.assert(
      fc.property(place, uncertainties, (at, u) => {
        const output = budget('2 * x - y + z / 3', quantities(at, u), 'second order');
        expect(output.secondOrderStandardUncertainty).toBe(output.firstOrderStandardUncertainty);
        expect(output.meanShift).toBe(0);
      }),
      { seed: 65, numRuns: 50 },
    );
  });
});

describe('law of propagation and simulation', () => {
  // Two roads that share nothing but the model.
  it.each(models)('agree for %s, second order with the mean shift', (text) => {
    const inputs = quantities([1.2, 0.9, 1.4], [0.03, 0.04, 0.05]);
    const law = budget(text, inputs, 'second order');
    const simulated = monteCarlo({
      model: text,
      inputs,
      correlations: [],
      coverageProbability: 0.95,
      seed: 66,
      trials: { kind: 'fixed', trials: 100_000 },
      significantDigits: 1,
    });
    const error = simulated.standardUncertainty / Math.sqrt(100_000);
    expect(Math.abs(law.value + law.meanShift - simulated.value)).toBeLessThan(4.5 * error);
    const ratio = law.standardUncertainty / simulated.standardUncertainty;
    expect(Math.abs(ratio - 1)).toBeLessThan(0.01);
  });
});
