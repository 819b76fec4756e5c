import { requireDomain } from '../quantity/domain.ts';
import type { Severity } from './attribute-tables.ts';
import {
  checkLimitNumber,
  type LimitCheck,
  type NormalLot,
  scoreAfter,
  scoreForReduced,
} from './reduced-qualification.ts';
import {
  type HistoryEvent,
  type LotEvent,
  type LotResult,
  resultOf,
  type SwitchingEdition,
} from './severity-history.ts';

/** Every state a series of lots can be in. */
export const inspectionSeverities = ['reduced', 'normal', 'tightened', 'discontinued'] as const;

type InspectionSeverity = (typeof inspectionSeverities)[number];

/** Rules and product that a series is followed under. */
export interface SwitchingSetting {
  readonly edition: SwitchingEdition;
  readonly acceptanceQualityLimitPercent: number;
}

/** Where a series stands, with what was earned or lost since its severity last changed. */
export interface SeriesStanding {
  readonly severity: InspectionSeverity;
  /** In words, with the lots that decided it. */
  readonly reason: string;
  readonly decidedBy: readonly string[];
  readonly reducedIsWanted: boolean;
  /** Original lots since normal inspection began. */
  readonly normalLots: readonly NormalLot[];
  /** Under tightened inspection: lots accepted one after the other, and all not accepted. */
  readonly run: readonly string[];
  readonly notAccepted: readonly string[];
  /** Switching score of normal inspection; kept under reduced inspection, which it led to. */
  readonly score: number;
  readonly limitCheck: LimitCheck | null;
}

const windowLots = 5;
const acceptedToReturn = 5;
const notAcceptedToDiscontinue = 5;

/** Lots as a list in words. */
function listedLots(lots: readonly string[]): string {
  if (lots.length < 2) return lots.join('');
  return `${lots.slice(0, -1).join(', ')} and ${lots.at(-1)}`;
}

function changed(
  before: Pick<SeriesStanding, 'reducedIsWanted'>,
  severity: InspectionSeverity,
  decidedBy: readonly string[],
  reason: string,
): SeriesStanding {
  const { reducedIsWanted } = before;
  const counts = { normalLots: [], run: [], notAccepted: [], score: 0, limitCheck: null };
  return { severity, reason, decidedBy, reducedIsWanted, ...counts };
}

/** A series before its first lot. */
export function beginningUnder(severity: Severity, reducedIsWanted: boolean): SeriesStanding {
  requireDomain(severity !== 'reduced' || reducedIsWanted, {
    field: 'reducedInspection',
    value: 'not wanted',
    accepted: 'wanted, where a series begins under reduced inspection',
  });
  const reason =
    severity === 'normal'
      ? 'Every series of lots begins under normal inspection.'
      : `This series begins under ${severity} inspection.`;
  return changed({ reducedIsWanted }, severity, [], reason);
}

/** Goes on to reduced inspection where it is wanted and has been earned. */
function reducedWhereEarned(standing: SeriesStanding, setting: SwitchingSetting): SeriesStanding {
  if (!standing.reducedIsWanted) return standing;
  const last = standing.normalLots.at(-1)?.lot ?? '';
  if (setting.edition === 'ISO 2859-1:1999') {
    if (standing.score < scoreForReduced) return standing;
    const reason = `Reduced inspection since lot ${last}: the switching score has reached ${standing.score}, ${scoreForReduced} are needed, and reduced inspection is wanted.`;
    return { ...changed(standing, 'reduced', [last], reason), score: standing.score };
  }
  const { limitCheck } = standing;
  if (!limitCheck?.isMet) return standing;
  const decidedBy = standing.normalLots.slice(-limitCheck.lots).map(({ lot }) => lot);
  return changed(
    standing,
    'reduced',
    decidedBy,
    `Reduced inspection since lot ${last}: the last ${limitCheck.lots} lots were accepted, their samples showed ${limitCheck.nonconforming} nonconforming among ${limitCheck.sampleUnits} pieces with a limit number of ${limitCheck.limitNumber}, and reduced inspection is wanted.`,
  );
}

function tightenedWhereLost(standing: SeriesStanding, lot: string): SeriesStanding {
  const lost = standing.normalLots
    .slice(-windowLots)
    .filter(({ result }) => !result.accepted)
    .slice(-2)
    .map((one) => one.lot);
  if (lost.length < 2) return standing;
  return changed(
    standing,
    'tightened',
    lost,
    `Tightened inspection since lot ${lot}: lots ${listedLots(lost)} were not accepted, two within ${windowLots} consecutive lots.`,
  );
}

function afterNormal(before: SeriesStanding, judged: NormalLot, at: string, s: SwitchingSetting) {
  const normalLots = [...before.normalLots, judged];
  const { result, isOwn, lot } = judged;
  const isIso = s.edition === 'ISO 2859-1:1999';
  // An accepted lot of another plan earns no points; one that is not accepted loses them all.
  const scored = isIso && (isOwn || !result.accepted);
  const score = scored ? scoreAfter(before.score, result, at) : before.score;
  const limitCheck = isIso ? null : checkLimitNumber(normalLots, s.acceptanceQualityLimitPercent);
  const standing = { ...before, normalLots, score, limitCheck };
  return result.accepted ? reducedWhereEarned(standing, s) : tightenedWhereLost(standing, lot);
}

