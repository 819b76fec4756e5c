import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { type EndPointInput, endPoint, endPointCalculation } from './end-point.ts';
import { smoothingSpline } from './smoothing-spline.ts';

const curveOf = (
  volumes: readonly number[],
  potential: (volume: number, index: number) => number,
) =>
  volumes.map((volumeMillilitres, i) => ({
    volumeMillilitres,
    potentialMillivolts: potential(volumeMillilitres, i),
  }));
const even = Array.from({ length: 40 }, (_, i) => i * 0.25);
/** Noise that looks like none of the curve, the same at every run. */
const noise = (index: number) => Math.sin(12.9898 * (index + 1) ** 2);

const methods: readonly EndPointInput['method'][] = [
  { kind: 'second derivative', windowPoints: 4 },
  { kind: 'smoothing spline' },
  { kind: 'precipitation curve', startVolumeMillilitres: 100, electrode: { kind: 'fitted' } },
];
const shared = { volumeStandardUncertaintyMillilitres: 0, confidencePercent: 95 };

describe('endPoint', () => {
  it('does as its example says', () => {
    const output = endPoint({
      ...shared,
      curve: curveOf([1, 2, 3, 4, 5, 6, 7, 8], (v) => 40 * Math.atan(4 * (v - 4.5))),
      method: { kind: 'second derivative', windowPoints: 4 },
      potentialStandardUncertaintyMillivolts: 0.2,
    });
    expect(output.endPointMillilitres).toBeCloseTo(4.5, 9);
  });

  it('finds the end point of its example, 30 mL, within the rounding of its potentials', () => {
    const { endPointMillilitres: found, parts } = endPoint(endPointCalculation.example);
    expect(Math.abs(found - 30)).toBeLessThan(3 * parts.scatterMillilitres);
  });

  it('takes a stated electrode slope', () => {
    const output = endPoint({
      ...endPointCalculation.example,
      method: {
        kind: 'precipitation curve',
        startVolumeMillilitres: 100,
        electrode: { kind: 'stated', temperatureDegreesCelsius: 25, slopeShare: 1 },
      },
    });
    expect(output.endPointMillilitres).toBeCloseTo(30, 3);
    expect(output.degreesOfFreedom).toBe(13);
  });

  it('adds the burette and says where the steps are coarse', () => {
    const output = endPoint({
      ...endPointCalculation.example,
      method: { kind: 'second derivative', windowPoints: 4 },
    });
    const { scatterMillilitres, stepsMillilitres, volumeMillilitres } = output.parts;
    expect(output.standardUncertaintyMillilitres).toBeCloseTo(
      Math.hypot(scatterMillilitres, stepsMillilitres, volumeMillilitres),
      12,
    );
    expect(output.words).toContain('The steps about the end point are coarse');
  });

  for (const method of methods) {
    describe(`by ${method.kind}`, () => {
      it.each([
        ['a flat curve', curveOf(even, () => 100)],
        ['a straight line', curveOf(even, (v, i) => 10 * v + 0.1 * noise(i))],
        ['scatter alone', curveOf(even, (_, i) => 100 + noise(i))],
        ['a curve that bends and never jumps', curveOf(even, (v, i) => 2 * v * v + 0.1 * noise(i))],
        [
          'a curve that stops before its end point',
          curveOf(even, (v, i) => -60 * Math.log10(10.01 - v) + 0.1 * noise(i)),
        ],
      ])('refuses %s', (_, curve) => {
        expect(() => endPoint({ ...shared, curve, method })).toThrow(/^curve is a curve/);
      });
    });
  }

  it('refuses a window wider than the curve, and potentials too noisy for four points', () => {
    const short = curveOf([1, 2, 3, 4, 5, 6, 7, 8], (v) => 40 * Math.atan(4 * (v - 4.5)));
    const close = Array.from({ length: 160 }, (_, i) => 3 + i * 0.02);
    const noisy = curveOf(close, (v, i) => 60 * Math.asinh((v - 4.6) / 0.2) + 2 * noise(i));
    const method = { kind: 'second derivative' as const, windowPoints: 4 };
    expect(() => endPoint({ ...shared, curve: noisy, method })).toThrow(
      'more points in the window',
    );
    const found = endPoint({ ...shared, curve: noisy, method: { kind: 'smoothing spline' } });
    expect(Math.abs(found.endPointMillilitres - 4.6)).toBeLessThan(0.1);
    const wide = { kind: 'second derivative' as const, windowPoints: 7 };
    expect(() => endPoint({ ...shared, curve: short.slice(0, 6), method: wide })).toThrow(
      'at most the 6 points',
    );
  });

  it('refuses Gran points of the other side', () => {
    const acid = curveOf(even.slice(8, 20), (v) => 25.69 * Math.log((v - 1.5) / (50 + v)));
    const method = {
      kind: 'Gran' as const,
      side: 'after' as const,
      potential: 'rises' as const,
      startVolumeMillilitres: 50,
      temperatureDegreesCelsius: 25,
      slopeShare: 1,
      weighting: 'potential' as const,
    };
    const found = endPoint({ ...shared, curve: acid, method });
    expect(found.endPointMillilitres).toBeCloseTo(1.5, 3);
    expect(() =>
      endPoint({ ...shared, curve: acid, method: { ...method, side: 'before' } }),
    ).toThrow('points before the end point');
  });

  it('refuses volumes that do not rise, by their place', () => {
    const curve = endPointCalculation.example.curve.map((point, i) =>
      i === 5 ? { ...point, volumeMillilitres: 1 } : point,
    );
    const result = runCalculation(endPointCalculation as unknown as Calculation, {
      ...endPointCalculation.example,
      curve,
    });
    expect(result).toMatchObject({
      outcome: 'refused',
      problems: [
        { field: 'curve.5.volumeMillilitres', accepted: 'a volume above the one before it' },
      ],
    });
  });
});

describe('smoothingSpline', () => {
  const x = [0, 1, 2.5, 3, 4.2, 6, 7, 8.5];
  const y = [0, 2, 1, 3, 2, 5, 4, 6];

  it('goes through all points without smoothing and becomes the line of least squares with much', () => {
    const close = smoothingSpline(x, y, 1e-12);
    y.forEach((value, i) => {
      expect(close.values[i]).toBeCloseTo(value, 9);
    });
    expect(close.parameters).toBeCloseTo(8, 6);
    const stiff = smoothingSpline(x, y, 1e12);
    expect(stiff.parameters).toBeCloseTo(2, 6);
    // Slope of the line of least squares by its definition.
    const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
    const [mx, my] = [mean(x), mean(y)];
    const slope =
      x.reduce((sum, v, i) => sum + (v - mx) * ((y[i] ?? 0) - my), 0) /
      x.reduce((sum, v) => sum + (v - mx) ** 2, 0);
    expect(((stiff.values[7] ?? 0) - (stiff.values[0] ?? 0)) / 8.5).toBeCloseTo(slope, 6);
  });

  it('has a trace that is the sum of what each observation does to its own value', () => {
    const smoothing = 0.7;
    const spline = smoothingSpline(x, y, smoothing);
    const trace = y.reduce((sum, _, i) => {
      const moved = y.map((value, k) => (k === i ? value + 1 : value));
      const change = smoothingSpline(x, moved, smoothing).values[i] ?? 0;
      return sum + change - (spline.values[i] ?? 0);
    }, 0);
    expect(spline.parameters).toBeCloseTo(trace, 10);
  });
});
