import { probabilityFromSamples } from '../../src/conformity/known-distribution.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly samples: readonly number[];
  readonly lower: number;
  readonly upper: number;
}

export const row: BenchRow<Data> = {
  what: 'Conformance probability of 300 000 samples with its interval',
  data: () => ({
    samples: Array.from(
      { length: 300_000 },
      (_, index) => 916.6 + (((index + 1) * 2654435761) % 4294967296) / 4294967296,
    ),
    lower: 916.7,
    upper: 917.4,
  }),
  // Not ahead once warm, 0.43 ms against 0.33 ms: numpy compares several values per instruction,
  // 0.12 ms for all of them, where the engine takes them one at a time in 0.25 ms.
  work: ({ samples, lower, upper }) => {
    const { probability, least, greatest } = probabilityFromSamples(samples, lower, upper);
    return [probability, least, greatest];
  },
  tolerance: 1e-9,
};
