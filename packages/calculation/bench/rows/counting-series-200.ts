import type { SeriesModel, SeriesTube } from '../../src/counting/series-model.ts';
import { seriesPosterior } from '../../src/counting/series-posterior.ts';
import { normalQuantile } from '../../src/quantity/normal.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly tubes: readonly SeriesTube[];
  readonly model: SeriesModel;
}

export const row: BenchRow<Data> = {
  what: 'counts of a series of 200 tubes with a drifting mean piece mass, forwards and backwards',
  data: () => ({
    tubes: Array.from({ length: 200 }, (_, index) => ({
      bookedPieces: 20,
      grossReadingsGrams: [
        Math.round(
          10 *
            (18 +
              31.12 * (index === 57 ? 19 : 20) +
              0.28 * normalQuantile((((index * 77) % 200) + 0.5) / 200)),
        ) / 10,
      ],
    })),
    model: {
      referenceMeanGrams: 31.1,
      referenceMeanStandardUncertaintyGrams: 0.01,
      lotStandardDeviationGrams: 0.02,
      gainRelative: 0.0001,
      pieceStandardDeviationGrams: 0.05,
      driftPerTubeGrams: 0.002,
      storedTareGrams: 18,
      tareStandardDeviationGrams: 0.15,
      tareMeanStandardUncertaintyGrams: 0,
      repeatabilityGrams: 0.05,
      divisionGrams: 0.1,
      priorMiscountProbability: 0.0002,
      badWeighingProbability: 0.001,
      badWeighingSpreadGrams: 20,
    },
  }),
  work: ({ tubes, model }) => {
    const found = seriesPosterior(tubes, model);
    const last = found.after[tubes.length - 1];
    return [
      found.afterwards[57]?.counts[0] ?? 0,
      found.afterwards[3]?.counts[1] ?? 0,
      last?.mean ?? 0,
      Math.sqrt(last?.variance ?? 0),
      found.logEvidence[tubes.length - 1] ?? 0,
      found.bookedLogEvidence,
    ];
  },
  tolerance: 1e-6,
};
