import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalDensity, normalDistribution } from '../src/quantity/normal.ts';
import { massSummary } from '../src/weights/mass-summary.ts';
import { familyMoments } from '../src/weights/quadratic-family.ts';
import { edgeInterval, spacingBound } from '../src/weights/sorter-edge-likelihood.ts';
import { truncatedFit } from '../src/weights/truncated-fit.ts';
import { truncatedNormal } from '../src/weights/truncated-normal.ts';
import { seededNormal } from './simulation.ts';

const seed = 1950;

/** Masses of a normal process of mean 0 and deviation 1 that passed a sorter. */
function sortedMasses(
  count: number,
  draw: () => number,
  passes: (mass: number) => boolean,
): number[] {
  const masses: number[] = [];
  while (masses.length < count) {
    const mass = draw();
    if (passes(mass)) masses.push(mass);
  }
  return masses;
}

/** Mean and variance of a cut normal distribution by the closed form. */
function closedMoments(mean: number, deviation: number, low: number, high: number) {
  const [a, b] = [(low - mean) / deviation, (high - mean) / deviation];
  const share = normalDistribution(b, 0, 1) - normalDistribution(a, 0, 1);
  const [fa, fb] = [normalDensity(a, 0, 1), normalDensity(b, 0, 1)];
  const shift = (fa - fb) / share;
  return {
    mean: mean + deviation * shift,
    variance: deviation ** 2 * (1 + (a * fa - b * fb) / share - shift ** 2),
  };
}

const parents = fc.record({
  mean: fc.double({ min: -1, max: 1, noNaN: true }),
  deviation: fc.double({ min: 0.5, max: 2, noNaN: true }),
  low: fc.double({ min: -2, max: -0.5, noNaN: true }),
  high: fc.double({ min: 0.5, max: 2, noNaN: true }),
});

describe('moments by quadrature', () => {
  it('are those of the closed form', () => {
    fc.assert(
      fc.property(parents, ({ mean, deviation, low, high }) => {
        const closed = closedMoments(mean, deviation, low, high);
        const found = familyMoments(mean / deviation ** 2, -0.5 / deviation ** 2, {
          lower: low,
          upper: high,
        });
        expect(Math.abs(found.first - closed.mean)).toBeLessThan(1e-12);
        expect(Math.abs(found.varianceFirst - closed.variance)).toBeLessThan(1e-12);
      }),
      { seed, numRuns: 200 },
    );
  });
});

describe('the fit of a cut normal distribution', () => {
  // The two likelihood equations say that fitted and found moments agree.
  it('solves the likelihood equations, for any edges', () => {
    fc.assert(
      fc.property(parents, ({ mean, deviation, low, high }) => {
        const closed = closedMoments(mean, deviation, low, high);
        const fit = truncatedFit(
          { count: 100, mean: closed.mean, variance: closed.variance },
          { lightEdge: low, heavyEdge: high },
        );
        if (fit.outcome === 'no-maximum') throw new Error(fit.reason);
        expect(Math.abs(fit.mean - mean)).toBeLessThan(1e-6 * (1 + deviation ** 2));
        expect(Math.abs(fit.standardDeviation / deviation - 1)).toBeLessThan(1e-6);
      }),
      { seed, numRuns: 200 },
    );
  });

  it('changes with origin and unit as the masses do, and with their mirror', () => {
    const draw = seededNormal(3);
    const masses = sortedMasses(60, draw, (mass) => mass > -0.5 && mass < 1.5);
    const at = (factor: number, shift: number) => {
      const moved = masses.map((mass) => factor * mass + shift);
      const edges = [factor * -0.5 + shift, factor * 1.5 + shift].sort((a, b) => a - b);
      const fit = truncatedFit(massSummary(moved), {
        lightEdge: edges[0] as number,
        heavyEdge: edges[1] as number,
      });
      if (fit.outcome === 'no-maximum') throw new Error(fit.reason);
      return fit;
    };
    const plain = at(1, 0);
    for (const [factor, shift] of [
      [0.02, 31.1],
      [-1, 0],
      [1000, -5],
    ] as const) {
      const moved = at(factor, shift);
      expect(moved.mean).toBeCloseTo(factor * plain.mean + shift, 7);
      expect(moved.standardDeviation / Math.abs(factor)).toBeCloseTo(plain.standardDeviation, 8);
      expect(moved.meanVariance / factor ** 2).toBeCloseTo(plain.meanVariance, 7);
    }
  });

  it('exists exactly where the masses bunch more than an exponential distribution', () => {
    // Cut below at 0 with mean 1, the exponential distribution has variance 1 (del Castillo, 1994).
    for (const variance of [0.2, 0.9, 0.97]) {
      const fit = truncatedFit({ count: 50, mean: 1, variance }, { lightEdge: 0 });
      expect(fit.outcome).toBe('interior');
    }
    for (const variance of [1, 1.0001, 3]) {
      const fit = truncatedFit({ count: 50, mean: 1, variance }, { lightEdge: 0 });
      expect(fit.outcome).toBe('no-maximum');
    }
    // Between 0 and 2 with mean 1 it is the uniform distribution, variance 1/3.
    const between = { lightEdge: 0, heavyEdge: 2 };
    expect(truncatedFit({ count: 50, mean: 1, variance: 0.33 }, between).outcome).toBe('interior');
    expect(truncatedFit({ count: 50, mean: 1, variance: 0.334 }, between).outcome).toBe(
      'no-maximum',
    );
  });

  it('has the standard errors that simulated samples show', () => {
    const draw = seededNormal(1950);
    const runs = 400;
    let covered = 0;
    for (let run = 0; run < runs; run += 1) {
      const masses = sortedMasses(300, draw, (mass) => mass > -1).map((mass) => mass + 10);
      const result = truncatedNormal({
        massesGrams: masses,
        lightEdge: run % 2 === 0 ? { kind: 'known', massGrams: 9 } : { kind: 'unknown' },
        heavyEdge: { kind: 'none' },
      });
      if (Math.abs(result.meanGrams - 10) < 1.96 * result.meanStandardErrorGrams) covered += 1;
    }
    // 95 % of intervals with a standard error of 0.011, and a little lost to the finite sample.
    expect(covered / runs).toBeGreaterThan(0.91);
    expect(covered / runs).toBeLessThan(0.985);
  });
});

