import { splineEndPoint } from '../../src/assay/inflection.ts';
import type { BenchRow } from '../bench-row.ts';

interface Curve {
  readonly volumes: readonly number[];
  readonly potentials: readonly number[];
}

/** A halide titration read at 2,000 uneven volumes, with scatter from a linear congruence. */
function curve(count: number): Curve {
  let state = 7;
  const value = () => {
    state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
  const volumes = Array.from({ length: count }, (_, i) => 0.02 * i + 0.008 * value());
  const potentials = volumes.map(
    (volume) => 200 + 26 * Math.asinh((21.3 - volume) / 0.8) + 0.5 * (value() + value() - 1),
  );
  return { volumes, potentials };
}

export const row: BenchRow<Curve> = {
  what: 'end point by smoothing spline with cross-validation, 2,000 points',
  data: () => curve(2000),
  work: (data) => [splineEndPoint(data).volume],
  // Both sides stop their search for the smoothing somewhere in a flat valley.
  tolerance: 1e-6,
};
