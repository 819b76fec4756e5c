import { requireDomain } from '../quantity/domain.ts';

/** How a series of lots is inspected; a series that is discontinued is not inspected at all. */
export const seriesSeverities = ['normal', 'tightened', 'discontinued'] as const;

export type SeriesSeverity = (typeof seriesSeverities)[number];

/** A lot that was judged on its original inspection, under the severity of its own plan. */
export interface JudgedLot {
  readonly event: 'lot judged';
  readonly lot: string;
  readonly outcome: 'accepted' | 'not accepted';
  readonly severity: 'normal' | 'tightened';
}

/** The cause was corrected, and a discontinued series is inspected again. */
export interface InspectionResumption {
  readonly event: 'inspection resumed';
}

export type SeriesEvent = JudgedLot | InspectionResumption;

/** The severity that the next lot of a series is inspected under, and why. */
export interface SeriesState {
  readonly severity: SeriesSeverity;
  /** In words, with the ids of the lots that decided it. */
  readonly reason: string;
  /** The lots that brought about this severity; none at the start of a series. */
  readonly decidedBy: readonly string[];
}

/** So many consecutive lots are looked at for two that were not accepted. */
const windowLots = 5;
const notAcceptedToTighten = 2;
const acceptedToReturn = 5;
const notAcceptedToDiscontinue = 5;
/** Accepted lots after which reduced inspection could be asked for. */
const acceptedForReduced = 10;

/** Where a series stands, with the lots since its severity last changed. */
interface Progress extends SeriesState {
  /** Under normal inspection: every lot since its start, oldest first. */
  readonly lots: readonly JudgedLot[];
  /** Under tightened inspection: lots accepted one after the other. */
  readonly run: readonly string[];
  /** Under tightened inspection: every lot not accepted since its start. */
  readonly notAccepted: readonly string[];
}

const start = (state: SeriesState): Progress => ({ ...state, lots: [], run: [], notAccepted: [] });

function listed(lots: readonly string[]): string {
  if (lots.length < 2) return lots.join('');
  return `${lots.slice(0, -1).join(', ')} and ${lots.at(-1)}`;
}

function tightenedBy(first: JudgedLot, second: JudgedLot): Progress {
  const decidedBy = [first.lot, second.lot];
  return start({
    severity: 'tightened',
    decidedBy,
    reason: `Tightened inspection since lot ${second.lot}: lots ${listed(decidedBy)} were not accepted, two within ${windowLots} consecutive lots.`,
  });
}

function afterNormal(before: Progress, judged: JudgedLot): Progress {
  const lots = [...before.lots, judged];
  if (judged.outcome === 'accepted') return { ...before, lots };
  const [first, second] = lots
    .slice(-windowLots)
    .filter(({ outcome }) => outcome === 'not accepted')
    .slice(-notAcceptedToTighten);
  return first && second ? tightenedBy(first, second) : { ...before, lots };
}

function afterTightened(before: Progress, judged: JudgedLot): Progress {
  const isOwn = judged.severity === 'tightened';
  if (judged.outcome === 'accepted') {
    // A lot that only passed the easier plan earns nothing towards the end of the stricter one.
    const run = isOwn ? [...before.run, judged.lot] : before.run;
    if (run.length < acceptedToReturn) return { ...before, run };
    return start({
      severity: 'normal',
      decidedBy: run,
      reason: `Normal inspection since lot ${judged.lot}: lots ${listed(run)} were accepted one after the other under tightened inspection.`,
    });
  }
  const notAccepted = isOwn ? [...before.notAccepted, judged.lot] : before.notAccepted;
  if (notAccepted.length < notAcceptedToDiscontinue) return { ...before, run: [], notAccepted };
  return start({
    severity: 'discontinued',
    decidedBy: notAccepted,
    reason: `Inspection is discontinued since lot ${judged.lot}: lots ${listed(notAccepted)} were not accepted under tightened inspection. It starts again once the cause is corrected.`,
  });
}

function after(before: Progress, event: SeriesEvent): Progress {
  if (event.event === 'inspection resumed') {
    if (before.severity !== 'discontinued') return before;
    return start({
      severity: 'tightened',
      decidedBy: before.decidedBy,
      reason: `Tightened inspection since inspection was resumed; it had been discontinued for lots ${listed(before.decidedBy)}.`,
    });
  }
  if (before.severity === 'normal') return afterNormal(before, event);
  // What was drawn before the series was discontinued is judged, and changes nothing here.
  return before.severity === 'tightened' ? afterTightened(before, event) : before;
}

