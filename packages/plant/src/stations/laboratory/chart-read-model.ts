import type { BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import type {
  ChartSignalAnswered,
  CupellationRecorded,
  DeterminationDiscarded,
  DifferenceRecorded,
} from './bodies.ts';
import { type ChartRow, chartAnswers, chartPoints, charts } from './chart-books.ts';
import {
  type ChartValue,
  chartName,
  rangesOfDuplicates,
  valuesOfControls,
  valuesOfProofs,
} from './chart-subjects.ts';
import type { TitrationRecorded } from './titration/bodies.ts';

type RunEntry =
  | RecordedEntry<CupellationRecorded>
  | RecordedEntry<DifferenceRecorded>
  | RecordedEntry<TitrationRecorded>;

/** What a point says of the run that gave it. */
export interface ChartedRun {
  readonly assayRun: string;
  readonly melt: string;
  readonly pieceStandard: string;
  readonly instrument: string;
  readonly state: 'valid' | 'void';
  readonly voidReason: string | null;
}

function newChart(value: ChartValue, pieceStandard: string): ChartRow {
  const { of } = value;
  return {
    chart: chartName(value.subject, of?.key ?? pieceStandard),
    subject: value.subject,
    pieceStandard: of ? '' : pieceStandard,
    ...(of ? { of: { ...of } } : {}),
    points: 0,
    newestInstant: '',
    judgedFrom: 1,
    answeredThrough: 0,
  };
}

async function addPoint(
  books: BookWriter,
  entry: RecordedEntry,
  body: ChartedRun,
  value: ChartValue,
): Promise<void> {
  const empty = newChart(value, body.pieceStandard);
  const chart = (await books.get(charts, empty.chart)) ?? empty;
  const number = chart.points + 1;
  await books.put(charts, { ...chart, points: number, newestInstant: entry.instant });
  await books.put(chartPoints, {
    chart: chart.chart,
    number,
    value: value.value,
    assayRun: body.assayRun,
    melt: body.melt,
    instrument: body.instrument,
    labels: value.labels,
    entry: entry.number,
    instant: entry.instant,
    author: entry.author,
    state: body.state === 'void' ? 'void' : 'counts',
    why: body.voidReason,
  });
}

/** Adds values of a run to their charts. */
export async function chartValues(
  books: BookWriter,
  entry: RecordedEntry,
  body: ChartedRun,
  values: readonly ChartValue[],
): Promise<void> {
  for (const value of values) {
    if (Number.isFinite(value.value)) await addPoint(books, entry, body, value);
  }
}

/** Adds what a run gives to the control charts. */
export async function chartRun(books: BookWriter, entry: RunEntry): Promise<void> {
  const { body } = entry;
  const values = [
    ...('cupellation' in body ? valuesOfProofs(body) : []),
    ...rangesOfDuplicates(body.determinations),
    ...valuesOfControls(body),
  ];
  await chartValues(books, entry, body, values);
}

/** A range is left out once one of its two determinations is discarded. */
export async function chartDiscard(
  books: BookWriter,
  entry: RecordedEntry<DeterminationDiscarded>,
): Promise<void> {
  const { assayRun, label, reason } = entry.body;
  const points = await books.select(chartPoints, { by: 'byRun', prefix: [assayRun] });
  for (const point of points) {
    // A control has a label of its own: only a range is made of determinations.
    if (!point.chart.startsWith('duplicate-range.') || !point.labels.includes(label)) continue;
    const why = `determination ${label} was discarded: ${reason}`;
    await books.put(chartPoints, { ...point, state: 'left out', why });
  }
}

/** Takes the signals of a chart as answered, with what the finding means for its limits. */
export async function applyChartAnswer(
  books: BookWriter,
  entry: RecordedEntry<ChartSignalAnswered>,
): Promise<void> {
  const { body } = entry;
  const { number, instant, author } = entry;
  await books.put(chartAnswers, { ...body, entry: number, instant, author });
  const chart = await books.get(charts, body.chart);
  if (!chart) return;
  const judgedFrom = body.judgedFrom ?? chart.judgedFrom;
  await books.put(charts, { ...chart, judgedFrom, answeredThrough: body.answeredThrough });
  for (const left of body.leftOut) {
    const point = await books.get(chartPoints, body.chart, left);
    if (point) await books.put(chartPoints, { ...point, state: 'left out', why: body.reason });
  }
}
