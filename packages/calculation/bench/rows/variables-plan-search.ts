import { variablesPlanSearch } from '../../src/sampling/variables-plan-search.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly points: readonly (readonly [number, number])[];
}

export const row: BenchRow<Data> = {
  what: 'smallest s plan through two points, six pairs of points',
  data: () => ({
    points: [
      [1, 6],
      [5, 15],
      [0.1, 2],
      [2, 20],
      [1, 3],
      [0.5, 2],
    ],
  }),
  work: ({ points }) =>
    points.flatMap(([goodPercent, badPercent]) => {
      const found = variablesPlanSearch({
        goodPercent,
        producerRisk: 0.05,
        badPercent,
        consumerRisk: 0.1,
        method: 's',
      });
      return [found.sampleSizePieces, found.acceptabilityConstant];
    }),
  tolerance: 1e-8,
};
