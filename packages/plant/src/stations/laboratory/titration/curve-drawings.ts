import type { CurvePoint } from './read-curve.ts';

/** A drawing of a curve, in the shape in which charts are drawn. */
interface CurveDrawing {
  readonly title: string;
  readonly xTitle: string;
  readonly yTitle: string;
  readonly series: readonly {
    readonly label: string;
    readonly kind: 'line' | 'points';
    readonly x: readonly number[];
    readonly y: readonly number[];
  }[];
  readonly marks: readonly { readonly x: number; readonly label: string }[];
}

/** Values at places: of a curve, or of one of its derivatives. */
interface Trace {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** The slopes between neighbours, each in the middle of its step. */
export function derivativeOf({ x, y }: Trace): Trace {
  const steps = x.slice(1);
  return {
    x: steps.map((place, index) => (place + (x[index] ?? 0)) / 2),
    y: steps.map(
      (place, index) => ((y[index + 1] ?? 0) - (y[index] ?? 0)) / (place - (x[index] ?? 0)),
    ),
  };
}

/** The points that are drawn beside an end point: so many steps on either side of it. */
const stepsShown = 12;

/** The part of a derivative about a place, so that its jump is seen and not only its height. */
function about({ x, y }: Trace, place: number): Trace {
  const nearest = x.reduce(
    (best, one, index) => (Math.abs(one - place) < Math.abs((x[best] ?? 0) - place) ? index : best),
    0,
  );
  const from = Math.max(0, nearest - stepsShown);
  const until = nearest + stepsShown + 1;
  return { x: x.slice(from, until), y: y.slice(from, until) };
}

const xTitle = 'Titrant, mL';

/** A curve, its slope and the change of its slope, each with the end point found and the one taken. */
export function curveDrawings(
  label: string,
  curve: readonly CurvePoint[],
  points: { readonly found: number | undefined; readonly taken: number | undefined },
): readonly CurveDrawing[] {
  const trace = {
    x: curve.map((point) => point.volumeMillilitres),
    y: curve.map((point) => point.potentialMillivolts),
  };
  const { found, taken } = points;
  const marks = [
    ...(found === undefined ? [] : [{ x: found, label: 'end point found' }]),
    ...(taken === undefined ? [] : [{ x: taken, label: 'point taken' }]),
  ];
  const place = taken ?? found ?? 0;
  const slope = derivativeOf(trace);
  const change = derivativeOf(slope);
  return [
    {
      title: `Curve of ${label}`,
      xTitle,
      yTitle: 'Potential, mV',
      series: [{ label: 'potential', kind: 'points', ...trace }],
      marks,
    },
    {
      title: `First derivative, ${label}`,
      xTitle,
      yTitle: 'Slope, mV/mL',
      series: [{ label: 'slope', kind: 'line', ...about(slope, place) }],
      marks,
    },
    {
      title: `Second derivative, ${label}`,
      xTitle,
      yTitle: 'Change of slope, mV/mL²',
      series: [{ label: 'change of slope', kind: 'line', ...about(change, place) }],
      marks,
    },
  ];
}
