import { modifiedLargeSampleInterval } from '../../src/control/precision/component-intervals.ts';
import { componentTerms, gaugeAnalysis } from '../../src/control/precision/gauge-analysis.ts';
import { type GaugeReading, gaugeLayout } from '../../src/control/precision/gauge-layout.ts';
import { aiagReadings } from '../../src/control/precision/gauge-study-example.ts';
import type { BenchRow } from '../bench-row.ts';

export const row: BenchRow<GaugeReading[]> = {
  what: 'gauge study of 10 parts × 3 operators × 3 repeats with its seven intervals',
  data: () => aiagReadings,
  work: (data) => {
    const layout = gaugeLayout(data, 'crossed');
    const terms = componentTerms(gaugeAnalysis(layout, 'crossed'), layout, false);
    return Object.values(terms).flatMap((one) => {
      const { lower, upper } = modifiedLargeSampleInterval(one, 0.95);
      return [lower, upper];
    });
  },
  tolerance: 1e-9,
};
