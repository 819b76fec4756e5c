import { boxAgainstTubesCalculation } from './box-against-tubes-entry.ts';
import { countByWeightCalculation } from './count-by-weight.ts';
import { countOfSeriesCalculation } from './count-of-series.ts';
import { meanMassDriftCalculation } from './mean-mass-drift.ts';
import { provableCountCalculation } from './provable-count.ts';

/** What the catalogue offers under the topic counting. */
export const countingCalculations = [
  boxAgainstTubesCalculation,
  countByWeightCalculation,
  countOfSeriesCalculation,
  meanMassDriftCalculation,
  provableCountCalculation,
] as const;
