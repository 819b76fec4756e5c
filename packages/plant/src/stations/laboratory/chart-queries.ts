import type { BookReader } from '../../journal/books.ts';
import {
  type ChartAnswerRow,
  type ChartPointRow,
  type ChartRow,
  chartAnswers,
  chartPoints,
  charts,
} from './chart-books.ts';
import {
  type ChartReading,
  type ChartSignal,
  phaseOneOf,
  phaseOnePoints,
  readChart,
} from './chart-reading.ts';

/**
 * So many of the newest points are judged and drawn, however many there have been. The longest run
 * rule looks back over eight points and the weighted average forgets a point after some forty.
 */
const newestPoints = 120;

/** Points read for the limits: room for void runs and points left out among them. */
const readForLimits = 4 * phaseOnePoints;

/** A chart as it stands, read through the calculations. */
export interface ChartState {
  readonly row: ChartRow;
  /** The newest points, oldest first. */
  readonly points: readonly ChartPointRow[];
  readonly reading: ChartReading;
  /** The signals that nobody has answered. */
  readonly open: readonly ChartSignal[];
}

/** A signal is open while one of its points is newer than the last answer. */
const isOpen = (signal: ChartSignal, row: ChartRow): boolean =>
  signal.points.some((point) => point > row.answeredThrough);

/**
 * The points that set the limits of a chart. Mostly its first ones are enough; where many of them
 * are void or left out, more are read.
 */
async function firstPoints(
  books: BookReader,
  of: { readonly prefix: readonly string[]; readonly from: number },
): Promise<readonly ChartPointRow[]> {
  const few = await books.select(chartPoints, { ...of, limit: phaseOnePoints });
  const isEnough = few.length < phaseOnePoints || few.every(({ state }) => state === 'counts');
  return isEnough ? few : books.select(chartPoints, { ...of, limit: readForLimits });
}

async function stateOf(books: BookReader, row: ChartRow, isDrawn: boolean): Promise<ChartState> {
  const of = { prefix: [row.chart], from: row.judgedFrom };
  const first = await firstPoints(books, of);
  const newest = await books.select(chartPoints, { ...of, descending: true, limit: newestPoints });
  const points = [...newest].reverse();
  const reading = readChart({
    subject: row.subject,
    ...(row.of ? { of: row.of } : {}),
    phaseOne: phaseOneOf(first),
    newest: points,
    isDrawn,
  });
  const signals = reading.state === 'judged' ? reading.signals : [];
  return { row, points, reading, open: signals.filter((signal) => isOpen(signal, row)) };
}

/** A chart by its name; nothing before its first point. */
export async function chartOf(books: BookReader, chart: string): Promise<ChartState | undefined> {
  const row = await books.get(charts, chart);
  return row && stateOf(books, row, true);
}

/** Every chart of the laboratory, judged and not drawn. */
export async function chartsOf(books: BookReader): Promise<readonly ChartState[]> {
  const rows = await books.select(charts);
  return Promise.all(rows.map((row) => stateOf(books, row, false)));
}

/** What was found about the signals of a chart, oldest first. */
export function chartAnswersOf(
  books: BookReader,
  chart: string,
): Promise<readonly ChartAnswerRow[]> {
  return books.select(chartAnswers, { prefix: [chart] });
}
