import { fitByDistance, type UncertainPoints } from '../../src/assay/distance-regression.ts';
import { powersOfX } from '../../src/assay/polynomial-fit.ts';
import type { BenchRow } from '../bench-row.ts';

/** Points about a line, with uncertainties of both coordinates that differ from point to point. */
function points(count: number): UncertainPoints {
  let state = 11;
  const value = () => {
    state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
  const scatter = () => value() + value() + value() + value() - 2;
  const truth = Array.from({ length: count }, (_, i) => (100 * i) / count);
  const xUncertainty = truth.map(() => 0.2 + 0.3 * value());
  const yUncertainty = truth.map(() => 0.5 + value());
  return {
    x: truth.map((one, i) => one + (xUncertainty[i] ?? 0) * scatter()),
    y: truth.map((one, i) => 3 + 1.7 * one + (yUncertainty[i] ?? 0) * scatter()),
    xUncertainty,
    yUncertainty,
  };
}

export const row: BenchRow<UncertainPoints> = {
  what: 'line with uncertainty in both variables, 1,000 points',
  data: () => points(1000),
  work: (data) => {
    const { fit, chiSquare } = fitByDistance(data, 1);
    const { coefficients } = powersOfX(fit);
    return [...coefficients, chiSquare];
  },
  tolerance: 1e-7,
};
