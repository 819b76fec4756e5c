import { area, line } from 'd3-shape';
import {
  barWidth,
  type ChartFigures,
  type ChartScales,
  type ChartSeries,
  chartScales,
  frame,
  markRoom,
  spreadLabels,
  xTicks,
} from './chart-shape.ts';
import { printNumber } from './number-text.ts';
import { Table } from './table.tsx';

/** A chart of ink lines with direct labels, limits as the limit rule's ticks, and its table behind. */
export function Chart({ figures }: { readonly figures: ChartFigures }) {
  const scales = chartScales(figures);
  const room = figures.marks?.length ? markRoom : 0;
  return (
    <figure className="chart">
      <figcaption>{figures.title}</figcaption>
      <svg
        viewBox={`0 ${-room} ${frame.width} ${frame.height + room}`}
        role="img"
        aria-label={figures.title}
      >
        <Axes scales={scales} figures={figures} room={room} />
        <Marks scales={scales} marks={figures.marks ?? []} />
        {figures.series.map((series, index) => (
          <Series key={series.label} {...{ series, scales, index }} all={figures.series} />
        ))}
        <Labels scales={scales} all={figures.series} />
      </svg>
      <ChartTable figures={figures} />
    </figure>
  );
}

function Axes(props: {
  readonly scales: ChartScales;
  readonly figures: ChartFigures;
  readonly room: number;
}) {
  const { scales, figures } = props;
  const floor = frame.height - frame.bottom;
  const right = frame.width - frame.right;
  return (
    <g className="chart-axes">
      {scales.y.ticks(5).map((tick) => (
        <g key={tick} transform={`translate(0 ${scales.y(tick)})`}>
          <line x1={frame.left} x2={right} className="chart-hairline" />
          <text x={frame.left - 8} dy="0.32em" textAnchor="end">
            {printNumber(tick)}
          </text>
        </g>
      ))}
      {xTicks(figures.series, scales.x).map((tick) => (
        <g key={tick} transform={`translate(${scales.x(tick)} ${floor})`}>
          <line y2="5" className="chart-tick" />
          <text y="20" textAnchor="middle">
            {printNumber(tick)}
          </text>
        </g>
      ))}
      <text x={right} y={frame.height - 6} textAnchor="end" className="chart-title">
        {figures.xTitle}
      </text>
      <text x="4" y={13 - props.room} className="chart-title">
        {figures.yTitle}
      </text>
    </g>
  );
}

function Marks(props: {
  readonly scales: ChartScales;
  readonly marks: NonNullable<ChartFigures['marks']>;
}) {
  return props.marks.map((mark, index) => (
    <g key={`${mark.x} ${mark.label}`} transform={`translate(${props.scales.x(mark.x)} 0)`}>
      <line
        y1={frame.top - 20 - (index % 2) * 16}
        y2={frame.height - frame.bottom}
        className="chart-limit"
      />
      <text x="5" y={frame.top - 12 - (index % 2) * 16} className="chart-mark">
        {mark.label}
      </text>
    </g>
  ));
}

function Series(props: {
  readonly series: ChartSeries;
  readonly scales: ChartScales;
  readonly index: number;
  readonly all: readonly ChartSeries[];
}) {
  const { series, scales, index } = props;
  const points = series.x.map((x, at) => [x, series.y[at] ?? Number.NaN] as const);
  const drawn = points.filter(([x, y]) => Number.isFinite(x) && Number.isFinite(y));
  const tone = `chart-series chart-series-${index % 4}`;
  if (series.kind === 'line') {
    const path = line<readonly [number, number]>(
      ([x]) => scales.x(x),
      ([, y]) => scales.y(y),
    );
    return <path className={`${tone} chart-line`} d={path(drawn) ?? ''} />;
  }
  if (series.kind === 'bars') return <Bars drawn={drawn} {...props} tone={tone} />;
  return (
    <g className={`${tone} chart-points`}>
      {drawn.map(([x, y]) => (
        <circle key={`${x} ${y}`} cx={scales.x(x)} cy={scales.y(y)} r="3">
          <title>{`${printNumber(x)}: ${printNumber(y)}`}</title>
        </circle>
      ))}
    </g>
  );
}

function Bars(props: {
  readonly drawn: readonly (readonly [number, number])[];
  readonly scales: ChartScales;
  readonly all: readonly ChartSeries[];
  readonly tone: string;
}) {
  const { drawn, scales } = props;
  const half = (barWidth(props.all) / 2) * 0.94;
  const shape = area<readonly [number, number]>()
    .x(([x]) => scales.x(x))
    .y0(scales.y(0))
    .y1(([, y]) => scales.y(y));
  return (
    <g className={`${props.tone} chart-bars`}>
      {drawn.map(([x, y]) => (
        <path
          key={x}
          d={
            shape([
              [x - half, y],
              [x + half, y],
            ]) ?? ''
          }
        >
          <title>{`${printNumber(x)}: ${printNumber(y)}`}</title>
        </path>
      ))}
    </g>
  );
}

function Labels({
  scales,
  all,
}: {
  readonly scales: ChartScales;
  readonly all: readonly ChartSeries[];
}) {
  const areSingleBars =
    all.length > 1 && all.every(({ kind, x }) => kind === 'bars' && x.length === 1);
  if (areSingleBars) {
    return all.map(({ label, x: [x = 0], y: [y = 0] }) => (
      <text
        key={label}
        x={scales.x(x)}
        y={scales.y(y) - 6}
        textAnchor="middle"
        className="chart-label"
      >
        {label}
      </text>
    ));
  }
  const wanted = all.map((series) => scales.y(series.y.findLast(Number.isFinite) ?? 0));
  const places = spreadLabels(wanted, 16);
  return all.map((series, index) => (
    <text
      key={series.label}
      x={frame.width - frame.right + 8}
      y={places[index]}
      dy="0.32em"
      className="chart-label"
    >
      {wrapLabel(series.label).map((part, at) => (
        <tspan key={part} x={frame.width - frame.right + 8} dy={at === 0 ? '0.32em' : '1.15em'}>
          {part}
        </tspan>
      ))}
    </text>
  ));
}

/** Breaks a label so that it fits the margin beside the chart. */
function wrapLabel(label: string): readonly string[] {
  const lines: string[] = [];
  for (const word of label.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length < 17)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

interface Point {
  readonly key: string;
  readonly label: string;
  readonly x: number;
  readonly y: number | undefined;
}

function ChartTable({ figures }: { readonly figures: ChartFigures }) {
  const rows: Point[] = figures.series.flatMap(({ label, x, y }) =>
    x.map((value, at) => ({ key: `${label} ${at}`, label, x: value, y: y[at] })),
  );
  return (
    <details className="chart-table">
      <summary>The numbers behind</summary>
      <Table
        caption={`The numbers behind ${figures.title}`}
        rows={rows}
        keyOf={(row) => row.key}
        columns={[
          { key: 'series', title: 'Series', value: (row) => row.label },
          { key: 'x', title: figures.xTitle, value: (row) => row.x, isNumber: true },
          { key: 'y', title: figures.yTitle, value: (row) => row.y, isNumber: true },
        ]}
      />
    </details>
  );
}
