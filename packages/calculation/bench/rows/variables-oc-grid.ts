import { variablesAcceptance } from '../../src/sampling/variables-acceptance.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly plans: readonly (readonly [number, number])[];
  readonly fractions: readonly number[];
}

export const row: BenchRow<Data> = {
  what: 'operating characteristics of 16 s plans by the noncentral t, 200 qualities each',
  data: () => ({
    plans: [3, 4, 5, 7, 10, 15, 20, 25, 30, 35, 40, 50, 75, 100, 150, 200].map(
      (n, index) => [n, 1.1 + 0.05 * index] as const,
    ),
    fractions: Array.from({ length: 200 }, (_, index) => 0.001 + 0.001 * index),
  }),
  work: ({ plans, fractions }) =>
    plans.flatMap(([sampleSizePieces, acceptabilityConstant]) =>
      fractions.map(variablesAcceptance({ sampleSizePieces, acceptabilityConstant, method: 's' })),
    ),
  tolerance: 1e-7,
};
