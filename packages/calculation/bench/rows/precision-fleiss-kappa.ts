import { fleissKappa } from '../../src/control/precision/kappa.ts';
import type { BenchRow } from '../bench-row.ts';

export const row: BenchRow<number[][]> = {
  what: "Fleiss' kappa with categories, 10,000 items judged six times",
  data: () => {
    let state = 5;
    const value = () => {
      state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
      return state / 2_147_483_648;
    };
    return Array.from({ length: 10_000 }, () => {
      const counts = [0, 0, 0, 0, 0];
      const favourite = Math.floor(5 * value());
      for (let rater = 0; rater < 6; rater += 1) {
        const category = value() < 0.6 ? favourite : Math.floor(5 * value());
        counts[category] = (counts[category] ?? 0) + 1;
      }
      return counts;
    });
  },
  work: (data) => {
    const { overall, byCategory } = fleissKappa(data);
    return [
      overall.kappa ?? 0,
      overall.standardErrorNull ?? 0,
      ...byCategory.map((one) => one.kappa ?? 0),
    ];
  },
  tolerance: 1e-11,
};
