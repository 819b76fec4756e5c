import { grubbsPairCritical } from '../../src/control/precision/largest-deviate.ts';
import type { BenchRow } from '../bench-row.ts';

export const row: BenchRow<number[]> = {
  what: 'critical values of Grubbs for two on one side, 5 to 20 laboratories',
  data: () => Array.from({ length: 16 }, (_, index) => index + 5),
  work: (data) => data.map((count) => grubbsPairCritical(0.025, count)),
  tolerance: 1e-3,
};
