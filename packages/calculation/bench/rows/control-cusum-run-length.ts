import { cusumRunLengthByMarkovChain } from '../../src/control/run-length-markov.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly referenceValue: number;
  readonly decisionInterval: number;
  readonly shifts: readonly number[];
  readonly states: number;
}

export const row: BenchRow<Data> = {
  what: 'run length of a cumulative sum, chain of 400 states, 9 shifts',
  data: () => ({
    referenceValue: 0.5,
    decisionInterval: 5,
    shifts: [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4],
    states: 400,
  }),
  work: ({ referenceValue, decisionInterval, shifts, states }) =>
    shifts.map((shift) =>
      cusumRunLengthByMarkovChain(
        { referenceValue, decisionInterval, sides: 'one' },
        shift,
        states,
      ),
    ),
  tolerance: 1e-10,
};
