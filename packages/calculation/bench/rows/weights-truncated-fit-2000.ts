import { massSummary } from '../../src/weights/mass-summary.ts';
import { truncatedFit } from '../../src/weights/truncated-fit.ts';
import type { BenchRow } from '../bench-row.ts';
import { cutNormal } from '../cut-normal.ts';

interface Data {
  readonly masses: readonly number[];
  readonly edge: number;
}

export const row: BenchRow<Data> = {
  what: 'maximum-likelihood fit of a normal distribution cut below, 2000 masses, with standard errors',
  data: () => ({ masses: cutNormal(2000), edge: 31.08 }),
  work: ({ masses, edge }) => {
    const fit = truncatedFit(massSummary(masses), { lightEdge: edge });
    if (fit.outcome === 'no-maximum') return [];
    return [
      fit.mean,
      fit.standardDeviation,
      Math.sqrt(fit.meanVariance),
      Math.sqrt(fit.standardDeviationVariance),
    ];
  },
  tolerance: 1e-4,
};
