import { countProbabilities, cumulated } from '../../src/sampling/count-distribution.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly lotSizePieces: number;
  readonly sampleSizePieces: number;
  readonly acceptanceNumber: number;
  readonly nonconformingPieces: readonly number[];
}

export const row: BenchRow<Data> = {
  what: 'exact operating characteristic of 1250 pieces, acceptance number 14, in a lot of a million: 1001 points',
  data: () => ({
    lotSizePieces: 1_000_000,
    sampleSizePieces: 1250,
    acceptanceNumber: 14,
    nonconformingPieces: Array.from({ length: 1001 }, (_, index) => 25 * index),
  }),
  work: ({ lotSizePieces, sampleSizePieces, acceptanceNumber, nonconformingPieces }) =>
    nonconformingPieces.map((bad) => {
      const quality = {
        basis: 'hypergeometric',
        lotSizePieces,
        nonconformingPieces: bad,
      } as const;
      const { probabilities } = countProbabilities(sampleSizePieces, quality, acceptanceNumber);
      return cumulated(probabilities)[acceptanceNumber] as number;
    }),
  // Logarithms of factorials of a million leave the other side about eight digits.
  tolerance: 1e-6,
};
