import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import {
  type InspectionSeverityInput,
  type InspectionSeverityOutput,
  inspectionSeverityInput,
  inspectionSeverityOutput,
} from './inspection-severity-schema.ts';
import { scoreForReduced } from './reduced-qualification.ts';
import type { HistoryEvent, LotEvent } from './severity-history.ts';
import {
  afterEvent,
  beginningUnder,
  inspectionSeverities,
  meetLot,
  type SeriesStanding,
} from './severity-machine.ts';

function requireEachOnce(history: readonly HistoryEvent[]): void {
  const seen = new Set<string>();
  for (const [index, event] of history.entries()) {
    if (event.event !== 'lot judged' || event.presented === 'again') continue;
    requireDomain(!seen.has(event.lot), {
      field: `history.${index}.lot`,
      value: event.lot,
      accepted: 'each lot once for the first time; later as presented again',
    });
    seen.add(event.lot);
  }
}

type Step = InspectionSeverityOutput['steps'][number];

function scoreOf({ severity, score }: SeriesStanding, input: InspectionSeverityInput) {
  const isScored = severity === 'normal' || severity === 'reduced';
  return input.edition === 'ISO 2859-1:1999' && isScored ? score : null;
}

function stepOf(
  before: SeriesStanding,
  after: SeriesStanding,
  event: HistoryEvent,
  input: InspectionSeverityInput,
): Step {
  const shared = {
    event: event.event,
    severityAfter: after.severity,
    score: scoreOf(after, input),
    change: after.reason === before.reason ? null : after.reason,
  };
  if (event.event !== 'lot judged') {
    return { ...shared, lot: null, inspectedUnder: null, outcome: null, counts: after !== before };
  }
  const { result, inspectedUnder } = meetLot(before, event, 'history', input.edition);
  return {
    ...shared,
    lot: event.lot,
    inspectedUnder,
    outcome: result.accepted ? 'accepted' : 'not accepted',
    counts: event.presented === 'first time' && before.severity !== 'discontinued',
  };
}

function limitWords({ limitCheck, reducedIsWanted }: SeriesStanding): string {
  if (!limitCheck) return '';
  const { lots, sampleUnits, nonconforming, limitNumber, isMet } = limitCheck;
  const found = `The last ${lots} lots showed ${nonconforming} nonconforming among ${sampleUnits} pieces`;
  if (limitNumber === null) return ` ${found}, for which Table VIII gives no limit number.`;
  const wanted = isMet && !reducedIsWanted ? ' Reduced inspection is earned but not wanted.' : '';
  return ` ${found}, limit number ${limitNumber}.${wanted}`;
}

function normalWords(standing: SeriesStanding, input: InspectionSeverityInput): string {
  const { normalLots } = standing;
  if (normalLots.length === 0) return 'No lot was judged since.';
  const recent = normalLots.slice(-5);
  const lost = recent.filter(({ result }) => !result.accepted);
  const last = recent.length === 1 ? 'the last lot' : `the last ${recent.length} lots`;
  const first = lost[0]
    ? `Of ${last}, ${lost[0].lot} was not accepted.`
    : `Of ${last}, every one was accepted.`;
  if (input.edition === 'MIL-STD-105E') return `${first}${limitWords(standing)}`;
  const wanted =
    standing.score >= scoreForReduced ? ' Reduced inspection is earned but not wanted.' : '';
  return `${first} The switching score is ${standing.score} of ${scoreForReduced}.${wanted}`;
}

function standingWords(standing: SeriesStanding, input: InspectionSeverityInput): string {
  if (standing.severity === 'normal') return normalWords(standing, input);
  if (standing.severity === 'tightened') {
    return `Since then ${standing.run.length} of 5 lots accepted in a row, ${standing.notAccepted.length} of 5 not accepted.`;
  }
  return standing.severity === 'reduced'
    ? 'One lot that is not accepted brings normal inspection back.'
    : 'No lot is inspected until the cause is corrected.';
}

/**
 * Severity of inspection that a series of lots has earned, with the reason and every step that led
 * there: normal, tightened, reduced or discontinued. It says under which plan the next lot of a supplier,
 * a product and a class of fault is to be examined.
 *
 * Rules: see `afterEvent`. Outcomes follow from the counts and the numbers of each plan, so that they
 * cannot contradict them. Lots presented again stand in the history and change nothing.
 *
 * @param input rules of either edition; limit, one of the twenty-six columns; up to 5000 events,
 * oldest first, every lot once for the first time; counts of 0 or more
 * @returns severity of the next lot, reason in words, the lots that decided it, score or limit
 * check, and one step for each event
 * @throws DomainError for a lot that stands twice, counts and plan numbers that contradict each other,
 * a gap outside reduced plans of MIL-STD-105E, or a beginning under reduced inspection not wanted
 * Validity: one supplier, product and class of fault; lots in the order of production. Worked series
 * in reference/mil-std-105e; laws/sampling-switching holds it against `severityOfSeries`.
 * Source: MIL-STD-105E (1989), 4.7.1 to 4.8 and Table VIII; ISO 2859-1:1999, clause 9 (switching score
 * as remembered)
 * @example inspectionSeverity({ edition: 'MIL-STD-105E', acceptanceQualityLimitPercent: 1,
 *   beginsUnder: 'normal', reducedInspection: 'not wanted', history: [] }).severity // 'normal'
 */
