import { oneWayAnalysis } from '../../src/control/precision/one-way-analysis.ts';
import type { BenchRow } from '../bench-row.ts';

/** Groups of readings of four decimals about means that differ a little. */
function groups(count: number, size: number): number[][] {
  let state = 7;
  const value = () => {
    state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
  return Array.from({ length: count }, (_, group) =>
    Array.from({ length: size }, () => {
      const scatter = value() + value() + value() + value() - 2;
      return Math.round((916.7 + 0.002 * (group % 7) + scatter) * 1e4) / 1e4;
    }),
  );
}

export const row: BenchRow<number[][]> = {
  what: 'one-way analysis of variance, 1,000,000 readings in 100 groups',
  data: () => groups(100, 10_000),
  work: (data) => {
    const found = oneWayAnalysis(data);
    return [found.ratio ?? 0, found.probability ?? 0, found.sumOfSquaresWithin];
  },
  tolerance: 1e-7,
};
