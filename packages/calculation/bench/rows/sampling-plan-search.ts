import { smallestSinglePlan } from '../../src/sampling/plan-search.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly greatestSamplePieces: number;
  /** Good and bad fraction, producer's and consumer's risk. */
  readonly points: readonly (readonly [number, number, number, number])[];
}

export const row: BenchRow<Data> = {
  what: 'smallest single plan for 37 pairs of points, samples up to 5000 pieces, binomial',
  data: () => ({
    greatestSamplePieces: 5000,
    points: [0.002, 0.005, 0.01, 0.02, 0.04].flatMap((good) =>
      [1.8, 2, 2.5, 3, 4, 5, 7, 10].flatMap((ratio): [number, number, number, number][] =>
        good * 1000 * (ratio - 1) > 3 ? [[good, good * ratio, 0.05, 0.1]] : [],
      ),
    ),
  }),
  work: ({ points, greatestSamplePieces }) =>
    points.flatMap(([good, bad, producersRisk, consumersRisk]) => {
      const plan = smallestSinglePlan({
        good: { basis: 'binomial', fractionNonconforming: good },
        bad: { basis: 'binomial', fractionNonconforming: bad },
        producersRisk,
        consumersRisk,
        greatestSamplePieces,
      });
      return [plan?.first.sampleSizePieces ?? -1, plan?.first.acceptanceNumber ?? -1];
    }),
  tolerance: 0,
};
