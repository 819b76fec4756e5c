import type { Draft } from '../../journal/station.ts';
import { draftLotJudged } from '../receiving/index.ts';
import type { Measurement } from './bodies.ts';
import type { SampledMelt } from './melt-facts.ts';
import { countBlanks, type PhysicalCounts, physicalState } from './physical.ts';

type Measured = Pick<Measurement, 'blank' | 'forPhysical' | 'faults'>;

/** Every blank as it is measured once these measurements are recorded. */
function countsWith(sampled: SampledMelt, newer: readonly Measured[]): PhysicalCounts {
  const latest = new Map<string, Measured>();
  for (const [blank, row] of sampled.measured) latest.set(blank, row.measurement);
  for (const one of newer) latest.set(one.blank, one);
  return countBlanks([...latest.values()]);
}

function outcomeOf(sampled: SampledMelt, counts: PhysicalCounts): 'accepted' | 'not accepted' {
  const { physicalPieces: blanksForPhysical, rejectionNumber } = sampled.order;
  const state = physicalState(counts, { blanksForPhysical, rejectionNumber });
  return state === 'accepted' ? 'accepted' : 'not accepted';
}

function findings(sampled: SampledMelt, counts: PhysicalCounts) {
  const { blanksMeasured, blanksNonconforming } = counts;
  const { melt, order } = sampled;
  const outcome = outcomeOf(sampled, counts);
  return { melt, order, outcome, blanksMeasured, blanksNonconforming };
}

/** Judges the lot when the last blank of its sample is measured; a lot is judged once. */
export function judgeWhenMeasured(
  sampled: SampledMelt,
  measurements: readonly Measured[],
): readonly Draft[] {
  const counts = countsWith(sampled, measurements);
  if (sampled.judged || counts.blanksMeasured < sampled.order.physicalPieces) return [];
  return [draftLotJudged(findings(sampled, counts))];
}

/** Corrects the judgement of a lot where a corrected measurement turns it. */
export function judgeAgain(
  sampled: SampledMelt,
  measurement: Measured,
  reason: string,
): readonly Draft[] {
  const { judged } = sampled;
  const counts = countsWith(sampled, [measurement]);
  if (!judged || judged.outcome === outcomeOf(sampled, counts)) return [];
  return [draftLotJudged(findings(sampled, counts), { of: judged, reason })];
}

/**
 * Judges a lot that is refused while some of its blanks are not measured, once enough are at fault.
 * Otherwise a supplier's worst lots would be missing from his series.
 */
export function judgeWhenRefused(sampled: SampledMelt): readonly Draft[] {
  const counts = countsWith(sampled, []);
  const isRejected = counts.blanksNonconforming >= sampled.order.rejectionNumber;
  return sampled.judged || !isRejected ? [] : [draftLotJudged(findings(sampled, counts))];
}
