import type { InputDistribution } from '../../src/uncertainty/input-quantity-schema.ts';
import { simulatedTrials } from '../../src/uncertainty/simulated-trials.ts';
import { drained, simulationSteps } from '../../src/uncertainty/simulation.ts';
import { coverageIntervals, meanAndDeviation } from '../../src/uncertainty/sorted-sample.ts';
import { textModel } from '../../src/uncertainty/text-model.ts';
import type { BenchRow } from '../bench-row.ts';

type Pair = readonly [number, number];

interface Data {
  readonly cornet: Pair;
  readonly correction: Pair;
  readonly sample: Pair;
  readonly proof: Pair;
  readonly trials: number;
  readonly coverage: number;
}

function normal([estimate, standardUncertainty]: Pair): InputDistribution {
  return { kind: 'normal', estimate, standardUncertainty, degreesOfFreedom: null };
}

function within([estimate, halfWidth]: Pair): InputDistribution {
  return { kind: 'rectangular', estimate, halfWidth };
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
  // The steps of the entry of the catalogue, without its comparison and histogram.
  work: ({ cornet, correction, sample, proof, trials, coverage }) => {
    const inputs = [
      { name: 'cornet', distribution: normal(cornet) },
      { name: 'correction', distribution: normal(correction) },
      { name: 'sample', distribution: within(sample) },
      { name: 'proof', distribution: within(proof) },
    ];
    const model = textModel(
      '1000 * (cornet + correction) / (sample * proof)',
      inputs.map(({ name }) => name),
    );
    const drawn = simulatedTrials(model, inputs, [], 1);
    const { sorted } = drained(simulationSteps(drawn, { kind: 'fixed', trials }, coverage));
    const { mean, deviation } = meanAndDeviation(sorted);
    const { symmetric, shortest } = coverageIntervals(sorted, coverage);
    return [mean, deviation, symmetric.lower, symmetric.upper, shortest.lower, shortest.upper];
  },
  // Two independent simulations: the standard uncertainty agrees to a few parts in a thousand.
  tolerance: 0.005,
};
