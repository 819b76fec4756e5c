import { pointsOfRule, type RunRule } from '../../src/control/run-rules.ts';
import type { BenchRow } from '../bench-row.ts';

const tests = [1, 2, 3, 4, 5, 6, 7, 8].map((number) => `nelson-${number}` as RunRule);

/** Nearly normal values from sums of twelve steps of a linear congruence: the same on every machine. */
function values(count: number): number[] {
  let state = 1984;
  return Array.from({ length: count }, () => {
    let sum = 0;
    for (let term = 0; term < 12; term += 1) {
      state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
      sum += state / 2_147_483_648;
    }
    return sum - 6;
  });
}

export const row: BenchRow<readonly number[]> = {
  what: 'eight tests of Nelson over 10⁶ values',
  data: () => values(1_000_000),
  // For each test how often it signals, and the sum of the places.
  work: (deviations) =>
    tests.flatMap((test) => {
      const points = pointsOfRule(test, deviations);
      return [points.length, points.reduce((sum, index) => sum + index, 0)];
    }),
  tolerance: 0,
};
