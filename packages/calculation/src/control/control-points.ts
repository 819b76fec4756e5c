import { z } from 'zod';
import type { Chart, ChartSeries } from '../catalogue/calculation.ts';
import { runRules } from './run-rules.ts';
import type { RunSignal } from './run-signals.ts';

const positions = ['inside', 'above', 'below'] as const;

const plottedNumber = 'a finite number';

/** Values of a chart with memory, in the order of time. */
export const plottedValues = z
  .array(z.number(plottedNumber).meta({ title: 'Value' }), 'a list of values')
  .min(1, 'at least one value')
  .max(100_000, 'at most 100000 values')
  .meta({
    title: 'Plotted values',
    description: 'Single readings or means of equal subgroups, in the order of time',
  });

/** One plotted value with its own limits, as every control chart gives it. */
export const controlPoint = z.strictObject({
  number: z.int().meta({ title: 'Number of the subgroup' }),
  value: z.number().meta({ title: 'Plotted value' }),
  centreLine: z.number().meta({ title: 'Centre line' }),
  lowerLimit: z.number().meta({ title: 'Lower control limit' }),
  upperLimit: z.number().meta({ title: 'Upper control limit' }),
  position: z.enum(positions).meta({ title: 'Against its limits' }),
});

export type ControlPoint = z.infer<typeof controlPoint>;

export const runSignalOutput = z.strictObject({
  rule: z.enum(runRules).meta({ title: 'Rule' }),
  points: z
    .array(z.int().meta({ title: 'Point' }))
    .meta({ title: 'Numbers of the points that form the pattern' }),
  firstSignalPoint: z.int().meta({ title: 'Point at which the rule is fulfilled first' }),
  words: z.string().meta({ title: 'In words' }),
});

/** Switches of the run rules; a chart with none is judged by its limits alone. */
export function rulesField<Names extends readonly [string, ...string[]]>(names: Names) {
  return z
    .array(z.enum(names, `one of ${names.join(', ')}`).meta({ title: 'Rule' }), 'a list of rules')
    .max(names.length, 'each rule once')
    .meta({ title: 'Run rules', description: 'Each rule more finds more, and cries wolf more' });
}

/** A plotted value set beside its limits; a value on a limit is inside. */
export function controlPointOf(point: Omit<ControlPoint, 'position'>): ControlPoint {
  const { value, lowerLimit, upperLimit } = point;
  const position = value > upperLimit ? 'above' : value < lowerLimit ? 'below' : 'inside';
  return { ...point, position };
}

export const numbersOutside = (points: readonly ControlPoint[]): number[] =>
  points.filter((point) => point.position !== 'inside').map((point) => point.number);

function sameLimits(points: readonly ControlPoint[]): boolean {
  const [first] = points;
  return points.every(
    (point) => point.lowerLimit === first?.lowerLimit && point.upperLimit === first.upperLimit,
  );
}

/** Limits that change from point to point, as a band about the centre line. */
function limitBand(points: readonly ControlPoint[]): ChartSeries {
  const last = points[points.length - 1] as ControlPoint;
  const closed = [...points, { ...last, number: last.number + 1 }];
  return {
    label: 'limits',
    kind: 'steps',
    x: closed.map((point) => point.number - 0.5),
    y: closed.map((point) => point.centreLine),
    lower: closed.map((point) => point.lowerLimit),
    upper: closed.map((point) => point.upperLimit),
  };
}

const pointsAt = (label: string, points: readonly ControlPoint[]): ChartSeries => ({
  label,
  kind: 'points',
  x: points.map((point) => point.number),
  y: points.map((point) => point.value),
  standsOut: true,
});

/** A control chart as data: values in their order, limits, what stands out, where the limits were set. */
export function drawControlChart(options: {
  readonly title: string;
  readonly yTitle: string;
  readonly points: readonly ControlPoint[];
  readonly signals: readonly RunSignal[];
  /** Number of points that set the limits; null where they were given. */
  readonly phaseOneCount: number | null;
}): Chart {
  const { title, yTitle, points, signals, phaseOneCount } = options;
  const [first] = points;
  const equal = sameLimits(points);
  const outside = points.filter((point) => point.position !== 'inside');
  const named = new Set(signals.flatMap((signal) => signal.points));
  const patterned = points.filter(
    (point) => point.position === 'inside' && named.has(point.number),
  );
  return {
    kind: 'chart',
    title,
    xTitle: 'Subgroup',
    yTitle,
    series: [
      ...(equal ? [] : [limitBand(points)]),
      {
        label: 'values',
        kind: 'line',
        x: points.map((point) => point.number),
        y: points.map((point) => point.value),
      },
      ...(patterned.length > 0 ? [pointsAt('run rule', patterned)] : []),
      ...(outside.length > 0 ? [pointsAt('outside', outside)] : []),
    ],
    ...(equal && first
      ? {
          levels: [
            { y: first.upperLimit, label: 'upper limit' },
            { y: first.centreLine, label: 'centre line' },
            { y: first.lowerLimit, label: 'lower limit' },
          ],
        }
      : {}),
    ...(phaseOneCount !== null && phaseOneCount < points.length
      ? { marks: [{ x: phaseOneCount + 0.5, label: 'limits set' }] }
      : {}),
  };
}
