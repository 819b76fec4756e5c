import { likeliestJump } from '../../src/mass/weight-jump.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly histories: number;
  readonly values: number;
}

/** A history that drifts, scatters and jumps two thirds of the way. */
function history(which: number, count: number): { x: number[]; y: number[] } {
  const x: number[] = [];
  const y: number[] = [];
  for (let at = 0; at < count; at += 1) {
    const scatter = (((at + 31 * which) * 7919) % 1009) / 1009 - 0.5;
    x.push(at / 12);
    y.push(0.001 * at + scatter + (3 * at >= 2 * count ? 0.3 : 0));
  }
  return { x, y };
}

export const row: BenchRow<Data> = {
  what: 'likeliest jump of 500 histories of 200 calibrations',
  data: () => ({ histories: 500, values: 200 }),
  work: ({ histories, values }) => {
    let [sizes, places, probabilities] = [0, 0, 0];
    for (let which = 0; which < histories; which += 1) {
      const { x, y } = history(which, values);
      const found = likeliestJump(x, y);
      sizes += found?.size ?? 0;
      places += found?.index ?? 0;
      probabilities += found?.probability ?? 0;
    }
    return [sizes, places, probabilities];
  },
  tolerance: 1e-8,
};
