import { propagateSeries } from '../../src/uncertainty/block-propagation.ts';
import { coverageFactor } from '../../src/uncertainty/coverage.ts';
import { textModel } from '../../src/uncertainty/text-model.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  readonly names: readonly string[];
  readonly estimates: readonly (readonly number[])[];
  readonly uncertainties: readonly number[];
  readonly freedoms: readonly number[];
}

const names = ['m2', 'b1', 'taken', 'b2', 'cornet', 'm1', 'purity', 'drift'];

/** Small whole-number mixing, so that the data are the same everywhere. */
function unit(index: number): number {
  return ((index * 2654435761) % 4294967296) / 4294967296;
}

export const row: BenchRow<Data> = {
  what: 'Budgets of 1000 results, 8 inputs: contributions, degrees of freedom, U',
  data: () => ({
    names,
    estimates: Array.from({ length: 1000 }, (_, k) => [
      229 + unit(k + 1),
      0.01 * unit(k + 7),
      230 + unit(k + 13),
      0.01 * unit(k + 19),
      229.8 + unit(k + 29),
      250 + unit(k + 31),
      0.9999,
      1 + 1e-4 * unit(k + 37),
    ]),
    uncertainties: [0.01, 0.004, 0.01, 0.004, 0.02, 0.01, 0.00005, 0.00002],
    freedoms: [9, 30, 9, 30, 5, 9, 50, 20],
  }),
  work: ({ estimates, uncertainties, freedoms }) => {
    const model = textModel(
      '1000 * (m2 - b1 + (taken - b2) * purity - cornet) / m1 * exp(drift - 1)',
      names,
    );
    // Results of one method have few different whole degrees of freedom.
    const factors = new Map<number, number>();
    const factorOf = (freedom: number): number => {
      const known = factors.get(freedom) ?? coverageFactor(0.95, freedom);
      factors.set(freedom, known);
      return known;
    };
    const found = propagateSeries(
      model,
      names.map((name, index) => ({
        name,
        estimates: Float64Array.from(estimates, (row) => row[index] as number),
        standardUncertainty: uncertainties[index] as number,
        degreesOfFreedom: freedoms[index] as number,
      })),
    );
    let [value, variance, largest, freedom, expanded] = [0, 0, 0, 0, 0];
    for (let k = 0; k < estimates.length; k += 1) {
      const own = found.variances[k] as number;
      const effective = found.effectiveDegreesOfFreedom[k] as number;
      let most = 0;
      for (const part of found.contributions) most = Math.max(most, Math.abs(part[k] as number));
      value += found.values[k] as number;
      variance += own;
      largest += most;
      freedom += effective;
      expanded += factorOf(Math.floor(effective)) * Math.sqrt(own);
    }
    return [value, variance, largest, freedom, expanded];
  },
  tolerance: 1e-9,
};
