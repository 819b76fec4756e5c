import { describe, expect, it } from 'vitest';
import { DomainError } from '../quantity/domain.ts';
import { correlatedSets, correlationFactor, correlationMatrix } from './correlation.ts';
import { coverageFactor, welchSatterthwaite } from './coverage.ts';
import { momentsOf, momentsOfReadings } from './input-moments.ts';
import { numericalTolerance } from './numerical-tolerance.ts';
import { propagate, propagateFirstOrder } from './propagation.ts';
import { textModel } from './text-model.ts';

const input = (name: string, estimate: number, standardUncertainty: number) => ({
  name,
  estimate,
  standardUncertainty,
  degreesOfFreedom: null,
});

describe('the law of propagation', () => {
  it('takes a model written as a function as it takes its text', () => {
    const inputs = [input('mass', 10, 0.02), input('volume', 4, 0.01)] as const;
    const byText = propagate(textModel('mass / volume', ['mass', 'volume']), inputs);
    const byFunction = propagate<'mass' | 'volume'>(
      (algebra, { mass, volume }) => algebra.divide(mass, volume),
      inputs as unknown as Parameters<typeof propagate<'mass' | 'volume'>>[1],
    );
    expect(byFunction).toEqual(byText);
    // By hand: 10/4; ∂/∂m = 1/4, ∂/∂V = −10/16.
    expect(byText.value).toBe(2.5);
    expect(byText.sensitivities).toEqual([0.25, -0.625]);
  });

  it('has the exact second-order figures of a product and of a square', () => {
    // Var(XY) = x²u² + y²u² + u²u² for independent X and Y; Var(X²) = 4x²u² + 2u⁴ for normal X.
    const product = propagate(textModel('x * y', ['x', 'y']), [
      input('x', 3, 0.5),
      input('y', 2, 0.4),
    ]);
    expect(product.secondOrderVariance).toBeCloseTo(9 * 0.16 + 4 * 0.25 + 0.16 * 0.25, 14);
    expect(product.meanShift).toBe(0);
    const square = propagate(textModel('x^2', ['x']), [input('x', 3, 0.5)]);
    expect(square.secondOrderVariance).toBeCloseTo(4 * 9 * 0.25 + 2 * 0.5 ** 4, 14);
    expect(square.meanShift).toBeCloseTo(0.25, 14);
  });

  it('takes the third derivative into the second order', () => {
    // GUM 5.1.2 note by hand for y = x³ at 1: f′ = 3, f″ = 6, f‴ = 6; u = 0.1.
    const cube = propagate(textModel('x^3', ['x']), [input('x', 1, 0.1)]);
    expect(cube.secondOrderVariance).toBeCloseTo(9e-2 + (0.5 * 36 + 3 * 6) * 1e-4, 14);
  });

  it('says when the series does not hold', () => {
    // f = sin x at 0: f′ = 1, f‴ = −1, so u² − u⁴ is below 0 for u = 2.
    const sine = propagate(textModel('sin(x)', ['x']), [input('x', 0, 2)]);
    expect(sine.secondOrderVariance).toBeNull();
  });

  it('joins correlated inputs to one part with the smallest degrees of freedom', () => {
    const inputs = [
      { ...input('x', 1, 1), degreesOfFreedom: 4 },
      { ...input('y', 1, 1), degreesOfFreedom: 9 },
    ];
    const pair = [{ first: 'x', second: 'y', coefficient: 1 }];
    const sum = propagate(textModel('x + y', ['x', 'y']), inputs, pair);
    expect(sum.firstOrderVariance).toBeCloseTo(4, 14);
    expect(sum.effectiveDegreesOfFreedom).toBeCloseTo(4, 12);
    const difference = propagate(textModel('x - y', ['x', 'y']), inputs, pair);
    expect(difference.firstOrderVariance).toBe(0);
  });

  it('gives the same of first order alone, to the bit', () => {
    const names = ['x', 'y', 'z'];
    const model = textModel('exp(x) * y / 2 - sqrt(z)^3 / x + y^x - abs(z)', names);
    const inputs = [
      { ...input('x', 1.3, 0.2), degreesOfFreedom: 7 },
      input('y', 2.1, 0.1),
      input('z', 0.7, 0.05),
    ];
    for (const correlations of [[], [{ first: 'x', second: 'z', coefficient: 0.4 }]]) {
      const whole = propagate(model, inputs, correlations);
      const { secondOrderVariance: _, meanShift: __, ...first } = whole;
      expect(propagateFirstOrder(model, inputs, correlations)).toEqual(first);
    }
  });

  it('refuses a negative standard uncertainty and a model without value', () => {
    expect(() => propagate(textModel('x', ['x']), [input('x', 1, -1)])).toThrow(
      /inputs.0.standardUncertainty is -1; accepted: a standard uncertainty of 0 or more/,
    );
    const model = <T>(a: { divide(x: T, y: T): T; constant(v: number): T }, i: { x: T }): T =>
      a.divide(a.constant(1), i.x);
    expect(() => propagate<'x'>(model, [{ ...input('x', 0, 1), name: 'x' }])).toThrow(
      /model is no finite value; accepted: a model with a finite value/,
    );
  });
});