/** Of the last lots under normal inspection, those that were not accepted. */
function recently(lots: readonly JudgedLot[]): string {
  const recent = lots.slice(-windowLots);
  const last = recent.length === 1 ? 'the last lot' : `the last ${recent.length} lots`;
  const [bad] = recent.filter(({ outcome }) => outcome === 'not accepted');
  if (bad) return ` Of ${last}, ${bad.lot} was not accepted.`;
  return ` Of ${last}, every one was accepted.`;
}

/** What has been earned or lost since the severity last changed. */
function standing({ severity, run, notAccepted, lots }: Progress): string {
  if (severity === 'tightened') {
    return ` Since then ${run.length} of ${acceptedToReturn} lots accepted in a row, ${notAccepted.length} of ${notAcceptedToDiscontinue} not accepted.`;
  }
  if (severity === 'discontinued' || lots.length === 0) return '';
  const last = lots.slice(-acceptedForReduced);
  const couldAsk =
    last.length === acceptedForReduced && last.every(({ outcome }) => outcome === 'accepted');
  return `${recently(lots)}${couldAsk ? ` ${whyNotReduced}` : ''}`;
}

/** Why reduced inspection is never answered here, however good the series. */
export const whyNotReduced =
  'Reduced inspection is not entered by itself: the responsible authority must ask for it, production must be steady, and the nonconforming pieces of the last ten samples must not exceed the limit numbers of Table VIII.';

function checkSeries(series: readonly SeriesEvent[]): void {
  const seen = new Set<string>();
  for (const [index, event] of series.entries()) {
    if (event.event === 'inspection resumed') continue;
    const at = (field: string) => `series.${index}.${field}`;
    const { lot, outcome, severity } = event;
    requireDomain(lot !== '' && !seen.has(lot), {
      field: at('lot'),
      value: lot,
      accepted: 'the id of a lot, each once: only original inspection counts',
    });
    seen.add(lot);
    requireDomain(outcome === 'accepted' || outcome === 'not accepted', {
      field: at('outcome'),
      value: outcome,
      accepted: 'accepted or not accepted',
    });
    requireDomain(severity === 'normal' || severity === 'tightened', {
      field: at('severity'),
      value: severity,
      accepted: 'normal or tightened',
    });
  }
}

/**
 * Severity that a series of lots has earned: the switching rules between normal inspection,
 * tightened inspection and its discontinuation.
 *
 * Rules: normal to tightened when two of five or fewer consecutive lots were not accepted; tightened
 * to normal when five consecutive lots were accepted; discontinued when five lots in all were not
 * accepted while inspection was tightened; tightened again when inspection is resumed. Every
 * change starts the count anew. Reduced inspection is not entered: it must be asked for and needs
 * limit numbers.
 *
 * Lots drawn before a change may be judged after it. Under tightened inspection such a lot counts
 * only against its supplier: accepted under the normal plan it earns nothing, not accepted it ends
 * the run of accepted lots.
 *
 * @param series lots in the order in which they were judged, each once; resumptions between them
 * @param beginsUnder severity of the first lot; normal unless the parties agreed otherwise
 * @returns the severity of the next lot, the reason in words and the lots that decided it
 * @throws DomainError for a lot that stands twice, or a word that is none of those listed
 * Validity: one supplier, one product, one class of nonconformity; original inspection only.
 * Source: MIL-STD-105E (1989), clauses 4.7.1 to 4.8
 * @example severityOfSeries([
 *   { event: 'lot judged', lot: '1', outcome: 'not accepted', severity: 'normal' },
 *   { event: 'lot judged', lot: '2', outcome: 'not accepted', severity: 'normal' },
 * ]).severity // 'tightened'
 */
export function severityOfSeries(
  series: readonly SeriesEvent[],
  beginsUnder: 'normal' | 'tightened' = 'normal',
): SeriesState {
  checkSeries(series);
  const first: Progress = start({
    severity: beginsUnder,
    decidedBy: [],
    reason:
      beginsUnder === 'normal'
        ? 'Every series of lots begins under normal inspection.'
        : 'This series begins under tightened inspection.',
  });
  const progress = series.reduce(after, first);
  const { severity, reason, decidedBy } = progress;
  return { severity, reason: `${reason}${standing(progress)}`, decidedBy };
}
