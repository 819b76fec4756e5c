import { dip } from '../../src/weights/dip.ts';
import type { BenchRow } from '../bench-row.ts';

/** Whole numbers of a linear congruence, so that both sides draw the same. */
function stirred(count: number): number[] {
  let state = 1985;
  return Array.from({ length: count }, () => {
    state = (state * 16_807) % 2_147_483_647;
    return state / 2_147_483_647;
  });
}

export const row: BenchRow<{ readonly masses: readonly number[] }> = {
  what: 'dip of 100000 masses of two uniform heaps',
  data: () => ({
    masses: stirred(100_000).map((value, index) => (index % 2 === 0 ? value : value + 0.9)),
  }),
  work: ({ masses }) => [dip(masses).dip],
  tolerance: 1e-9,
};
