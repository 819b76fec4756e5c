import { algorithmA } from '../../src/control/precision/algorithm-a.ts';
import type { BenchRow } from '../bench-row.ts';

export const row: BenchRow<number[]> = {
  what: 'Algorithm A to convergence, 10,000 results with gross ones',
  data: () => {
    let state = 3;
    const value = () => {
      state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
      return state / 2_147_483_648;
    };
    return Array.from({ length: 10_000 }, (_, index) => {
      const scatter = value() + value() + value() + value() - 2;
      return 50 + (index % 12 === 0 ? 20 * value() : scatter);
    });
  },
  work: (data) => {
    const { mean, standardDeviation } = algorithmA(data);
    return [mean, standardDeviation];
  },
  tolerance: 1e-9,
};