function afterTightened(before: SeriesStanding, judged: NormalLot): SeriesStanding {
  const { lot, isOwn, result } = judged;
  if (result.accepted) {
    // A lot that only passed an easier plan earns nothing towards the end of the stricter one.
    const run = isOwn ? [...before.run, lot] : before.run;
    if (run.length < acceptedToReturn) return { ...before, run };
    return changed(
      before,
      'normal',
      run,
      `Normal inspection since lot ${lot}: lots ${listedLots(run)} were accepted one after the other under tightened inspection.`,
    );
  }
  const notAccepted = isOwn ? [...before.notAccepted, lot] : before.notAccepted;
  if (notAccepted.length < notAcceptedToDiscontinue) return { ...before, run: [], notAccepted };
  return changed(
    before,
    'discontinued',
    notAccepted,
    `Inspection is discontinued since lot ${lot}: lots ${listedLots(notAccepted)} were not accepted under tightened inspection. It starts again once the cause is corrected.`,
  );
}

function afterReduced(before: SeriesStanding, judged: NormalLot): SeriesStanding {
  const { lot, result } = judged;
  if (result.accepted && !result.inGap) return before;
  const what = result.accepted
    ? 'was accepted, but with a count above its acceptance number'
    : 'was not accepted under reduced inspection';
  return changed(before, 'normal', [lot], `Normal inspection since lot ${lot}: it ${what}.`);
}

/** A lot as the state machine meets it. */
export interface MetLot {
  readonly result: LotResult;
  readonly inspectedUnder: Severity;
}

/** The plan a lot was inspected under, and what came out. */
export function meetLot(
  standing: SeriesStanding,
  event: LotEvent,
  at: string,
  edition: SwitchingEdition,
): MetLot {
  // A lot judged after the end of inspection had been drawn under the last severity: tightened.
  const inForce = standing.severity === 'discontinued' ? 'tightened' : standing.severity;
  const inspectedUnder = event.severity ?? inForce;
  const mayHaveGap = edition === 'MIL-STD-105E' && inspectedUnder === 'reduced';
  return { result: resultOf(event, at, mayHaveGap), inspectedUnder };
}

function afterLot(
  before: SeriesStanding,
  event: LotEvent,
  at: string,
  setting: SwitchingSetting,
): SeriesStanding {
  const { result, inspectedUnder } = meetLot(before, event, at, setting.edition);
  if (event.presented === 'again' || before.severity === 'discontinued') return before;
  const judged = { lot: event.lot, result, isOwn: inspectedUnder === before.severity };
  if (before.severity === 'normal') return afterNormal(before, judged, at, setting);
  return before.severity === 'tightened'
    ? afterTightened(before, judged)
    : afterReduced(before, judged);
}

/**
 * Where a series stands after one more event: the switching rules of either edition as a pure step.
 *
 * Rules of both: normal to tightened when two of five or fewer consecutive lots are not accepted;
 * back when five consecutive lots are accepted; discontinued when five in all are not accepted while
 * tightened; tightened again when resumed; reduced to normal when a lot is not accepted or reduced
 * inspection is no longer wanted. Normal to reduced, where wanted: in MIL-STD-105E after ten lots
 * accepted whose samples keep the limit number of Table VIII, and back also by a count in the gap; in
 * ISO 2859-1 at a switching score of 30. Each change starts all counts anew; lots presented again
 * never count. A lot drawn under another plan than the one in force counts only against its supplier.
 *
 * @param before standing so far, from `beginningUnder`
 * @param event what happened
 * @param at path of the event, for refusals
 * @param setting edition and acceptance quality limit
 * @returns the standing after it; the same object where the event changes nothing
 * @throws DomainError for counts and numbers that contradict each other
 * Source: MIL-STD-105E (1989), 4.7 and 4.8; ISO 2859-1:1999, clause 9 (score as remembered)
 */
export function afterEvent(
  before: SeriesStanding,
  event: HistoryEvent,
  at: string,
  setting: SwitchingSetting,
): SeriesStanding {
  switch (event.event) {
    case 'lot judged':
      return afterLot(before, event, at, setting);
    case 'reduced inspection wanted': {
      const wanted = { ...before, reducedIsWanted: true };
      return before.severity === 'normal' ? reducedWhereEarned(wanted, setting) : wanted;
    }
    case 'reduced inspection not wanted': {
      const unwanted = { ...before, reducedIsWanted: false };
      if (before.severity !== 'reduced') return unwanted;
      const reason = `Normal inspection since reduced inspection was no longer wanted: ${event.reason}.`;
      return changed(unwanted, 'normal', [], reason);
    }
    case 'inspection resumed':
      if (before.severity !== 'discontinued') return before;
      return changed(
        before,
        'tightened',
        before.decidedBy,
        `Tightened inspection since inspection was resumed; it had been discontinued for lots ${listedLots(before.decidedBy)}.`,
      );
  }
}
