import { acceptanceQualityLimits } from '../../src/sampling/attribute-tables.ts';
import { doublePlan } from '../../src/sampling/double-plan.ts';
import { doubleTables } from '../../src/sampling/double-tables.ts';
import { planOutcome } from '../../src/sampling/plan-outcome.ts';
import type { BenchRow } from '../bench-row.ts';

interface Data {
  /** Both samples, then acceptance and rejection number of each stage. */
  readonly plans: readonly (readonly number[])[];
  /** Mean of the first sample at each point of the grid. */
  readonly means: readonly number[];
}

function normalPlans(): number[][] {
  return doubleTables.normal.flatMap((text) => {
    const [letter = '', , ...cells] = text.split(' ');
    return cells.flatMap((cell, column) => {
      const limit = acceptanceQualityLimits[column] as number;
      if (!cell.includes('/') || limit > 10) return [];
      const { first, second } = doublePlan(letter, limit, 'normal').plan;
      if (!second) return [];
      const { sampleSizePieces: n1, acceptanceNumber: ac1, rejectionNumber: re1 } = first;
      const { sampleSizePieces: n2, acceptanceNumber: ac2, rejectionNumber: re2 } = second;
      return [[n1, n2, ac1, re1, ac2, re2]];
    });
  });
}

export const row: BenchRow<Data> = {
  what: 'average sample number, whole and cut short, of every normal double plan up to 10 %, 60 qualities each',
  data: () => ({
    plans: normalPlans(),
    means: Array.from({ length: 60 }, (_, index) => 0.02 * (index + 1)),
  }),
  work: ({ plans, means }) =>
    plans.flatMap(([n1, n2, ac1, re1, ac2, re2]) => {
      const plan = {
        first: {
          sampleSizePieces: n1 as number,
          acceptanceNumber: ac1 as number,
          rejectionNumber: re1 as number,
        },
        second: {
          sampleSizePieces: n2 as number,
          acceptanceNumber: ac2 as number,
          rejectionNumber: re2 as number,
        },
      };
      return means.flatMap((mean) => {
        const fractionNonconforming = Math.min(0.9, (mean * (re1 as number)) / (n1 as number));
        const found = planOutcome(plan, { basis: 'binomial', fractionNonconforming });
        return [found.averageSamplePieces, found.averageSampleCurtailedPieces];
      });
    }),
  tolerance: 1e-9,
};
