import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dip } from '../src/weights/dip.ts';
import { mixtureShape } from '../src/weights/mixture-shape.ts';
import { secondMode } from '../src/weights/second-mode.ts';
import { fitTwoNormals } from '../src/weights/two-normals.ts';
import { seededNormal } from './simulation.ts';

const seed = 1985;

describe('the dip', () => {
  const samples = fc.array(fc.integer({ min: 0, max: 200 }), { minLength: 1, maxLength: 60 });

  it('lies between 1/(2n) and 1/4 and does not change with order, origin, unit or mirror', () => {
    fc.assert(
      fc.property(samples, (values) => {
        const found = dip(values).dip;
        expect(found).toBeGreaterThanOrEqual(1 / (2 * values.length) - 1e-12);
        if (values.length >= 2) expect(found).toBeLessThanOrEqual(0.25 + 1e-12);
        expect(dip([...values].reverse()).dip).toBe(found);
        expect(dip(values.map((value) => 4 * value + 16)).dip).toBeCloseTo(found, 12);
        expect(dip(values.map((value) => -value)).dip).toBeCloseTo(found, 12);
      }),
      { seed, numRuns: 300 },
    );
  });

  it('is small for one heap and large for two, and its mode lies in a heap', () => {
    const draw = seededNormal(7);
    const one = Array.from({ length: 200 }, draw);
    const two = one.map((value, index) => (index % 2 === 0 ? value : value + 8));
    expect(dip(one).dip).toBeLessThan(0.035);
    const found = dip(two);
    expect(found.dip).toBeGreaterThan(0.1);
    const middle = (found.modeFrom + found.modeTo) / 2;
    expect(Math.min(Math.abs(middle), Math.abs(middle - 8))).toBeLessThan(2.5);
  });
});

describe('the test of a second mode', () => {
  const setup = { dipSamples: 200, seed: 3, level: 0.1 };

  it('gives up one mode in normal lots less often than its level, and in mixed lots nearly always', () => {
    const draw = seededNormal(1987);
    const share = (shift: number): number => {
      let found = 0;
      for (let lot = 0; lot < 60; lot += 1) {
        const massesGrams = Array.from(
          { length: 80 },
          (_, index) => 31.1 + 0.01 * (draw() + (index % 2 === 0 ? shift : 0)),
        );
        const result = secondMode({ ...setup, massesGrams, heapsTest: { kind: 'none' } });
        if (result.verdict === 'two-modes') found += 1;
      }
      return found / 60;
    };
    // A normal heap dips less than a uniform one, from which the probability is taken.
    expect(share(0)).toBeLessThan(0.1);
    expect(share(6)).toBeGreaterThan(0.9);
  });

  it('finds by likelihood two heaps that show no second mode', () => {
    const draw = seededNormal(1969);
    const massesGrams = Array.from(
      { length: 150 },
      (_, index) => 31.1 + 0.01 * (index % 5 === 0 ? 3 * draw() : 0.6 * draw()),
    );
    const result = secondMode({
      ...setup,
      massesGrams,
      heapsTest: { kind: 'bootstrap', samples: 39, standardDeviations: 'free' },
    });
    expect(result.verdict).toBe('two-heaps-one-mode');
    expect(result.heapsProbability).toBe(1 / 40);
  });
});

describe('two heaps', () => {
  it('move with origin and unit of the masses, mirrored too', () => {
    const draw = seededNormal(99);
    const masses = Array.from({ length: 120 }, (_, index) =>
      index % 3 === 0 ? 4 + 0.5 * draw() : draw(),
    );
    const plain = fitTwoNormals(masses, false);
    const moved = fitTwoNormals(
      masses.map((mass) => 31 + 0.02 * mass),
      false,
    );
    const mirrored = fitTwoNormals(
      masses.map((mass) => -mass),
      false,
    );
    if (!plain || !moved || !mirrored) throw new Error('no fit');
    expect(moved.means[0]).toBeCloseTo(31 + 0.02 * plain.means[0], 8);
    expect(moved.standardDeviations[1]).toBeCloseTo(0.02 * plain.standardDeviations[1], 8);
    expect(mirrored.share).toBeCloseTo(1 - plain.share, 7);
    expect(mirrored.means[0]).toBeCloseTo(-plain.means[1], 7);
    expect(mirrored.covariance[3]?.[3]).toBeCloseTo(plain.covariance[4]?.[4] ?? 0, 8);
  });

  it('have standard errors that cover: 95 % intervals of the lighter mean', () => {
    const draw = seededNormal(123);
    let covered = 0;
    const runs = 120;
    for (let run = 0; run < runs; run += 1) {
      const masses = Array.from({ length: 150 }, (_, index) =>
        index % 3 === 0 ? 4 + 0.7 * draw() : draw(),
      );
      const fit = fitTwoNormals(masses, false);
      const error = Math.sqrt(fit?.covariance[1]?.[1] ?? Number.NaN);
      if (fit && Math.abs(fit.means[0]) < 1.96 * error) covered += 1;
    }
    // The standard error of 95 % in 120 runs is 0.02.
    expect(covered / runs).toBeGreaterThan(0.87);
  });

  it('of equal share and spread have two modes exactly beyond two deviations apart', () => {
    const modes = (distance: number) =>
      mixtureShape({ share: 0.5, means: [0, distance], standardDeviations: [1, 1] }).modes.length;
    expect(modes(1.9)).toBe(1);
    expect(modes(2.1)).toBe(2);
    const shape = mixtureShape({ share: 0.5, means: [0, 4], standardDeviations: [1, 1] });
    expect(shape.divide).toBeCloseTo(2, 10);
    // Beyond two deviations of either heap lie 2.28 %.
    expect(shape.wrongShare).toBeCloseTo(0.0227501319, 9);
    expect(shape.bimodalSeparation).toBe(1);
  });
});