describe('the edge of a sorter', () => {
  const cover = (inside: () => boolean, runs = 600): number => {
    let covered = 0;
    for (let run = 0; run < runs; run += 1) if (inside()) covered += 1;
    return covered / runs;
  };
  const ascending = (count: number, draw: () => number) =>
    sortedMasses(count, draw, (mass) => mass > -0.8).sort((a, b) => a - b);

  it('is covered as often as stated where the distribution is known, exactly', () => {
    const draw = seededNormal(11);
    const share = cover(() => {
      const { lower } = edgeInterval(
        { ascending: ascending(30, draw), blur: 0, known: { mean: 0, standardDeviation: 1 } },
        0.9,
      );
      return lower === null || lower <= -0.8;
    });
    // The standard error of a simulated 90 % is 0.012.
    expect(Math.abs(share - 0.9)).toBeLessThan(0.04);
  });

  it('is covered about as often where the distribution is fitted', () => {
    const draw = seededNormal(12);
    const share = cover(() => {
      const { lower } = edgeInterval({ ascending: ascending(60, draw), blur: 0 }, 0.9);
      return lower === null || lower <= -0.8;
    }, 150);
    // The standard error of 90 % in 150 runs is 0.025.
    expect(Math.abs(share - 0.9)).toBeLessThan(0.075);
  });

  it('is covered as often as stated by the outermost pieces alone', () => {
    const draw = seededNormal(13);
    for (const nearest of [2, 6]) {
      const share = cover(() => spacingBound(ascending(300, draw), nearest, 0.9) <= -0.8);
      expect(Math.abs(share - 0.9)).toBeLessThan(0.05);
    }
  });

  it('that a sorter blurs is covered from both sides', () => {
    const draw = seededNormal(14);
    let covered = 0;
    const few = 40;
    for (let run = 0; run < few; run += 1) {
      const masses = sortedMasses(200, draw, (mass) => mass + 0.1 * draw() > -0.8).sort(
        (a, b) => a - b,
      );
      const known = { mean: 0, standardDeviation: 1 };
      const { lower, upper } = edgeInterval({ ascending: masses, blur: 0.1, known }, 0.95);
      if ((lower ?? -9) <= -0.8 && (upper ?? 9) >= -0.8) covered += 1;
    }
    // 95 % in 40 runs with a standard error of 0.035.
    expect(covered / few).toBeGreaterThan(0.84);
  });

  it('with a vanishing blur is the sharp one', () => {
    const masses = ascending(80, seededNormal(15));
    const known = { mean: 0, standardDeviation: 1 };
    const sharp = edgeInterval({ ascending: masses, blur: 0, known }, 0.95);
    const blurred = edgeInterval({ ascending: masses, blur: 1e-5, known }, 0.95);
    expect(Math.abs(blurred.estimate - sharp.estimate)).toBeLessThan(1e-4);
  });
});
