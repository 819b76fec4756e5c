import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { meanStandardDeviationFactor } from './control-constants.ts';
import { rangeMoments } from './range-moments.ts';
import { seriesStatistics } from './series-statistics.ts';
import type { ShewhartVariablesInput } from './shewhart-variables-schema.ts';

/** What a chart plots of one subgroup. */
export interface SubgroupSummary {
  readonly mean: number;
  /** Range, moving range or standard deviation; null for the first of a series of single readings. */
  readonly spread: number | null;
  readonly size: number;
  /** Readings behind the spread; its moments come from this number. */
  readonly spreadSize: number;
}

/** Which figure tells the spread within a subgroup. */
type SpreadKind = 'range' | 'standard-deviation';

export const spreadKindOf = (data: ShewhartVariablesInput['data']): SpreadKind =>
  data.chart === 'mean-range' || data.chart === 'individuals' ? 'range' : 'standard-deviation';

function rangeOf(values: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  return greatest - least;
}

function summariseRanges(subgroups: readonly (readonly number[])[]): SubgroupSummary[] {
  const size = subgroups[0]?.length ?? 0;
  return subgroups.map((readings, index) => {
    requireDomain(readings.length === size, {
      field: `data.subgroups.${index}`,
      value: `${readings.length} readings`,
      accepted: `${size} readings as in the first subgroup, or a chart of standard deviations`,
    });
    const mean = compensatedSum(readings) / size;
    return { mean, spread: rangeOf(readings), size, spreadSize: size };
  });
}

/** The figures that a chart plots, subgroup by subgroup. */
export function summariseSubgroups(data: ShewhartVariablesInput['data']): SubgroupSummary[] {
  switch (data.chart) {
    case 'mean-range':
      return summariseRanges(data.subgroups);
    case 'mean-standard-deviation':
      return data.subgroups.map((readings) => {
        const { mean, standardDeviation, count } = seriesStatistics(readings);
        return { mean, spread: standardDeviation, size: count, spreadSize: count };
      });
    case 'summaries':
      return data.summaries.map(({ mean, standardDeviation, sizePieces: size }) => ({
        mean,
        spread: standardDeviation,
        size,
        spreadSize: size,
      }));
    case 'individuals':
      return data.values.map((mean, index) => ({
        mean,
        spread: index === 0 ? null : Math.abs(mean - (data.values[index - 1] as number)),
        size: 1,
        spreadSize: 2,
      }));
  }
}

/** Mean and standard deviation of a spread figure, for readings of standard deviation 1. */
export interface SpreadMoments {
  readonly mean: number;
  readonly standardDeviation: number;
}

/** Moments of the spread figure by subgroup size, each size computed once. */
export function spreadMomentsBySize(
  kind: SpreadKind,
  sizes: readonly number[],
): ReadonlyMap<number, SpreadMoments> {
  const moments = new Map<number, SpreadMoments>();
  for (const size of new Set(sizes)) {
    if (kind === 'range') {
      moments.set(size, rangeMoments(size)[size] as SpreadMoments);
    } else {
      const c4 = meanStandardDeviationFactor(size);
      moments.set(size, { mean: c4, standardDeviation: Math.sqrt(1 - c4 ** 2) });
    }
  }
  return moments;
}
