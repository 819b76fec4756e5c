import { extent } from 'd3-array';
import { type ScaleLinear, scaleLinear } from 'd3-scale';

/** One series of points; all arrays have the same length. */
export interface ChartSeries {
  readonly label: string;
  readonly kind: 'line' | 'steps' | 'points' | 'bars';
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Ends of an interval about each y. */
  readonly lower?: readonly number[] | undefined;
  readonly upper?: readonly number[] | undefined;
  /** Drawn as a warning. */
  readonly standsOut?: boolean | undefined;
}

/** A chart as data, in the shape in which calculations give it. */
export interface ChartFigures {
  readonly title: string;
  readonly xTitle: string;
  readonly yTitle: string;
  readonly series: readonly ChartSeries[];
  /** Vertical marks, as limits are. */
  readonly marks?: readonly { readonly x: number; readonly label: string }[] | undefined;
  /** Horizontal marks: a centre line, control limits. */
  readonly levels?: readonly { readonly y: number; readonly label: string }[] | undefined;
  /** Words in place of numbers under the x axis. */
  readonly xNames?: readonly { readonly x: number; readonly name: string }[] | undefined;
}

/** Further room above the drawing for the names of marks. */
export const markRoom = 28;

/** Size and margins of the drawing, in units of its own. */
export const frame = {
  width: 720,
  height: 320,
  left: 64,
  right: 128,
  top: 28,
  bottom: 48,
} as const;

/** The scales of a chart, with the points in them that can be drawn. */
export interface ChartScales {
  readonly x: ScaleLinear<number, number>;
  readonly y: ScaleLinear<number, number>;
}

const isDrawn = (value: number) => Number.isFinite(value);

/** The scales that hold every series and mark. Bars stand on zero; so does what is nowhere negative. */
export function chartScales(figures: ChartFigures): ChartScales {
  const all = figures.series;
  const [left = 0, right = 1] = extent(
    [...all.flatMap((series) => series.x), ...(figures.marks ?? []).map((mark) => mark.x)].filter(
      isDrawn,
    ),
  ) as [number?, number?];
  const heights = all.flatMap(({ y, lower = [], upper = [] }) => [...y, ...lower, ...upper]);
  const levels = (figures.levels ?? []).map((level) => level.y);
  const [low = 0, high = 1] = extent([...heights, ...levels].filter(isDrawn)) as [number?, number?];
  const hasBars = all.some((series) => series.kind === 'bars');
  const halfBar = hasBars ? barWidth(all) / 2 : 0;
  const isNearZero = low >= 0 && low < high * 0.5;
  const bottom = hasBars || isNearZero ? Math.min(0, low) : low;
  const pad = left === right ? Math.abs(left) * 0.05 || 1 : 0;
  return {
    x: scaleLinear(
      [left - halfBar - pad, right + halfBar + pad],
      [frame.left, frame.width - frame.right],
    ),
    y: scaleLinear(
      [bottom, high === bottom ? bottom + 1 : high],
      [frame.height - frame.bottom, frame.top],
    ).nice(5),
  };
}

/** The width of one bar on the x axis: the least distance between neighbours. */
export function barWidth(all: readonly ChartSeries[]): number {
  const x = [...new Set(all.filter(({ kind }) => kind === 'bars').flatMap((series) => series.x))];
  x.sort((a, b) => a - b);
  const gaps = x.slice(1).map((value, index) => value - (x[index] ?? value));
  return gaps.length > 0 ? Math.min(...gaps) : 1;
}

/** So many bars at the most have each its own number below. */
const mostNumberedBars = 16;

/** Where numbers stand on the x axis: under the bars where these stand on few whole numbers. */
export function xTicks(
  all: readonly ChartSeries[],
  x: ScaleLinear<number, number>,
): readonly number[] {
  const bars = [
    ...new Set(all.filter(({ kind }) => kind === 'bars').flatMap((series) => series.x)),
  ];
  const areCounted =
    bars.length > 0 && bars.length <= mostNumberedBars && bars.every(Number.isInteger);
  return areCounted ? bars : x.ticks(6);
}

/** The names that stand on either margin line: side by side where they fit, else on two lines. */
export function nameLines(
  names: readonly { readonly x: number; readonly name: string }[],
  x: ScaleLinear<number, number>,
): readonly { readonly place: number; readonly name: string; readonly line: 0 | 1 }[] {
  const letters = 6.2;
  const places = names.map(({ x: at, name }) => ({ place: x(at), name }));
  const isTight = places.some(({ place, name }, index) => {
    const next = places[index + 1];
    return (
      next !== undefined && (name.length + next.name.length) * letters * 0.5 > next.place - place
    );
  });
  return places.map((item, index) => ({ ...item, line: isTight && index % 2 === 1 ? 1 : 0 }));
}

/** Moves labels apart so that none stands on another; keeps their order. */
export function spreadLabels(places: readonly number[], least: number): readonly number[] {
  const order = places.map((place, index) => ({ place, index })).sort((a, b) => a.place - b.place);
  let above = Number.NEGATIVE_INFINITY;
  for (const item of order) {
    item.place = Math.max(item.place, above + least);
    above = item.place;
  }
  const spread = [...places];
  for (const { place, index } of order) spread[index] = place;
  return spread;
}
