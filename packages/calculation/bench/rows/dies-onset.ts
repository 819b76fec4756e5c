import { type OnsetLook, type OnsetPrior, onsetPosterior } from '../../src/dies/onset-posterior.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly lastStrike: number;
  readonly scaleStrikes: number;
  readonly shape: number;
  readonly looks: readonly OnsetLook[];
}

export const row: BenchRow<Data> = {
  what: 'onset of a fault over 200 000 strikes from 40 checks and 10 photographs, faulty pieces and hold',
  data: () => ({
    lastStrike: 200_000,
    scaleStrikes: 150_000,
    shape: 1.8,
    looks: Array.from({ length: 50 }, (_, index) => ({
      strike: index < 40 ? 5000 * (index + 1) : 150_000 + 4000 * (index - 40),
      looks: 2 + (index % 3),
      badLooks: index === 39 || index === 49 ? 2 : 0,
      missProbability: index < 40 ? 0.4 : 0.1,
      falseAlarmProbability: 0.001,
    })),
  }),
  work: ({ lastStrike, scaleStrikes, shape, looks }) => {
    const prior: OnsetPrior = { kind: 'weibull', scaleStrikes, shape };
    const found = onsetPosterior(looks, prior, { firstStrike: 1, lastStrike });
    let low = 0;
    let high = lastStrike + 1;
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      if (found.beganBy(middle) <= 0.01) low = middle;
      else high = middle;
    }
    return [found.beganBy(lastStrike), found.faultyBy(lastStrike), lastStrike - low];
  },
  tolerance: 1e-9,
};
