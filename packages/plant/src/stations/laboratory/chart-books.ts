import { defineBook } from '../../journal/books.ts';
import type { ChartSignalAnswered } from './bodies.ts';
import type { Recorded } from './books.ts';
import type { ChartedThing, ChartSubject } from './chart-subjects.ts';

export type ChartRow = {
  readonly chart: string;
  readonly subject: ChartSubject;
  /** Empty where the chart is of a thing of its own. */
  readonly pieceStandard: string;
  /** The reference material, blank or titrant that it is of. */
  readonly of?: Readonly<Record<keyof ChartedThing, string>>;
  /** Points that the chart has had, which is the number of the newest one. */
  readonly points: number;
  readonly newestInstant: string;
  /** Number of the point from which the present limits and judgements begin. */
  readonly judgedFrom: number;
  /** Number of the point up to which its signals were answered; 0 before the first answer. */
  readonly answeredThrough: number;
};

/** The control charts that there are. */
export const charts = defineBook<ChartRow>({
  name: 'laboratory_chart',
  meaning: 'A control chart: what it watches, how far it has come and how far it was answered.',
  key: ['chart'],
});

export type ChartPointRow = {
  readonly chart: string;
  readonly number: number;
  readonly value: number;
  readonly assayRun: string;
  /** Empty where no melt was on trial. */
  readonly melt: string;
  readonly instrument: string;
  readonly labels: readonly string[];
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  /** A void point is judged but sets no limits; one that is left out is only shown. */
  readonly state: 'counts' | 'void' | 'left out';
  /** Why it does not count; null where it does. */
  readonly why: string | null;
};

/** The points of the control charts. */
export const chartPoints = defineBook<ChartPointRow>({
  name: 'laboratory_chart_point',
  meaning: 'A point of a control chart, and the run that gave it.',
  key: ['chart', 'number'],
  indexes: { byRun: ['assayRun', 'chart', 'number'] },
});

export type ChartAnswerRow = Recorded & ChartSignalAnswered;

/** What was found about the signals of a chart. */
export const chartAnswers = defineBook<ChartAnswerRow>({
  name: 'laboratory_chart_answer',
  meaning: 'What was found when a signal of a control chart was looked into.',
  key: ['chart', 'entry'],
});

export const chartBooks = [charts, chartPoints, chartAnswers] as const;
