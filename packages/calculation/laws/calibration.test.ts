import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CalibrationLineInput, calibrationLine } from '../src/assay/calibration-line.ts';
import { fitLeastSquares, powerColumns } from '../src/assay/least-squares-core.ts';
import { fitPolynomial, powersOfX } from '../src/assay/polynomial-fit.ts';
import { realRoots } from '../src/assay/real-roots.ts';
import { seededNormal } from './simulation.ts';

const contents = [0, 1, 2, 4, 6, 8, 10];

describe('two roads to a calibration curve', () => {
  it('agree between centred moments and long arithmetic', () => {
    const value = fc.double({ min: -100, max: 100, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(value, { minLength: 7, maxLength: 7 }),
        fc.double({ min: -1000, max: 1000, noNaN: true }),
        fc.constantFrom(1 as const, 2 as const),
        (y, offset, degree) => {
          const x = contents.map((content) => content + offset);
          const weights = contents.map((content) => 1 / (1 + content));
          const fast = powersOfX(fitPolynomial(x, y, degree, weights));
          const long = fitLeastSquares(powerColumns(x, degree, true), y, weights);
          const scale = Math.max(...long.coefficients.map(Math.abs), 1e-3);
          fast.coefficients.forEach((one, k) => {
            expect(Math.abs(one - (long.coefficients[k] ?? 0)) / scale).toBeLessThan(1e-9);
          });
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });

  it('agree between distance regression and its own sum of squares searched on a net', () => {
    // The sum profiled in the contents of a straight line is Σ (y − a − b·x)²/(u(y)² + b²·u(x)²).
    const x = [1.2, 1.9, 2.9, 4, 4.7, 5.9];
    const y = [3.4, 4.4, 7.2, 8.5, 10.8, 13.5];
    const uy = [0.2, 0.2, 0.2, 0.4, 0.4, 0.4];
    const sum = (a: number, b: number) =>
      x.reduce((total, one, i) => {
        const variance = (uy[i] ?? 1) ** 2 + b * b * 0.04;
        return total + ((y[i] ?? 0) - a - b * one) ** 2 / variance;
      }, 0);
    const result = calibrationLine({
      model: 'straight line',
      weighting: 'both',
      confidencePercent: 95,
      readings: [],
      points: x.map((content, i) => ({
        content,
        signal: y[i] ?? 0,
        contentStandardUncertainty: 0.2,
        signalStandardUncertainty: uy[i] ?? 0,
      })),
    });
    const [a = 0, b = 0] = result.coefficients.map((one) => one.estimate);
    expect(sum(a, b)).toBeCloseTo(result.chiSquare, 10);
    for (const step of [1e-3, 1e-5]) {
      for (const [da, db] of [
        [step, 0],
        [-step, 0],
        [0, step],
        [0, -step],
      ] as const) {
        expect(sum(a + da, b + db)).toBeGreaterThan(result.chiSquare);
      }
    }
  });

  it('agree between the covariance of a distance fit, also bent, and simulation', () => {
    const normal = seededNormal(4);
    const truth = (x: number) => 1 + 2 * x + 0.1 * x * x;
    const input = (noise: () => number): CalibrationLineInput => ({
      model: 'parabola',
      weighting: 'both',
      confidencePercent: 95,
      readings: [],
      points: contents.map((content) => ({
        content: content + 0.05 * noise(),
        signal: truth(content) + 0.1 * noise(),
        contentStandardUncertainty: 0.05,
        signalStandardUncertainty: 0.1,
      })),
    });
    const claimed = calibrationLine(input(() => 0)).coefficients;
    const rounds = 1500;
    const sums = [0, 0, 0];
    for (let round = 0; round < rounds; round += 1) {
      const found = calibrationLine(input(normal)).coefficients;
      found.forEach((one, k) => {
        sums[k] = (sums[k] ?? 0) + (one.estimate - ([1, 2, 0.1][k] ?? 0)) ** 2;
      });
    }
    claimed.forEach((one, k) => {
      const spread = Math.sqrt((sums[k] ?? 0) / rounds);
      // Four standard errors of a standard deviation: 4/√(2·1500) = 7.3 %.
      expect(Math.abs(spread / one.standardUncertainty - 1)).toBeLessThan(0.073);
    });
  });
});

describe('interval of a content', () => {
  const points = contents.map((content, i) => ({
    content,
    signal: 1 + 2 * content + ([0.2, -0.3, 0.1, 0.25, -0.2, -0.1, 0.15][i] ?? 0),
    signalStandardUncertainty: 0.2,
  }));
  const input: CalibrationLineInput = {
    model: 'straight line',
    weighting: 'known',
    points,
    readings: [{ label: 'A', signal: 12, readings: 1, signalStandardUncertainty: 0.2 }],
    confidencePercent: 95,
  };

  it('ends where the fit forced through the reading gets worse by k², as a profile has it', () => {
    // At a content x the line and the true signal s are fitted together with (s − 12)²/0.2²; the sum
    // above its least value must be 1.96² at both ends.
    const [found] = calibrationLine(input).predictions;
    const excess = (x: number) => {
      const joined = fitPolynomial(
        [...points.map((point) => point.content), x],
        [...points.map((point) => point.signal), 12],
        1,
        [...points.map(() => 25), 25],
      );
      return joined.sumOfSquares - calibrationLine(input).chiSquare;
    };
    expect(excess(found?.lower ?? 0)).toBeCloseTo(1.959963984540054 ** 2, 8);
    expect(excess(found?.upper ?? 0)).toBeCloseTo(1.959963984540054 ** 2, 8);
    expect(excess(found?.content ?? 0)).toBeCloseTo(0, 10);
  });

  it('holds the true content as often as its level says, with an estimated spread', () => {
    const normal = seededNormal(5);
    for (const model of ['straight line', 'parabola'] as const) {
      const truth = (x: number) => (model === 'parabola' ? 1 + 2 * x + 0.05 * x * x : 1 + 2 * x);
      const rounds = 2000;
      let covered = 0;
      for (let round = 0; round < rounds; round += 1) {
        const [one] = calibrationLine({
          model,
          weighting: 'equal',
          confidencePercent: 90,
          points: contents.map((content) => ({ content, signal: truth(content) + 0.3 * normal() })),
          readings: [{ label: 'A', signal: truth(5.3) + 0.3 * normal(), readings: 1 }],
        }).predictions;
        if ((one?.lower ?? -1e9) <= 5.3 && (one?.upper ?? 1e9) >= 5.3) covered += 1;
      }
      // Four standard errors of a share: 4·√(0.9·0.1/2000) = 0.027.
      expect(Math.abs(covered / rounds - 0.9)).toBeLessThan(0.027);
    }
  });

  it('moves with the units of content and signal, and not with the order of the points', () => {
    const [plain] = calibrationLine(input).predictions;
    const scaled = calibrationLine({
      ...input,
      points: points
        .map((point) => ({
          content: 1000 * point.content,
          signal: 5 * point.signal,
          signalStandardUncertainty: 1,
        }))
        .reverse(),
      readings: [{ label: 'A', signal: 60, readings: 1, signalStandardUncertainty: 1 }],
    }).predictions[0];
    for (const key of ['content', 'standardUncertainty', 'lower', 'upper'] as const) {
      expect((scaled?.[key] ?? 0) / (plain?.[key] ?? 1)).toBeCloseTo(1000, 6);
    }
  });

  it('widens with the level', () => {
    const widths = [50, 68, 90, 95, 99, 99.9].map((confidencePercent) => {
      const [one] = calibrationLine({ ...input, confidencePercent }).predictions;
      return (one?.upper ?? 0) - (one?.lower ?? 0);
    });
    expect(widths).toEqual([...widths].sort((left, right) => left - right));
  });
});

describe('realRoots', () => {
  it('finds the roots that a polynomial was made of', () => {
    const root = fc.double({ min: -50, max: 50, noNaN: true });
    fc.assert(
      fc.property(
        fc.uniqueArray(root, {
          minLength: 1,
          maxLength: 4,
          comparator: (a, b) => Math.abs(a - b) < 0.5,
        }),
        (roots) => {
          const made = roots.reduce(
            (polynomial, one) => {
              const next = new Array<number>(polynomial.length + 1).fill(0);
              polynomial.forEach((value, k) => {
                next[k] = (next[k] ?? 0) - one * value;
                next[k + 1] = (next[k + 1] ?? 0) + value;
              });
              return next;
            },
            [1],
          );
          const found = realRoots(made);
          const sorted = [...roots].sort((a, b) => a - b);
          expect(found).toHaveLength(sorted.length);
          found.forEach((value, k) => {
            expect(Math.abs(value - (sorted[k] ?? 0))).toBeLessThan(1e-6);
          });
        },
      ),
      { seed: 6, numRuns: 200 },
    );
  });

  it('finds none where there is none', () => {
    expect(realRoots([1, 0, 1])).toEqual([]);
    expect(realRoots([5])).toEqual([]);
  });
});
