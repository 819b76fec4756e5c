import { describe, expect, it } from 'vitest';
import { DomainError } from '../quantity/domain.ts';
import { normalDensity, normalDistribution } from '../quantity/normal.ts';
import { medianVarianceRatio } from './median-variance.ts';

const factorial = (n: number): number => (n <= 1 ? 1 : n * factorial(n - 1));

const nodes = Array.from({ length: 3201 }, (_, index) => {
  const x = (index - 1600) / 200;
  return { x, density: normalDensity(x, 0, 1), below: normalDistribution(x, 0, 1) };
});
const step = 1 / 200;

/** n·E(median²) of n standard normal results, by the trapezoidal rule over the middle order statistics. */
function integrated(n: number): number {
  const below = Math.floor((n - 1) / 2);
  const scale = factorial(n) / factorial(below) ** 2;
  if (n % 2 === 1) {
    const terms = nodes.map(
      ({ x, density, below: p }) => density * (p * (1 - p)) ** below * x ** 2,
    );
    return n * scale * step * terms.reduce((sum, one) => sum + one, 0);
  }
  // Lower one at or below the upper one: running moments of the lower, half a weight where they meet.
  let [m0, m1, m2, sum] = [0, 0, 0, 0];
  for (const { x, density, below: p } of nodes) {
    const lower = density * p ** below;
    const upper = density * (1 - p) ** below;
    const [h0, h1, h2] = [m0 + lower / 2, m1 + (lower * x) / 2, m2 + (lower * x ** 2) / 2];
    sum += (upper * (h2 + 2 * x * h1 + x ** 2 * h0)) / 4;
    [m0, m1, m2] = [m0 + lower, m1 + lower * x, m2 + lower * x ** 2];
  }
  return n * scale * step ** 2 * sum;
}

describe('the variance of a median', () => {
  it('is what the order statistics give, for three to ten results', () => {
    for (let count = 3; count <= 10; count += 1) {
      expect(medianVarianceRatio(count), String(count)).toBeCloseTo(integrated(count), 4);
    }
  });

  it('is refused for other numbers of results', () => {
    expect(() => medianVarianceRatio(2)).toThrow(DomainError);
    expect(() => medianVarianceRatio(11)).toThrow(/accepted: a whole number of results from 3/);
  });
});
