import { describe, expect, it } from 'vitest';
import { propagateSeries } from './block-propagation.ts';
import { propagateFirstOrder } from './propagation.ts';
import { textModel } from './text-model.ts';

const names = ['x', 'y', 'z'];
const estimatesOf = [
  (k: number) => 1.3 + 0.01 * k,
  (k: number) => 2.1 - 0.002 * k,
  (k: number) => 0.7 + 0.0003 * k,
];
const uncertainties = [0.2, 0.1, 0.05];
const freedoms = [7, null, 4];

const series = (count: number) =>
  names.map((name, index) => ({
    name,
    estimates: Array.from({ length: count }, (_, k) => (estimatesOf[index]?.(k) ?? 0) as number),
    standardUncertainty: uncertainties[index] as number,
    degreesOfFreedom: freedoms[index] ?? null,
  }));

describe('the law of propagation over a series of results', () => {
  // Backwards over blocks here, forwards result by result there: two ways to the same derivatives.
  it.each([
    'exp(x) * y / 2 - sqrt(z)^3 / x + y^x - abs(z)',
    '-log10(x) + log(y) * sin(z) - cos(x * y) + tan(z) + atan(x) + asin(z) - acos(z / 2)',
    'x * x + x / x + 2^z - y * 0',
  ])('agrees with single results: %s', (text) => {
    const model = textModel(text, names);
    // More results than a block holds, and not a multiple of it.
    const count = 601;
    const found = propagateSeries(model, series(count));
    for (const k of [0, 255, 256, 600]) {
      const single = propagateFirstOrder(
        model,
        names.map((name, index) => ({
          name,
          estimate: estimatesOf[index]?.(k) ?? 0,
          standardUncertainty: uncertainties[index] as number,
          degreesOfFreedom: freedoms[index] ?? null,
        })),
      );
      const near = (one: number | undefined, other: number) =>
        expect(Math.abs((one ?? Number.NaN) - other)).toBeLessThanOrEqual(
          1e-13 * Math.max(1, Math.abs(other)),
        );
      near(found.values[k], single.value);
      near(found.variances[k], single.firstOrderVariance);
      near(
        1 / (found.effectiveDegreesOfFreedom[k] ?? 0),
        1 / (single.effectiveDegreesOfFreedom ?? 0),
      );
      single.contributions.forEach((contribution, index) => {
        near(found.contributions[index]?.[k], contribution);
      });
    }
  });

  it('has infinite degrees of freedom where every part is known exactly', () => {
    const exact = series(2).map((input) => ({ ...input, degreesOfFreedom: null }));
    const { effectiveDegreesOfFreedom } = propagateSeries(textModel('x + y + z', names), exact);
    expect([...effectiveDegreesOfFreedom]).toEqual([Infinity, Infinity]);
  });

  it('refuses what does not fit, by its name', () => {
    const model = textModel('x / y', ['x', 'y']);
    const input = (name: string, estimates: number[]) => ({
      name,
      estimates,
      standardUncertainty: 1,
      degreesOfFreedom: null,
    });
    const x = input('x', [1, 2]);
    expect(() => propagateSeries(model, [x, input('y', [1])])).toThrow(
      /inputs.1.estimates is 1 long; accepted: 2 estimates/,
    );
    expect(() => propagateSeries(model, [x, input('y', [1, 0])])).toThrow(
      /model is without a finite value or derivative for result 1; accepted: a model with/,
    );
    const y = input('y', [1, 2]);
    expect(() => propagateSeries(model, [x, { ...y, standardUncertainty: -1 }])).toThrow(
      /inputs.1.standardUncertainty is -1; accepted: a standard uncertainty of 0 or more/,
    );
    expect(() => propagateSeries(model, [{ ...x, degreesOfFreedom: 0 } as never, y])).toThrow(
      /inputs.0.degreesOfFreedom is 0; accepted: degrees of freedom above 0/,
    );
  });
});
