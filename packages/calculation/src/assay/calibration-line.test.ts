import { describe, expect, it } from 'vitest';
import { type CalibrationLineInput, calibrationLine } from './calibration-line.ts';

const line = (x: number) => 2 + 3 * x;
const at = (contents: readonly number[], signal: (x: number) => number) =>
  contents.map((content) => ({ content, signal: signal(content) }));

const base: CalibrationLineInput = {
  model: 'straight line',
  weighting: 'equal',
  points: at([0, 1, 2, 3, 4], (x) => line(x) + (x % 2 === 0 ? 0.1 : -0.1)),
  readings: [{ label: 'A', signal: 8, readings: 1 }],
  confidencePercent: 95,
};

describe('calibrationLine', () => {
  it('does as its example says', () => {
    const output = calibrationLine({
      ...base,
      weighting: 'known',
      points: [3.3, 5.6, 7.1, 9.3, 10.7, 12.1].map((signal, i) => ({
        content: i + 1,
        signal,
        signalStandardUncertainty: 0.5,
      })),
      readings: [{ label: 'A', signal: 10.5, readings: 1, signalStandardUncertainty: 0.5 }],
    });
    expect(output.predictions[0]?.content).toBeCloseTo(4.913279, 6);
    expect(output.words).toContain('agree with their stated uncertainties');
  });

  it('finds an exact line and an exact parabola', () => {
    const exact = calibrationLine({ ...base, points: at([0, 1, 2, 5], line) });
    expect(exact.coefficients.map((one) => one.estimate)).toEqual([
      expect.closeTo(2, 12),
      expect.closeTo(3, 12),
    ]);
    const bent = calibrationLine({
      ...base,
      model: 'parabola',
      points: at([100, 101, 103, 106, 110], (x) => 1 - 2 * x + 0.5 * x * x),
      readings: [{ label: 'A', signal: 1 - 208 + 0.5 * 104 * 104, readings: 1 }],
    });
    expect(bent.coefficients[2]?.estimate).toBeCloseTo(0.5, 10);
    expect(bent.coefficients[0]?.estimate).toBeCloseTo(1, 6);
    expect(bent.predictions[0]?.content).toBeCloseTo(104, 9);
  });

  it('reads the branch that the standards lie on', () => {
    // y = x² on standards from 1 to 4: the signal 9 belongs to 3, not to −3.
    const bent = calibrationLine({
      ...base,
      model: 'parabola',
      points: at([1, 2, 3, 4], (x) => x * x),
      readings: [{ label: 'A', signal: 9, readings: 1 }],
    });
    expect(bent.predictions[0]?.content).toBeCloseTo(3, 9);
    expect(bent.turnsInside).toBe(false);
    const turned = calibrationLine({
      ...base,
      model: 'parabola',
      points: at([-1, 0, 1, 2], (x) => x * x),
      readings: [],
    });
    expect(turned.turnsInside).toBe(true);
    expect(turned.words).toContain('one signal then belongs to two contents');
  });

  it('leaves the interval open where the slope may be none', () => {
    const output = calibrationLine({
      ...base,
      points: at([0, 1, 2, 3], (x) => [1, 3, 0, 2.2][x] ?? 0),
    });
    const [found] = output.predictions;
    expect([found?.lower, found?.upper]).toContain(null);
    expect(output.words).toContain('without a bounded interval');
  });

  it('shows what each point does: leaving it out moves its residual to what a new fit gives', () => {
    const output = calibrationLine(base);
    for (const [index, point] of base.points.entries()) {
      const without = calibrationLine({
        ...base,
        points: base.points.filter((_, i) => i !== index),
        readings: [],
      });
      const [a, b] = without.coefficients;
      const fitted = (a?.estimate ?? 0) + (b?.estimate ?? 0) * point.content;
      expect(output.points[index]?.leftOutResidual).toBeCloseTo(point.signal - fitted, 10);
    }
    // The leverages add to the number of coefficients.
    const sum = output.points.reduce((total, one) => total + one.leverage, 0);
    expect(sum).toBeCloseTo(2, 10);
  });

  it('tells points that lie farther out than their uncertainties explain', () => {
    const output = calibrationLine({
      ...base,
      weighting: 'known',
      points: base.points.map((point) => ({ ...point, signalStandardUncertainty: 0.01 })),
      readings: [],
    });
    expect(output.chiSquareProbability).toBeLessThan(1e-10);
    expect(output.words).toContain('look for a bad standard');
  });

  it('gives a distance fit without uncertain contents what a known weighting gives', () => {
    const points = base.points.map((point) => ({ ...point, signalStandardUncertainty: 0.2 }));
    const known = calibrationLine({ ...base, weighting: 'known', points, readings: [] });
    const both = calibrationLine({ ...base, weighting: 'both', points, readings: [] });
    expect(both.coefficients).toEqual(
      known.coefficients.map((one) => ({
        power: one.power,
        estimate: expect.closeTo(one.estimate, 11),
        standardUncertainty: expect.closeTo(one.standardUncertainty, 11),
      })),
    );
  });

  it.each([
    ['too few contents', { points: at([1, 1, 2, 2], line), model: 'parabola' as const }, 'points'],
    ['a missing uncertainty', { weighting: 'known' as const }, 'signalStandardUncertainty is none'],
    ['a flat line', { points: at([0, 1, 2], () => 5) }, 'not flat'],
    [
      'a signal beyond the turn of a parabola',
      {
        model: 'parabola' as const,
        points: at([1, 2, 3, 4], (x) => x * x),
        readings: [{ label: 'A', signal: -1, readings: 1 }],
      },
      'a signal that the curve reaches',
    ],
    [
      'a reading without uncertainty beside known ones',
      {
        weighting: 'known' as const,
        points: base.points.map((point) => ({ ...point, signalStandardUncertainty: 0.1 })),
      },
      'readings.0.signalStandardUncertainty',
    ],
  ])('refuses %s', (_, change, message) => {
    expect(() => calibrationLine({ ...base, ...change })).toThrow(message);
  });
});