describe('correlations', () => {
  const names = ['a', 'b', 'c'];
  it('refuse an unknown name, a name with itself and a pair given twice', () => {
    const pair = (first: string, second: string) => ({ first, second, coefficient: 0.5 });
    expect(() => correlationMatrix(names, [pair('z', 'a')])).toThrow(
      /correlations.0.first is z; accepted: one of a, b, c/,
    );
    expect(() => correlationMatrix(names, [pair('a', 'z')])).toThrow(/correlations.0.second is z/);
    expect(() => correlationMatrix(names, [pair('a', 'a')])).toThrow(/two different names once/);
    expect(() => correlationMatrix(names, [pair('a', 'b'), pair('b', 'a')])).toThrow(
      /correlations.1.second is a; accepted: each pair of two different names once/,
    );
  });

  it('refuse coefficients that cannot hold together', () => {
    const impossible = correlationMatrix(names, [
      { first: 'a', second: 'b', coefficient: 0.9 },
      { first: 'b', second: 'c', coefficient: 0.9 },
      { first: 'a', second: 'c', coefficient: -0.9 },
    ]);
    expect(() => correlationFactor(impossible, names)).toThrow(DomainError);
    expect(() => correlationFactor(impossible, names)).toThrow(/coefficients up to c/);
    const twins = correlationMatrix(names, [
      { first: 'a', second: 'b', coefficient: 1 },
      { first: 'b', second: 'c', coefficient: 0.5 },
    ]);
    expect(() => correlationFactor(twins, names)).toThrow(/coefficients up to c/);
  });

  it('find what hangs together', () => {
    const matrix = correlationMatrix(names, [{ first: 'a', second: 'c', coefficient: 0.5 }]);
    expect(correlatedSets(matrix, 3).map((set) => [...set])).toEqual([[0, 2], [1]]);
  });
});

describe('coverage', () => {
  it('is infinite in degrees of freedom when nothing has any', () => {
    expect(welchSatterthwaite([{ contribution: 1, degreesOfFreedom: null }])).toBeNull();
    expect(welchSatterthwaite([{ contribution: 0, degreesOfFreedom: 3 }])).toBeNull();
  });

  it('refuses what is out of range', () => {
    expect(() => welchSatterthwaite([{ contribution: 1, degreesOfFreedom: 0 }])).toThrow(
      /degreesOfFreedom is 0; accepted: degrees of freedom above 0, or none/,
    );
    expect(() => coverageFactor(1, null)).toThrow(/coverageProbability is 1/);
    expect(() => coverageFactor(0.95, 0)).toThrow(/degreesOfFreedom is 0/);
    expect(() => numericalTolerance(0, 2)).toThrow(/a standard uncertainty above 0/);
    expect(() => momentsOfReadings([1])).toThrow(/readings is 1; accepted: at least 2 readings/);
    const wide = {
      kind: 'curvilinear trapezoidal',
      estimate: 0,
      halfWidth: 1,
      halfWidthTolerance: 1,
    } as const;
    expect(() => momentsOf(wide)).toThrow(/halfWidthTolerance is 1; accepted: a tolerance below/);
  });

  // JCGM 101:2008, 7.9.2, examples 1 to 3 from memory: 0.5 × 10^-5 for 0.00035 with two digits.
  it.each([
    [0.000_35, 2, 0.000_005],
    [0.000_3, 1, 0.000_05],
    [2, 1, 0.5],
    [0.0996, 2, 0.005],
  ])('has the numerical tolerance of %d with %d digits', (u, digits, expected) => {
    expect(numericalTolerance(u, digits)).toBeCloseTo(expected, 12);
  });
});
