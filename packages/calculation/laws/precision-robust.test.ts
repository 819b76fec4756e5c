import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { algorithmA, cutDeviationFactor } from '../src/control/precision/algorithm-a.ts';
import { likeliestLine } from '../src/control/precision/duplicate-lines.ts';
import { duplicatePrecision } from '../src/control/precision/duplicate-precision.ts';
import { proficiencyScores } from '../src/control/precision/proficiency-scores.ts';
import { hampelMean, qHampel, qStandardDeviation } from '../src/control/precision/q-hampel.ts';
import { seededNormal } from './simulation.ts';

const median = (values: readonly number[]) => {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2
    ? (sorted[half] ?? 0)
    : ((sorted[half - 1] ?? 0) + (sorted[half] ?? 0)) / 2;
};

/** Algorithm A as the standard writes it: replace, average, repeat. */
function plainAlgorithmA(results: readonly number[]): { mean: number; standardDeviation: number } {
  let mean = median(results);
  const centre = mean;
  let deviation = 1.483 * median(results.map((x) => Math.abs(x - centre)));
  for (let round = 0; round < 3000; round += 1) {
    const [low, high] = [mean - 1.5 * deviation, mean + 1.5 * deviation];
    const drawn = results.map((x) => Math.min(high, Math.max(low, x)));
    const next = drawn.reduce((sum, x) => sum + x, 0) / drawn.length;
    const squares = drawn.reduce((sum, x) => sum + (x - next) ** 2, 0);
    mean = next;
    deviation = 1.134 * Math.sqrt(squares / (drawn.length - 1));
  }
  return { mean, standardDeviation: deviation };
}

const results = fc.uniqueArray(fc.integer({ min: -100_000, max: 100_000 }), {
  minLength: 5,
  maxLength: 30,
});

describe('Algorithm A', () => {
  it('by running sums is the one that replaces and averages', () => {
    fc.assert(
      fc.property(results, (list) => {
        const [fast, plain] = [algorithmA(list), plainAlgorithmA(list)];
        const scale = Math.max(1, plain.standardDeviation);
        expect(Math.abs(fast.mean - plain.mean) / scale).toBeLessThan(1e-9);
        expect(Math.abs(fast.standardDeviation - plain.standardDeviation) / scale).toBeLessThan(
          1e-9,
        );
      }),
      { seed: 71, numRuns: 60 },
    );
  });

  it('hardly moves with one wild result, where a mean goes with it', () => {
    const list = [10.1, 9.9, 10.0, 10.2, 9.8, 10.05, 9.95];
    const wild = algorithmA([...list, 1e6]);
    expect(Math.abs(wild.mean - 10)).toBeLessThan(0.2);
    expect(algorithmA([...list, 1e9]).mean).toBeCloseTo(wild.mean, 9);
  });

  it('gives about the deviation of normal results, by 1.134 a little more than by the exact factor', () => {
    const normal = seededNormal(72);
    const list = Array.from({ length: 40_000 }, () => normal());
    const { mean, standardDeviation } = algorithmA(list);
    expect(Math.abs(mean)).toBeLessThan(0.025);
    expect(Math.abs(standardDeviation - 1)).toBeLessThan(0.025);
    expect(cutDeviationFactor(1.5)).toBeLessThan(1.134);
    expect(1.134 / cutDeviationFactor(1.5)).toBeLessThan(1.001);
  });
});

describe('Q and Hampel', () => {
  it('give about the mean and deviation of normal results', () => {
    const normal = seededNormal(73);
    const list = Array.from({ length: 1500 }, () => 5 + 2 * normal());
    const found = qHampel(list);
    expect(Math.abs(found.mean - 5)).toBeLessThan(0.25);
    expect(Math.abs(found.standardDeviation / 2 - 1)).toBeLessThan(0.1);
  });

  it('do not see results far off at all', () => {
    const list = [9.8, 9.9, 10, 10.1, 10.2, 10.05, 9.95, 10.15, 9.85];
    const far = hampelMean([...list, 50, 60], 0.15);
    expect(far).toBeCloseTo(hampelMean(list, 0.15), 12);
  });

  it('move with the results and stretch with their unit', () => {
    fc.assert(
      fc.property(results, (list) => {
        const plain = qHampel(list);
        const moved = qHampel(list.map((x) => 3 * x + 70));
        expect(moved.standardDeviation).toBeCloseTo(3 * plain.standardDeviation, 6);
        expect(moved.mean).toBeCloseTo(3 * plain.mean + 70, 5);
        expect(qStandardDeviation(list.toReversed())).toBeCloseTo(plain.standardDeviation, 9);
      }),
      { seed: 74, numRuns: 100 },
    );
  });
});

describe('laws of the scores', () => {
  it('do not depend on unit or origin, and z′ is never beyond z', () => {
    fc.assert(
      fc.property(
        results,
        fc.constantFrom('algorithm-a' as const, 'q-hampel' as const),
        (list, method) => {
          const run = (values: readonly number[]) =>
            proficiencyScores({
              characteristic: 'Content',
              unit: '1',
              participants: values.map((value, index) => ({ name: `P${index}`, value })),
              assignedValue: { kind: 'robust', method },
              assessment: { kind: 'robust', method },
            });
          const plain = run(list);
          const moved = run(list.map((x) => 2 * x - 500));
          plain.participants.forEach((row, index) => {
            expect(moved.participants[index]?.z).toBeCloseTo(row.z, 6);
            expect(Math.abs(row.zPrime)).toBeLessThanOrEqual(Math.abs(row.z) + 1e-12);
          });
        },
      ),
      { seed: 75, numRuns: 60 },
    );
  });
});

describe('duplicates', () => {
  it('give back the line they were simulated from', () => {
    const normal = seededNormal(76);
    const pairs = Array.from({ length: 2000 }, (_, index) => {
      const level = 1 + (index % 100);
      const deviation = 0.5 + 0.04 * level;
      return {
        name: `S${index}`,
        first: level + deviation * normal(),
        second: level + deviation * normal(),
      };
    });
    const output = duplicatePrecision({
      characteristic: 'Content',
      unit: '1',
      pairs,
      groupSizePairs: 40,
      confidencePercent: 99,
    });
    expect(Math.abs((output.fitted?.perLevel ?? 0) / 0.04 - 1)).toBeLessThan(0.1);
    expect(Math.abs((output.fitted?.atZero ?? 0) / 0.5 - 1)).toBeLessThan(0.2);
    expect(Math.abs((output.grouped?.perLevel ?? 0) / 0.04 - 1)).toBeLessThan(0.15);
    // One in a hundred beyond the limit: four standard errors of 20.
    expect(Math.abs(output.beyondCount - 20)).toBeLessThan(4 * Math.sqrt(20));
  });

  it('have a likeliest line that stretches with the unit', () => {
    const pairs = [
      { level: 1, size: 0.2 },
      { level: 5, size: 0.3 },
      { level: 9, size: 0.9 },
      { level: 30, size: 1.1 },
    ];
    const plain = likeliestLine(pairs);
    const finer = likeliestLine(
      pairs.map(({ level, size }) => ({ level: level * 50, size: size * 50 })),
    );
    expect(finer?.perLevel).toBeCloseTo(plain?.perLevel ?? 0, 7);
    expect((finer?.atZero ?? 0) / 50).toBeCloseTo(plain?.atZero ?? 0, 7);
    expect(
      likeliestLine([
        { level: 2, size: 0 },
        { level: 3, size: 0 },
      ]),
    ).toBe(null);
  });
});
