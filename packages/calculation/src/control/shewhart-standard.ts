import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import type { ShewhartVariablesInput } from './shewhart-variables-schema.ts';
import { type SpreadMoments, type SubgroupSummary, spreadKindOf } from './subgroup-summaries.ts';

/** The state of control that the limits are drawn from. */
export interface Standard {
  readonly mean: number;
  readonly standardDeviation: number;
  /** Degrees of freedom of a pooled standard deviation; null where it counts as known. */
  readonly degreesOfFreedom: number | null;
  readonly phaseOneCount: number | null;
}

/** Subgroups that set the limits, with the number at which phase one ends. */
function phaseOne(input: ShewhartVariablesInput, summaries: readonly SubgroupSummary[]) {
  const { limits } = input;
  const count = limits.from === 'data' ? (limits.phaseOneCount ?? summaries.length) : 0;
  requireDomain(count <= summaries.length, {
    field: 'limits.phaseOneCount',
    value: count,
    accepted: `at most the ${summaries.length} subgroups there are`,
  });
  const excluded = new Set(limits.from === 'data' ? limits.excludedNumbers : []);
  const kept = summaries.map((_, index) => index < count && !excluded.has(index + 1));
  const used = summaries.filter((_, index) => kept[index]);
  requireDomain(used.length >= 2, {
    field: 'limits.excludedNumbers',
    value: [...excluded].join(', '),
    accepted: 'numbers that leave at least two subgroups for the limits',
  });
  // A moving range counts only where both of its readings do.
  const spreads = summaries.filter(
    (one, index) => kept[index] && one.spread !== null && (one.size > 1 || kept[index - 1]),
  );
  requireDomain(spreads.length >= 1, {
    field: 'limits.excludedNumbers',
    value: [...excluded].join(', '),
    accepted: 'numbers that leave two neighbouring readings for the limits',
  });
  return { count, used, spreads };
}

/** Mean and standard deviation in control: as given, or from the subgroups of phase one. */
export function standardOf(
  input: ShewhartVariablesInput,
  summaries: readonly SubgroupSummary[],
  moments: ReadonlyMap<number, SpreadMoments>,
): Standard {
  const { limits } = input;
  if (limits.from === 'standard') {
    const { mean, standardDeviation } = limits;
    return { mean, standardDeviation, degreesOfFreedom: null, phaseOneCount: null };
  }
  const { count, used, spreads } = phaseOne(input, summaries);
  const readings = compensatedSum(used.map((one) => one.size));
  const mean = compensatedSum(used.map((one) => one.size * one.mean)) / readings;
  const pooled = input.spreadEstimate === 'pooled' && spreadKindOf(input.data) !== 'range';
  const freedom = compensatedSum(spreads.map((one) => one.spreadSize - 1));
  const standardDeviation = pooled
    ? Math.sqrt(
        compensatedSum(spreads.map((one) => (one.spreadSize - 1) * (one.spread ?? 0) ** 2)) /
          freedom,
      )
    : compensatedSum(
        spreads.map((one) => (one.spread ?? 0) / (moments.get(one.spreadSize)?.mean ?? 1)),
      ) / spreads.length;
  requireDomain(standardDeviation > 0, {
    field: 'data',
    value: 'no spread within the subgroups',
    accepted: 'readings fine enough to show a spread',
  });
  return {
    mean,
    standardDeviation,
    degreesOfFreedom: pooled ? freedom : null,
    phaseOneCount: count,
  };
}
