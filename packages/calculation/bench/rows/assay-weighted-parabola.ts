import { fitPolynomial, powersOfX } from '../../src/assay/polynomial-fit.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly u: readonly number[];
}

/** A bent calibration whose scatter grows with the content. */
function calibration(count: number): Data {
  let state = 5;
  const value = () => {
    state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
  const x = Array.from({ length: count }, (_, i) => 10 + (40 * i) / count);
  const u = x.map((one) => 0.1 + 0.01 * one);
  const y = x.map(
    (one, i) => 5 + 2 * one - 0.004 * one * one + (u[i] ?? 0) * (value() + value() + value() - 1.5),
  );
  return { x, y, u };
}

export const row: BenchRow<Data> = {
  what: 'weighted parabola with covariance, 100,000 points',
  data: () => calibration(100_000),
  work: ({ x, y, u }) => {
    const weights = new Float64Array(u).map((one) => 1 / (one * one));
    const fit = fitPolynomial(x, y, 2, weights);
    const { coefficients, covariance } = powersOfX(fit);
    return [...coefficients, ...covariance.flat(), fit.sumOfSquares];
  },
  tolerance: 1e-8,
};
