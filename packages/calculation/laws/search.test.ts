import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { searchFigures } from '../simulation/search-figures.ts';
import { easyScenario, hardScenario } from '../simulation/search-scenario.ts';
import type { FaultModel } from '../src/search/fault-model.ts';
import { faultPosterior } from '../src/search/fault-posterior.ts';

describe('a simulated plant', () => {
  it.each([hardScenario, easyScenario])(
    '$name: what is foretold comes true as often as it is said',
    (scenario) => {
      const figures = searchFigures(scenario, { shifts: 400, seed: 11 });
      for (const { count, predicted, observed, standardError } of figures.bands) {
        // With few cases the normal limits of the observed part mean nothing.
        if (count === 0 || count * predicted * (1 - predicted) < 5) continue;
        expect(Math.abs(observed - predicted)).toBeLessThanOrEqual(3 * standardError);
      }
      expect(figures.traced.amongFirstTwo).toBeGreaterThanOrEqual(0.95 * figures.traced.count);
      expect(figures.minutes.ours).toBeLessThanOrEqual(figures.minutes.habitual / 4);
    },
  );

  it('is found out when the model knows no bad weighings', () => {
    const model = { withBadWeighings: false };
    const { bands } = searchFigures(hardScenario, { shifts: 400, seed: 11, model });
    const top = bands.at(-1);
    expect(top?.predicted).toBeGreaterThan(0.999);
    expect(top?.observed).toBeLessThan(0.7);
  });
});

const sizes = fc.integer({ min: -2, max: 2 });
const option = fc.record({
  value: sizes,
  weight: fc.double({ min: 1e-6, max: 10, noNaN: true }),
  signature: fc.tuple(sizes, sizes),
});

const model: fc.Arbitrary<FaultModel> = fc
  .record({
    residual: fc.tuple(sizes, sizes),
    variables: fc.array(fc.array(option, { minLength: 1, maxLength: 3 }), {
      minLength: 1,
      maxLength: 7,
    }),
  })
  .map(({ residual, variables }) => ({
    residual: [...residual],
    variables: variables.map((options, at) => ({
      name: `v${at}`,
      options: options.map((one, place) => ({
        ...one,
        value: place,
        signature: [...one.signature],
      })),
    })),
  }));

describe('the posterior', () => {
  it('does not depend on the order of the variables nor on that of the residuals', () => {
    fc.assert(
      fc.property(model, (given) => {
        const turned: FaultModel = {
          residual: given.residual.toReversed(),
          variables: given.variables.toReversed().map(({ name, options }) => ({
            name,
            options: options.map((one) => ({ ...one, signature: one.signature.toReversed() })),
          })),
        };
        const straight = faultPosterior(given);
        const other = faultPosterior(turned);
        if (straight.evidenceLogarithm === null) {
          expect(other.evidenceLogarithm).toBeNull();
          return;
        }
        expect(other.evidenceLogarithm).toBeCloseTo(straight.evidenceLogarithm, 8);
        for (const { name, value, probability } of straight.faults) {
          const found = other.faults.find((one) => one.name === name && one.value === value);
          expect(found?.probability ?? 0).toBeCloseTo(probability, 8);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('gives every variable at most the probability 1, and never a negative one', () => {
    fc.assert(
      fc.property(model, (given) => {
        const { faults, noFaultProbability } = faultPosterior(given);
        for (const { name } of given.variables) {
          const sum = faults
            .filter((fault) => fault.name === name)
            .reduce((total, { probability }) => total + probability, 0);
          expect(sum).toBeLessThanOrEqual(1 + 1e-9);
        }
        for (const { probability } of faults) {
          expect(probability).toBeGreaterThanOrEqual(0);
          expect(probability).toBeLessThanOrEqual(1);
        }
        expect(noFaultProbability).toBeLessThanOrEqual(1);
      }),
      { numRuns: 200 },
    );
  });
});
