import { ewmaAverageRunLengths } from '../../src/control/ewma-run-length.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly smoothing: number;
  readonly limitFactor: number;
  readonly shifts: readonly number[];
}

export const row: BenchRow<Data> = {
  what: 'run length of a weighted average, integral equation, 25 shifts',
  data: () => ({
    smoothing: 0.1,
    limitFactor: 2.7,
    shifts: Array.from({ length: 25 }, (_, index) => index / 8),
  }),
  work: ({ smoothing, limitFactor, shifts }) =>
    ewmaAverageRunLengths({ smoothing, limitFactor, sides: 'two' }, shifts, 'zero'),
  tolerance: 1e-10,
};
