import type { Chart, ChartSeries } from '@cupel/calculation';
import type { ChartPointRow } from './chart-books.ts';
import {
  type ChartedThing,
  type ChartSubject,
  meaningOfSubject,
  namesOfChart,
} from './chart-subjects.ts';

/** What the drawings of a chart are made with, beside what the calculations drew. */
export interface ChartDrawingFacts {
  readonly subject: ChartSubject;
  readonly of?: ChartedThing;
  /** Every point that is shown, those that were left out too. */
  readonly newest: readonly ChartPointRow[];
  /** The points that the calculations were given, in that order. */
  readonly judged: readonly ChartPointRow[];
  readonly limits: {
    readonly points: number;
    readonly through: number;
    readonly isProvisional: boolean;
  };
}

/** A place on the axis of the calculation, which counts what it was given, on that of the chart. */
function placeOf(judged: readonly ChartPointRow[], x: number): number {
  return judged[x - 1]?.number ?? x;
}

const onChart = (series: ChartSeries, judged: readonly ChartPointRow[]): ChartSeries => ({
  ...series,
  x: series.x.map((x) => placeOf(judged, x)),
});

function leftOutSeries(newest: readonly ChartPointRow[]): readonly ChartSeries[] {
  const points = newest.filter((point) => point.state === 'left out');
  if (points.length === 0) return [];
  return [
    {
      label: 'left out',
      kind: 'points',
      x: points.map((point) => point.number),
      y: points.map((point) => point.value),
    },
  ];
}

/** Where the limits end to be set and begin to judge, if that is on the drawing. */
function limitMarks({ newest, limits }: ChartDrawingFacts): Pick<Chart, 'marks'> {
  const [first] = newest;
  const last = newest.at(-1);
  const isShown =
    first !== undefined &&
    last !== undefined &&
    limits.through >= first.number &&
    limits.through < last.number;
  if (limits.isProvisional || !isShown) return {};
  return { marks: [{ x: limits.through + 0.5, label: 'limits set' }] };
}

/** The levels of a chart; of a range those below 0 are none. */
function levelsOf(chart: Chart, isRange: boolean): Pick<Chart, 'levels'> {
  const levels = (chart.levels ?? []).filter((level) => !isRange || level.y >= 0);
  return levels.length > 0 ? { levels } : {};
}

/** Words for the names of a calculation's drawings that an assayer would use of runs. */
const titles: Readonly<Record<string, string>> = {
  'Single readings': 'runs one by one',
  'Moving ranges': 'from one run to the next',
  'Weighted averages': 'weighted average',
};

/** The drawings of the calculations, on the axis of the chart and in its words. */
export function drawingsOf(drawn: readonly Chart[], facts: ChartDrawingFacts): readonly Chart[] {
  const { isRange } = meaningOfSubject[facts.subject];
  const { title, quantity, unit } = namesOfChart(facts);
  const suffix = facts.limits.isProvisional ? ' (limits provisional)' : '';
  return drawn.map((chart, index) => ({
    ...chart,
    title: `${title}, ${titles[chart.title] ?? chart.title}${suffix}`,
    xTitle: 'Point',
    yTitle: chart.title === 'Moving ranges' ? `Difference, ${unit}` : quantity,
    series: [
      ...chart.series.map((series) => onChart(series, facts.judged)),
      ...(index === 0 ? leftOutSeries(facts.newest) : []),
    ],
    ...levelsOf(chart, isRange),
    ...limitMarks(facts),
  }));
}
