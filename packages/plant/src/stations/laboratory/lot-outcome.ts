import type { Draft } from '../../journal/station.ts';
import { draftLotJudged, type LotFindings } from '../receiving/index.ts';
import type { Measurement } from './bodies.ts';
import { standsByVariables } from './by-variables.ts';
import type { SampledMelt } from './melt-facts.ts';
import { countBlanks, type PhysicalCounts, physicalState } from './physical.ts';

/** Every blank as it is measured once these measurements are recorded. */
function countsWith(sampled: SampledMelt, newer: readonly Measurement[]): PhysicalCounts {
  const latest = new Map<string, Measurement>();
  for (const [blank, row] of sampled.measured) latest.set(blank, row.measurement);
  for (const one of newer) latest.set(one.blank, one);
  return countBlanks([...latest.values()]);
}

/** What the measured blanks say of the lot, and whether that is a judgement yet. */
function standingOf(sampled: SampledMelt, newer: readonly Measurement[]) {
  const counts = countsWith(sampled, newer);
  const stands = standsByVariables(sampled, newer);
  const { physicalPieces: blanksForPhysical, rejectionNumber } = sampled.order;
  const state = physicalState(counts, { blanksForPhysical, rejectionNumber }, stands);
  const byVariables =
    stands?.state === 'accepted' || stands?.state === 'rejected' ? stands : undefined;
  // A lot by attributes is judged by its last blank, so that a supplier's series counts whole samples.
  const isJudged = byVariables ? state !== 'open' : counts.blanksMeasured >= blanksForPhysical;
  return { counts, byVariables, isJudged, isAccepted: state === 'accepted' };
}

function findings(sampled: SampledMelt, standing: ReturnType<typeof standingOf>): LotFindings {
  const { blanksMeasured, blanksNonconforming } = standing.counts;
  const { melt, order } = sampled;
  const outcome = standing.isAccepted ? 'accepted' : 'not accepted';
  const { byVariables } = standing;
  return { melt, order, outcome, blanksMeasured, blanksNonconforming, byVariables };
}

/** Corrects the judgement of a lot where it comes out otherwise now. */
function turned(
  sampled: SampledMelt,
  standing: ReturnType<typeof standingOf>,
  reason: string,
): readonly Draft[] {
  const { judged } = sampled;
  const found = findings(sampled, standing);
  if (!judged || !standing.isJudged || judged.outcome === found.outcome) return [];
  return [draftLotJudged(found, { of: judged, reason })];
}

const moreMeasured = 'More blanks of its sample were measured, and they say otherwise.';

/**
 * Judges the lot when the last blank is measured that it needs; a lot is judged once. One by variables
 * may be turned by the rest of its sample.
 */
export function judgeWhenMeasured(
  sampled: SampledMelt,
  measurements: readonly Measurement[],
): readonly Draft[] {
  const standing = standingOf(sampled, measurements);
  if (sampled.judged) {
    return sampled.order.variables ? turned(sampled, standing, moreMeasured) : [];
  }
  return standing.isJudged ? [draftLotJudged(findings(sampled, standing))] : [];
}

/** Corrects the judgement of a lot where a corrected measurement turns it. */
export function judgeAgain(
  sampled: SampledMelt,
  measurement: Measurement,
  reason: string,
): readonly Draft[] {
  return turned(sampled, standingOf(sampled, [measurement]), reason);
}

/**
 * Judges a lot that is refused while some of its blanks are not measured, once enough are at fault.
 * Otherwise a supplier's worst lots would be missing from his series.
 */
export function judgeWhenRefused(sampled: SampledMelt): readonly Draft[] {
  const standing = standingOf(sampled, []);
  const isRejected = standing.counts.blanksNonconforming >= sampled.order.rejectionNumber;
  return sampled.judged || !isRejected ? [] : [draftLotJudged(findings(sampled, standing))];
}
