import { normalGlobalRisk } from '../../src/conformity/normal-global-risk.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly mean: number;
  readonly spread: number;
  readonly half: number;
  readonly uncertainties: readonly number[];
  readonly guards: readonly number[];
}

export const row: BenchRow<Data> = {
  what: 'Global risks on a grid of 50 uncertainties and 40 guard bands, two limits',
  data: () => ({
    mean: 0.03,
    spread: 0.12,
    half: 0.2,
    uncertainties: Array.from({ length: 50 }, (_, index) => 0.01 + 0.002 * index),
    guards: Array.from({ length: 40 }, (_, index) => -0.04 + 0.005 * index),
  }),
  work: ({ mean, spread, half, uncertainties, guards }) => {
    let [consumer, producer, most] = [0, 0, 0];
    for (const u of uncertainties) {
      for (const guard of guards) {
        const risk = normalGlobalRisk({
          process: { mean, standardDeviation: spread },
          measuringStandardUncertainty: u,
          limits: { lower: -half, upper: half },
          acceptance: { lower: -half + guard, upper: half - guard },
        });
        consumer += risk.consumerRisk;
        producer += risk.producerRisk;
        most = Math.max(most, risk.consumerRisk);
      }
    }
    return [consumer, producer, most];
  },
  tolerance: 1e-9,
};
