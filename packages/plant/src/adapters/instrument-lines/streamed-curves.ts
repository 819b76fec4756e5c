import type { PotentialUnit } from '../../ports/instrument-dialect.ts';
import type { StreamedCurve } from '../../ports/instrument-line.ts';

/** So many of the last curves are kept: as many as a usual run has vessels. */
const keptCurves = 12;
/** No curve that can be recorded has more points. */
const mostPoints = 2000;
/** After so long a silence the next point belongs to another vessel. */
const longestPauseMilliseconds = 15 * 60_000;

interface Point {
  readonly volume: string;
  readonly potential: string;
}

/**
 * Puts the points that a titrator sends together to curves. A volume below the last one, or a long
 * silence, begins the next curve; a point at the same volume is the same one, read again.
 */
export class StreamedCurves {
  #curves: readonly StreamedCurve[] = [];

  /** The newest first. */
  get curves(): readonly StreamedCurve[] {
    return this.#curves;
  }

  take(
    point: Point,
    at: { readonly instant: string; readonly potentialUnit: PotentialUnit },
  ): void {
    const [newest, ...older] = this.#curves;
    if (!newest || isNextCurve(newest, point, at.instant)) {
      const begun = { begun: at.instant, lastAt: at.instant, points: [point], gap: null };
      const curve = { ...begun, potentialUnit: at.potentialUnit };
      this.#curves = [curve, ...this.#curves].slice(0, keptCurves);
      return;
    }
    const last = newest.points.at(-1);
    const before =
      Number(last?.volume) === Number(point.volume) ? newest.points.slice(0, -1) : newest.points;
    if (before.length >= mostPoints) return;
    this.#curves = [{ ...newest, lastAt: at.instant, points: [...before, point] }, ...older];
  }

  /** From now on a point of the curve that runs may be missing. */
  miss(why: string): void {
    const [newest, ...older] = this.#curves;
    if (newest) this.#curves = [{ ...newest, gap: newest.gap ?? why }, ...older];
  }
}

function isNextCurve(curve: StreamedCurve, point: Point, instant: string): boolean {
  const last = curve.points.at(-1);
  const pause = Date.parse(instant) - Date.parse(curve.lastAt);
  return Number(point.volume) < Number(last?.volume) || pause > longestPauseMilliseconds;
}
