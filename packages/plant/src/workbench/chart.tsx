import { area, curveLinear, curveStepAfter, line } from 'd3-shape';
import {
  barWidth,
  type ChartFigures,
  type ChartScales,
  type ChartSeries,
  chartScales,
  frame,
  markRoom,
  nameLines,
  spreadLabels,
  xTicks,
} from './chart-shape.ts';
import { printNumber } from './number-text.ts';
import { type Column, Table } from './table.tsx';

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
        <Levels scales={scales} levels={figures.levels ?? []} />
        <Marks scales={scales} marks={figures.marks ?? []} />
        {figures.series.map((series, index) => (
          <Interval key={series.label} {...{ series, scales, index }} />
        ))}
        {figures.series.map((series, index) => (
          <Series key={series.label} {...{ series, scales, index }} all={figures.series} />
        ))}
        <Labels scales={scales} figures={figures} />
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
      {figures.xNames ? <Names scales={scales} names={figures.xNames} /> : null}
      {(figures.xNames ? [] : xTicks(figures.series, scales.x)).map((tick) => (
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

function Names(props: {
  readonly scales: ChartScales;
  readonly names: NonNullable<ChartFigures['xNames']>;
}) {
  const floor = frame.height - frame.bottom;
  return nameLines(props.names, props.scales.x).map(({ place, name, line: at }) => (
    <text key={`${place} ${name}`} x={place} y={floor + 16 + at * 14} textAnchor="middle">
      {name}
    </text>
  ));
}

function Levels(props: {
  readonly scales: ChartScales;
  readonly levels: NonNullable<ChartFigures['levels']>;
}) {
  return props.levels.map((level) => (
    <line
      key={`${level.y} ${level.label}`}
      x1={frame.left}
      x2={frame.width - frame.right}
      y1={props.scales.y(level.y)}
      y2={props.scales.y(level.y)}
      className="chart-level"
    />
  ));
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

/** What is drawn of an interval: its place, its lower and its upper end. */
type Span = readonly [x: number, lower: number, upper: number];

function Interval(props: {
  readonly series: ChartSeries;
  readonly scales: ChartScales;
  readonly index: number;
}) {
  const { series, scales, index } = props;
  const spans = series.x
    .map((x, at): Span => [x, series.lower?.[at] ?? Number.NaN, series.upper?.[at] ?? Number.NaN])
    .filter((span) => span.every(Number.isFinite));
  if (spans.length === 0) return null;
  const tone = `chart-series-${index % 4}`;
  if (series.kind === 'line' || series.kind === 'steps') {
    const band = area<Span>()
      .curve(series.kind === 'steps' ? curveStepAfter : curveLinear)
      .x(([x]) => scales.x(x))
      .y0(([, lower]) => scales.y(lower))
      .y1(([, , upper]) => scales.y(upper));
    return <path className={`${tone} chart-band`} d={band(spans) ?? ''} />;
  }
  return (
    <g className={`${tone} chart-whiskers`}>
      {spans.map(([x, lower, upper], at) => (
        <line
          // biome-ignore lint/suspicious/noArrayIndexKey: a drawing never changes
          key={at}
          x1={scales.x(x)}
          x2={scales.x(x)}
          y1={scales.y(lower)}
          y2={scales.y(upper)}
        />
      ))}
    </g>
  );
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
  const warning = series.standsOut ? ' chart-stands-out' : '';
  const tone = `chart-series chart-series-${index % 4}${warning}`;
  if (series.kind === 'line' || series.kind === 'steps') {
    const path = line<readonly [number, number]>(
      ([x]) => scales.x(x),
      ([, y]) => scales.y(y),
    ).curve(series.kind === 'steps' ? curveStepAfter : curveLinear);
    return <path className={`${tone} chart-line`} d={path(drawn) ?? ''} />;
  }
  if (series.kind === 'bars') return <Bars drawn={drawn} {...props} tone={tone} />;
  return (
    <g className={`${tone} chart-points`}>
      {drawn.map(([x, y], at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a drawing never changes
        <circle key={at} cx={scales.x(x)} cy={scales.y(y)} r={series.standsOut ? 4.5 : 3}>
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

function Labels(props: { readonly scales: ChartScales; readonly figures: ChartFigures }) {
  const { scales, figures } = props;
  const all = figures.series;
  const areSingleBars =
    all.length > 1 && all.every(({ kind, x }) => kind === 'bars' && x.length === 1);
  const ofSeries = all
    .filter(({ x }) => x.length > 0)
    .map(({ label, y }) => ({ label, at: scales.y(y.findLast(Number.isFinite) ?? 0) }));
  const ofLevels = (figures.levels ?? []).map(({ label, y }) => ({ label, at: scales.y(y) }));
  if (areSingleBars) return <BarLabels scales={scales} all={all} />;
  const isAlone = all.length === 1 && ofLevels.length === 0 && figures.xNames !== undefined;
  return <MarginLabels labels={[...(isAlone ? [] : ofSeries), ...ofLevels]} />;
}

function BarLabels(props: { readonly scales: ChartScales; readonly all: readonly ChartSeries[] }) {
  return props.all.map(({ label, x: [x = 0], y: [y = 0] }) => (
    <text
      key={label}
      x={props.scales.x(x)}
      y={props.scales.y(y) - 6}
      textAnchor="middle"
      className="chart-label"
    >
      {label}
    </text>
  ));
}

const labelLine = 14;

/** The labels in the margin, each beside the end of what it names, none on another. */
function MarginLabels(props: {
  readonly labels: readonly { readonly label: string; readonly at: number }[];
}) {
  const left = frame.width - frame.right + 8;
  const labels = props.labels.map(({ label, at }) => ({ parts: wrapLabel(label), at }));
  const tallest = Math.max(1, ...labels.map(({ parts }) => parts.length));
  const places = spreadLabels(
    labels.map(({ at }) => at),
    labelLine * tallest + 2,
  );
  return labels.map(({ parts }, index) => (
    <text key={parts.join(' ')} x={left} y={places[index]} className="chart-label">
      {parts.map((part, line) => (
        <tspan key={part} x={left} dy={line === 0 ? '0.32em' : labelLine}>
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
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

function ChartTable({ figures }: { readonly figures: ChartFigures }) {
  const rows: Point[] = figures.series.flatMap(({ label, x, y, lower, upper }) =>
    x.map((value, at) => ({
      key: `${label} ${at}`,
      label,
      x: value,
      y: y[at],
      lower: lower?.[at],
      upper: upper?.[at],
    })),
  );
  const names = new Map(figures.xNames?.map(({ x, name }) => [x, name]));
  const hasIntervals = figures.series.some((series) => series.lower !== undefined);
  const intervals: Column<Point>[] = [
    { key: 'lower', title: 'From', value: (row) => row.lower, isNumber: true },
    { key: 'upper', title: 'To', value: (row) => row.upper, isNumber: true },
  ];
  return (
    <details className="chart-table">
      <summary>The numbers behind</summary>
      <Table
        caption={`The numbers behind ${figures.title}`}
        rows={rows}
        keyOf={(row) => row.key}
        columns={[
          { key: 'series', title: 'Series', value: (row) => row.label },
          {
            key: 'x',
            title: figures.xTitle,
            value: (row) => names.get(row.x) ?? row.x,
            isNumber: !figures.xNames,
          },
          { key: 'y', title: figures.yTitle, value: (row) => row.y, isNumber: true },
          ...(hasIntervals ? intervals : []),
        ]}
      />
      {(figures.levels ?? []).map(({ y, label }) => (
        <p key={label} className="faint">{`${label}: ${printNumber(y)}`}</p>
      ))}
    </details>
  );
}
