import { readingMilligrams } from '../../journal/reading.ts';
import { judgeByVariables, type LotByVariables } from '../receiving/index.ts';
import type { Measurement } from './bodies.ts';
import type { SampledMelt } from './melt-facts.ts';

/**
 * How the lot stands by variables once these measurements are recorded; nothing where its order is
 * one by attributes.
 */
export function standsByVariables(
  sampled: SampledMelt,
  newer: readonly Measurement[],
): LotByVariables | undefined {
  const latest = new Map<string, Measurement>();
  for (const [blank, row] of sampled.measured) latest.set(blank, row.measurement);
  for (const one of newer) latest.set(one.blank, one);
  const measured = [...latest.values()].map((one) => ({
    blank: one.blank,
    massMilligrams: readingMilligrams(one.mass),
    diameterMillimetres: one.diameterMillimetres,
    thicknessMillimetres: one.thicknessMillimetres,
  }));
  return judgeByVariables(sampled.order, sampled.standard, measured);
}
