import { rangeMoments } from '../../src/control/range-moments.ts';
import type { BenchRow } from '../bench-row.ts';

export const row: BenchRow<{ readonly largest: number }> = {
  what: 'd2 and d3 of 2 to 50 readings',
  data: () => ({ largest: 50 }),
  work: ({ largest }) =>
    rangeMoments(largest)
      .slice(2)
      .flatMap(({ mean, standardDeviation }) => [mean, standardDeviation]),
  // The other side subtracts in its tails as we do: twelve digits are common to both.
  tolerance: 1e-10,
};