export function inspectionSeverity(input: InspectionSeverityInput): InspectionSeverityOutput {
  requireEachOnce(input.history);
  const steps: Step[] = [];
  let standing = beginningUnder(input.beginsUnder, input.reducedInspection === 'wanted');
  for (const [index, event] of input.history.entries()) {
    const after = afterEvent(standing, event, `history.${index}`, input);
    steps.push(stepOf(standing, after, event, input));
    standing = after;
  }
  const words = standingWords(standing, input);
  return {
    severity: standing.severity,
    reason: standing.reason,
    decidedBy: [...standing.decidedBy],
    standing: words,
    score: scoreOf(standing, input),
    limitCheck: standing.severity === 'normal' ? standing.limitCheck : null,
    steps,
    words: `Next lot: ${standing.severity === 'discontinued' ? 'not inspected' : `${standing.severity} inspection`}. ${standing.reason} ${words}`,
  };
}

/** More names than this run into each other under the axis. */
const greatestNames = 40;

const namesOf = (steps: readonly Step[]) =>
  steps.map(({ lot }, at) => ({ x: at + 1, name: lot ?? '' }));

/** Place of each severity on its axis, from mild to strict. */
const heightOf = (severity: (typeof inspectionSeverities)[number]): number =>
  inspectionSeverities.indexOf(severity) + 1;

function scoreChart(steps: readonly Step[]): Chart {
  return {
    kind: 'chart',
    title: 'Switching score',
    xTitle: 'Lot, in the order judged',
    yTitle: 'Score',
    series: [
      {
        label: 'score',
        kind: 'points',
        x: steps.map((_, at) => at + 1),
        y: steps.map(({ score }) => score ?? 0),
      },
    ],
    levels: [{ y: scoreForReduced, label: 'reduced' }],
  };
}

function drawSeverity(input: InspectionSeverityInput, output: InspectionSeverityOutput): Chart[] {
  const lots = output.steps
    .map((step, index) => ({ step, before: output.steps[index - 1]?.severityAfter }))
    .filter(({ step }) => step.lot !== null);
  if (lots.length === 0) return [];
  const x = lots.map((_, index) => index + 1);
  const y = lots.map(({ before }) => heightOf(before ?? input.beginsUnder));
  const refused = lots.flatMap(({ step }, at) =>
    step.outcome === 'not accepted' ? [{ x: at + 1, y: y[at] as number }] : [],
  );
  const charts: Chart[] = [
    {
      kind: 'chart',
      title: 'Severity by lot',
      xTitle: 'Lot, in the order judged; last: the next lot',
      yTitle: 'Severity',
      series: [
        {
          label: 'severity',
          kind: 'steps',
          x: [...x, x.length + 1],
          y: [...y, heightOf(output.severity)],
        },
        {
          label: 'not accepted',
          kind: 'points',
          x: refused.map((point) => point.x),
          y: refused.map((point) => point.y),
          standsOut: true,
        },
      ],
      levels: inspectionSeverities.map((severity) => ({ y: heightOf(severity), label: severity })),
      ...(lots.length > greatestNames ? {} : { xNames: namesOf(lots.map(({ step }) => step)) }),
    },
  ];
  return input.edition === 'ISO 2859-1:1999'
    ? [...charts, scoreChart(lots.map(({ step }) => step))]
    : charts;
}

/** One lot of letter K at 1.0 under normal inspection: 125 pieces, accepted with up to 3. */
function exampleLot(index: number, nonconformingPieces: number): LotEvent {
  return {
    event: 'lot judged',
    lot: `M-${index + 1}`,
    presented: 'first time',
    result: {
      sampling: 'single',
      sampleSizePieces: 125,
      acceptanceNumber: 3,
      rejectionNumber: 4,
      nonconformingPieces,
    },
  };
}

export const inspectionSeverityCalculation = defineCalculation({
  id: 'inspection-severity',
  version: 1,
  topic: 'sampling',
  title: 'Severity of inspection',
  purpose:
    'Follows the lots of one supplier, product and class of fault and says whether the next lot is inspected normally, tightened, reduced or not at all, and why.',
  source:
    'MIL-STD-105E (1989), 4.7.1 to 4.8 and Table VIII; ISO 2859-1:1999, clause 9 (switching score as remembered)',
  input: inspectionSeverityInput,
  output: inspectionSeverityOutput,
  // Twelve accepted lots whose last ten keep the limit number 7: reduced inspection.
  example: {
    edition: 'MIL-STD-105E',
    acceptanceQualityLimitPercent: 1,
    beginsUnder: 'normal',
    reducedInspection: 'wanted',
    history: [0, 1, 2, 0, 1, 0, 2, 1, 1, 0, 0, 0].map((count, index) => exampleLot(index, count)),
  },
  compute: inspectionSeverity,
  draw: drawSeverity,
});
