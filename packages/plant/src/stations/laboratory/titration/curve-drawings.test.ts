import { describe, expect, it } from 'vitest';
import { curveDrawings, derivativeOf } from './curve-drawings.ts';
import { curveWithEndPoint } from './titration-trial.ts';

describe('the derivatives of a curve', () => {
  it('are exact for a parabola in uneven steps', () => {
    // The slope of x² between a and b is a + b, twice their middle; its change is 2 throughout.
    const x = [0, 1, 3, 4, 7];
    const slope = derivativeOf({ x, y: x.map((one) => one * one) });
    expect(slope).toEqual({ x: [0.5, 2, 3.5, 5.5], y: [1, 4, 7, 11] });
    for (const change of derivativeOf(slope).y) expect(change).toBeCloseTo(2, 12);
  });

  it('stand about the end point: the slope is greatest and its change passes through nothing', () => {
    const endPoint = 27.8;
    const [, first, second] = curveDrawings('A1', curveWithEndPoint(endPoint), {
      found: endPoint,
      taken: undefined,
    });
    const slopes = (first?.series[0]?.y ?? []).map(Math.abs);
    const steepest = first?.series[0]?.x[slopes.indexOf(Math.max(...slopes))] ?? 0;
    expect(Math.abs(steepest - endPoint)).toBeLessThan(0.06);
    const changes = second?.series[0];
    const crossing =
      changes?.y.findIndex((one, at) => one < 0 && (changes.y[at + 1] ?? 0) > 0) ?? -1;
    expect(crossing).toBeGreaterThan(0);
    expect(changes?.x[crossing]).toBeLessThan(endPoint);
    expect(changes?.x[crossing + 1]).toBeGreaterThan(endPoint);
  });

  it('bear the point found, and the one taken where it is another', () => {
    const curve = curveWithEndPoint(27.8);
    const marksOf = (taken?: number) =>
      curveDrawings('A1', curve, { found: 27.8, taken }).map(({ marks }) => marks.length);
    expect(marksOf()).toEqual([1, 1, 1]);
    expect(marksOf(27.9)).toEqual([2, 2, 2]);
  });
});
