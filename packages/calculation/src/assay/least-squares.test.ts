import { describe, expect, it } from 'vitest';
import { type LeastSquaresInput, leastSquares } from './least-squares.ts';

const rows = [
  [1, 2, 9],
  [2, 1, 8],
  [3, 5, 22],
  [4, 4, 21],
].map(([a = 0, b = 0, response = 0]) => ({ response, variables: [a, b] }));
const base: LeastSquaresInput = {
  withConstant: true,
  design: { kind: 'variables', names: ['a', 'b'] },
  rows,
};

describe('leastSquares', () => {
  it('finds factors of several variables, response = 1 + 2a + 3b', () => {
    const { coefficients, residualStandardDeviation } = leastSquares(base);
    expect(coefficients.map((one) => one.name)).toEqual(['constant', 'a', 'b']);
    expect(coefficients.map((one) => one.estimate)).toEqual([1, 2, 3]);
    expect(residualStandardDeviation).toBeLessThan(1e-14);
  });

  it('has no variance ratio where nothing is left over', () => {
    expect(leastSquares(base).varianceRatio).toBeNull();
    const through = leastSquares({
      withConstant: false,
      design: { kind: 'powers', degree: 1 },
      rows: [1, 2, 3].map((x) => ({ response: 0 * x, variables: [x] })),
    });
    expect(through.determination).toBeNull();
  });

  it.each([
    [
      'a row of another width',
      { rows: [{ response: 1, variables: [1] }, ...rows] },
      'rows.0.variables is 1 values',
    ],
    ['too few rows', { rows: rows.slice(0, 3) }, 'at least 4 rows'],
    [
      'variables that follow from each other',
      { rows: rows.map(({ response }, i) => ({ response, variables: [i, 2 * i] })) },
      'none of which follows from the others',
    ],
  ])('refuses %s', (_, change, message) => {
    expect(() => leastSquares({ ...base, ...change })).toThrow(message);
  });
});
