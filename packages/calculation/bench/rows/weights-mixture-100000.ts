import { normalQuantile } from '../../src/quantity/normal.ts';
import { fitTwoNormals } from '../../src/weights/two-normals.ts';
import type { BenchRow } from '../bench-row.ts';

export const row: BenchRow<{ readonly masses: readonly number[] }> = {
  what: 'two normal heaps by maximum likelihood, 100000 masses',
  data: () => ({
    masses: Array.from({ length: 100_000 }, (_, index) => {
      const isHeavy = index % 10 < 3;
      const place = (((index * 7919) % 100_000) + 0.5) / 100_000;
      return isHeavy ? 31.16 + 0.015 * normalQuantile(place) : 31.1 + 0.02 * normalQuantile(place);
    }),
  }),
  work: ({ masses }) => {
    const fit = fitTwoNormals(masses, false);
    return fit ? [fit.share, ...fit.means, ...fit.standardDeviations, fit.logLikelihood] : [];
  },
  tolerance: 1e-6,
};
