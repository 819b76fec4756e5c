import { dixonCritical } from '../../src/control/precision/dixon-ratio.ts';
import { grubbsCritical } from '../../src/control/precision/extreme-tests.ts';
import type { BenchRow } from '../bench-row.ts';

export const row: BenchRow<number[]> = {
  what: 'critical values of Dixon (r10) and Grubbs at 5 %, 3 to 30 results',
  data: () => Array.from({ length: 28 }, (_, index) => index + 3),
  work: (data) =>
    data.flatMap((count) => [dixonCritical(0.05, count, 'r10'), grubbsCritical(0.05, count)]),
  tolerance: 1e-8,
};
