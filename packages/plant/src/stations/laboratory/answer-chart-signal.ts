import { z } from 'zod';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { reasonSchema } from '../registers/index.ts';
import { type ChartFinding, chartFindings } from './bodies.ts';
import { type ChartState, chartOf } from './chart-queries.ts';
import type { ChartSignal } from './chart-reading.ts';
import { ChartSignalAnswered } from './entries.ts';
import { laboratoryRefusals } from './refusals.ts';

const chartForm = 'the name of a chart, up to 80 characters';
const throughForm = 'the number of a point, 1 or more';

export const chartNameSchema = z
  .string(chartForm)
  .min(1, chartForm)
  .max(80, chartForm)
  .meta({ title: 'Chart', description: 'As the list of charts names it.' });

const answerInput = z.strictObject({
  chart: chartNameSchema,
  through: z
    .int(throughForm)
    .min(1, throughForm)
    .meta({ title: 'Newest point looked at', description: 'Later points are not answered.' }),
  finding: z.enum(chartFindings, `one of ${chartFindings.join(', ')}`).meta({
    title: 'Finding',
    description:
      'Cause removed leaves the points out of the limits; new level sets the limits anew from them.',
  }),
  reason: reasonSchema.meta({ title: 'Reason', description: 'What was looked at and found.' }),
});

type AnswerInput = z.infer<typeof answerInput>;

function chartUnknown(chart: string): Refusal {
  return refuse(laboratoryRefusals, 'ChartUnknown', {
    message: `No run has given a point to a chart ${chart}.`,
    field: 'chart',
    figures: { chart },
  });
}

function pointNotReached(input: AnswerInput, { row }: ChartState): Refusal {
  return refuse(laboratoryRefusals, 'ChartPointUnknown', {
    message: `Chart ${row.chart} has ${row.points} points; point ${input.through} is none of them.`,
    field: 'through',
    figures: { chart: row.chart, points: row.points, through: input.through },
  });
}

function nothingSignals(input: AnswerInput, { row }: ChartState): Refusal {
  return refuse(laboratoryRefusals, 'NoOpenSignal', {
    message: `Up to point ${input.through} chart ${row.chart} has no signal that waits for an answer.`,
    field: 'chart',
    figures: { chart: row.chart, through: input.through, answeredThrough: row.answeredThrough },
  });
}

/** The part of each open signal that was looked at. */
function lookedAt(open: readonly ChartSignal[], through: number, answered: number) {
  return open
    .map((signal) => ({ ...signal, points: signal.points.filter((point) => point <= through) }))
    .filter((signal) => signal.points.some((point) => point > answered));
}

/** Where the limits begin anew: at the first point of the first signal. */
const judgedFromOf = (finding: ChartFinding, points: readonly number[]): number | null =>
  finding === 'new level' ? Math.min(...points) : null;

function decideAnswer(input: AnswerInput, state: ChartState | undefined): Decision {
  if (!state) return { refusals: [chartUnknown(input.chart)] };
  const { row } = state;
  if (input.through > row.points) return { refusals: [pointNotReached(input, state)] };
  const signals = lookedAt(state.open, input.through, row.answeredThrough);
  if (signals.length === 0) return { refusals: [nothingSignals(input, state)] };
  const named = new Set(signals.flatMap((signal) => signal.points));
  const points = state.points.filter((point) => named.has(point.number));
  const numbers = points.map((point) => point.number);
  const body = {
    chart: row.chart,
    finding: input.finding,
    reason: input.reason,
    signals: signals.map((signal) => ({ ...signal, points: [...signal.points] })),
    assayRuns: [...new Set(points.map((point) => point.assayRun))],
    answeredThrough: input.through,
    leftOut: input.finding === 'cause removed' ? numbers : [],
    judgedFrom: judgedFromOf(input.finding, numbers),
  };
  return {
    entries: [draft(ChartSignalAnswered, body)],
    answer: { chart: row.chart, finding: input.finding, points: numbers },
  };
}

/** Says what was found when the signals of a control chart were looked into. */
export const answerChartSignal = defineCommand({
  command: 'answer-chart-signal',
  station: 'laboratory',
  title: 'Answer signal',
  input: answerInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: (books, input) => chartOf(books, input.chart),
  decide: decideAnswer,
});
