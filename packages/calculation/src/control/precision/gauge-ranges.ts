import { meanOf } from '../../quantity/sum.ts';
import { type RangeMoments, rangeMoments } from '../range-moments.ts';
import type { GaugeLayout } from './gauge-layout.ts';
import type { GaugeStudyOutput } from './gauge-study-schema.ts';

/** Sizes up to which the factors of ranges are offered. */
const greatestSize = 100;
/** Above this number of ranges the tables of d2* give the value for a range of many. */
const manyRanges = 15;

const rangeOf = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

/**
 * Divisor that makes the mean of g ranges of m readings an estimate of the standard deviation whose
 * square is unbiased.
 *
 * Formula: d2* = √(d2² + d3²/g); d2 itself for more than 15 ranges, as the published tables end.
 *
 * @param moments mean d2 and standard deviation d3 of one range
 * @param ranges number of ranges, 1 or more
 * @returns divisor
 * Validity: normal readings; d2 and d3 by quadrature.
 * Source: P. B. Patnaik (1950), Biometrika 37, 78-87; A. J. Duncan (1986), Quality Control and Industrial
 * Statistics, appendix D3
 */
function rangeDivisor(moments: RangeMoments, ranges: number): number {
  return ranges > manyRanges
    ? moments.mean
    : Math.sqrt(moments.mean ** 2 + moments.standardDeviation ** 2 / ranges);
}

/**
 * A crossed gauge study by averages and ranges, the road of the days before computers and a check of
 * the analysis of variance; it cannot see an interaction.
 *
 * Formula: repeatability R̄/d2*(r, p·o); reproducibility √((range of operator means/d2*(o, 1))² −
 * repeatability²/(p·r)), 0 where negative; part: range of part means/d2*(p, 1).
 *
 * @param layout crossed and balanced
 * @returns standard deviations in the unit of the readings; null where a size exceeds 100
 * Validity: about nine tenths as efficient as the analysis of variance for these sizes.
 * Source: A. J. Duncan (1986), Quality Control and Industrial Statistics; common practice for
 * gauge studies
 */
export function gaugeByRanges(layout: GaugeLayout): GaugeStudyOutput['rangeMethod'] {
  const { operators, parts, repeats, cells } = layout;
  const largest = Math.max(operators.length, parts.length, repeats);
  if (largest > greatestSize) return null;
  const moments = rangeMoments(largest);
  const divisor = (size: number, ranges: number) =>
    rangeDivisor(moments[size] as RangeMoments, ranges);
  const ranges = cells.flatMap((row) => row.map(rangeOf));
  const repeatability = meanOf(ranges) / divisor(repeats, ranges.length);
  const operatorRange = rangeOf(cells.map((row) => meanOf(row.flat())));
  const operatorSpread = operatorRange / divisor(operators.length, 1);
  const own = repeatability ** 2 / (parts.length * repeats);
  const reproducibility = Math.sqrt(Math.max(0, operatorSpread ** 2 - own));
  const partRange = rangeOf(parts.map((_, j) => meanOf(cells.flatMap((row) => row[j] ?? []))));
  const part = partRange / divisor(parts.length, 1);
  const gauge = Math.hypot(repeatability, reproducibility);
  const total = Math.hypot(gauge, part);
  return {
    repeatabilityStandardDeviation: repeatability,
    reproducibilityStandardDeviation: reproducibility,
    gaugeStandardDeviation: gauge,
    partStandardDeviation: part,
    totalStandardDeviation: total,
    gaugeStudyVariationPercent: total > 0 ? (100 * gauge) / total : 0,
    distinctCategories: gauge > 0 ? (Math.SQRT2 * part) / gauge : null,
  };
}
