import type { StreamedCurve } from '../../../../ports/instrument-line.ts';

/** Which curve of a titrator is collected. */
export interface Stream {
  /** When it began; nothing while it is waited for. */
  readonly begun: string | null;
  /** When the newest curve before it began; empty where there was none. */
  readonly after: string;
}

/** The curve that is collected: the chosen one, or the first that began after all that were there. */
export function curveOfStream(
  curves: readonly StreamedCurve[],
  { begun, after }: Stream,
): StreamedCurve | undefined {
  return begun === null
    ? curves.findLast((curve) => curve.begun > after)
    : curves.find((curve) => curve.begun === begun);
}

/** The points as a table, digit by digit as they were sent, with the units that the line has. */
export function textOfStream({ points, potentialUnit }: StreamedCurve): string {
  const rows = points.map(({ volume, potential }) => `${volume};${potential}`);
  return [`Volume (mL);Potential (${potentialUnit})`, ...rows].join('\n');
}
