import { z } from 'zod';
import { defineQuestion } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { pieceStandardOf } from '../registers/index.ts';
import { chartNameSchema } from './answer-chart-signal.ts';
import { type ChartState, chartAnswersOf, chartOf, chartsOf } from './chart-queries.ts';
import { meaningOfSubject, namesOfChart } from './chart-subjects.ts';

/** A chart in a line of the list. */
function lineOf({ row, points, reading, open }: ChartState): Json {
  return {
    chart: row.chart,
    subject: row.subject,
    title: namesOfChart(row).title,
    unit: namesOfChart(row).unit,
    pieceStandard: row.pieceStandard,
    points: row.points,
    newestInstant: row.newestInstant,
    newestValue: points.at(-1)?.value ?? null,
    limits: reading.state === 'judged' ? { ...reading.limits } : null,
    openSignals: open.map((signal) => signal.rule),
  };
}

const controlCharts = defineQuestion({
  question: 'control-charts',
  station: 'laboratory',
  input: z.strictObject({}),
  answer: async (books) => (await chartsOf(books)).map(lineOf),
});

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

const controlChart = defineQuestion({
  question: 'control-chart',
  station: 'laboratory',
  input: z.strictObject({ chart: chartNameSchema }),
  answer: async (books, { chart }) => {
    const state = await chartOf(books, chart);
    if (!state) return null;
    const { row, points, reading, open } = state;
    const { title, unit } = namesOfChart(row);
    const standard = await pieceStandardOf(books, row.pieceStandard);
    return asJson({
      ...row,
      title,
      unit,
      meaning: meaningOfSubject[row.subject].meaning,
      pieceStandardTitle: standard?.title ?? row.pieceStandard,
      shown: points,
      reading,
      open,
      answers: await chartAnswersOf(books, chart),
    });
  },
});

export const chartQuestions = [controlCharts, controlChart] as const;
