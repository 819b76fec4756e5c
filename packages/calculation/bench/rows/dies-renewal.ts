import { renewalShortfalls } from '../../src/dies/renewal-count.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly shape: number;
  readonly orderStrikes: number;
}

export const row: BenchRow<Data> = {
  what: 'distribution of the number of dies for an order of 40 mean lives, to 1e-6',
  data: () => ({ shape: 2.5, orderStrikes: 35.5 }),
  work: ({ shape, orderStrikes }) => {
    const shortfalls = renewalShortfalls(
      { scaleStrikes: 1, shape, firstAgeStrikes: 0 },
      orderStrikes,
    );
    return [
      shortfalls.reduce((sum, one) => sum + one, 1),
      shortfalls[39] ?? 0,
      shortfalls[44] ?? 0,
    ];
  },
  tolerance: 1e-6,
};
