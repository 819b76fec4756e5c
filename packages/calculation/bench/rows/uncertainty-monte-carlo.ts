import { monteCarlo } from '../../src/uncertainty/monte-carlo.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly cornet: readonly [number, number];
  readonly correction: readonly [number, number];
  readonly sample: readonly [number, number];
  readonly proof: readonly [number, number];
  readonly trials: number;
  readonly coverage: number;
}

export const row: BenchRow<Data> = {
  what: 'Monte Carlo of 10^6 trials, four inputs, both intervals',
  data: () => ({
    cornet: [229.21, 0.02],
    correction: [0.12, 0.03],
    sample: [250.03, 0.02],
    proof: [1, 0.0001],
    trials: 1_000_000,
    coverage: 0.95,
  }),
  work: ({ cornet, correction, sample, proof, trials, coverage }) => {
    const normal = ([estimate, standardUncertainty]: readonly [number, number]) =>
      ({ kind: 'normal', estimate, standardUncertainty, degreesOfFreedom: null }) as const;
    const within = ([estimate, halfWidth]: readonly [number, number]) =>
      ({ kind: 'rectangular', estimate, halfWidth }) as const;
    const output = monteCarlo({
      model: '1000 * (cornet + correction) / (sample * proof)',
      inputs: [
        { name: 'cornet', unit: 'mg', distribution: normal(cornet) },
        { name: 'correction', unit: 'mg', distribution: normal(correction) },
        { name: 'sample', unit: 'mg', distribution: within(sample) },
        { name: 'proof', unit: '1', distribution: within(proof) },
      ],
      correlations: [],
      coverageProbability: coverage,
      seed: 1,
      trials: { kind: 'fixed', trials },
      significantDigits: 2,
    });
    return [
      output.value,
      output.standardUncertainty,
      output.symmetricLower,
      output.symmetricUpper,
      output.shortestLower,
      output.shortestUpper,
    ];
  },
  // Two independent simulations: the standard uncertainty agrees to a few parts in a thousand.
  tolerance: 0.005,
};
