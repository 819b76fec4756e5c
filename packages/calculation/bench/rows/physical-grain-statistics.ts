import { fieldStatistics, grainSizeOfIntercept } from '../../src/physical/grain-number.ts';
import { coverageFactor } from '../../src/uncertainty/coverage.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly sections: number;
  readonly fields: number;
}

export const row: BenchRow<Data> = {
  what: 'grain size with interval, 50,000 sections of 10 fields',
  data: () => ({ sections: 50_000, fields: 10 }),
  work: ({ sections, fields }) => {
    const factor = coverageFactor(0.95, fields - 1) / Math.sqrt(fields);
    const counts = new Float64Array(fields);
    let [sizes, lower, upper, accurate] = [0, 0, 0, 0];
    for (let section = 0; section < sections; section += 1) {
      for (let field = 0; field < fields; field += 1) {
        const place = section * fields + field;
        counts[field] = 20 + (((place % 23) * 7) % 23) / 2;
      }
      const { mean, standardDeviation } = fieldStatistics(counts);
      const half = factor * (standardDeviation ?? 0);
      sizes += grainSizeOfIntercept(1 / mean);
      lower += grainSizeOfIntercept(1 / (mean - half));
      upper += grainSizeOfIntercept(1 / (mean + half));
      if (half / mean <= 0.1) accurate += 1;
    }
    return [sizes, lower, upper, accurate];
  },
  tolerance: 1e-10,
};
