import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type DixonRatio,
  dixonCritical,
  dixonProbability,
  dixonStatistic,
} from '../src/control/precision/dixon-ratio.ts';
import {
  cochranCritical,
  grubbsCritical,
  grubbsProbability,
  rangeRatioCritical,
} from '../src/control/precision/extreme-tests.ts';
import {
  exactLargestDeviateProbability,
  grubbsPairCritical,
  grubbsPairProbability,
} from '../src/control/precision/largest-deviate.ts';
import { grubbsPairStatistic, outlierTests } from '../src/control/precision/outlier-tests.ts';
import { seededNormal } from './simulation.ts';

/** Share of simulated normal samples, in ascending order, for which a statistic is significant. */
function simulatedShare(
  seed: number,
  trials: number,
  count: number,
  isSignificant: (ascending: Float64Array) => boolean,
): number {
  const normal = seededNormal(seed);
  let found = 0;
  const sample = new Float64Array(count);
  for (let trial = 0; trial < trials; trial += 1) {
    for (let index = 0; index < count; index += 1) sample[index] = normal();
    sample.sort();
    if (isSignificant(sample)) found += 1;
  }
  return found / trials;
}

/** Four standard errors of a simulated share. */
const room = (share: number, trials: number) => 4 * Math.sqrt((share * (1 - share)) / trials);

function spread(sample: Float64Array): { mean: number; deviation: number } {
  let sum = 0;
  for (const value of sample) sum += value;
  const mean = sum / sample.length;
  let squares = 0;
  for (const value of sample) squares += (value - mean) ** 2;
  return { mean, deviation: Math.sqrt(squares / (sample.length - 1)) };
}

const trials = 30_000;

describe('critical values against simulated samples', () => {
  it.each([
    [15, 0.005],
    [15, 0.025],
    [4, 0.025],
    [8, 0.05],
  ] as const)('two on one side: %i results at %f', (count, level) => {
    const critical = grubbsPairCritical(level, count);
    const share = simulatedShare(11, trials, count, (x) => grubbsPairStatistic(x) < critical);
    expect(Math.abs(share - level)).toBeLessThan(room(level, trials));
  });

  it.each([
    ['r10', 4, 0.005],
    ['r10', 6, 0.05],
    ['r11', 9, 0.05],
    ['r12', 11, 0.05],
    ['r20', 10, 0.025],
    ['r21', 12, 0.05],
    ['r22', 20, 0.05],
  ] as const)('Dixon %s: %i results at %f', (ratio: DixonRatio, count, level) => {
    const critical = dixonCritical(level, count, ratio);
    const share = simulatedShare(
      12,
      trials,
      count,
      (x) => dixonStatistic(Array.from(x), ratio) > critical,
    );
    expect(Math.abs(share - level)).toBeLessThan(room(level, trials));
  });

  it.each([
    [10, 0.05],
    [25, 0.05],
  ])(
    'Grubbs for one and for both ends: %i results at %f, the latter on the safe side',
    (count, level) => {
      const one = grubbsCritical(level, count);
      const both = rangeRatioCritical(level, count);
      const single = simulatedShare(13, trials, count, (x) => {
        const { mean, deviation } = spread(x);
        return ((x[count - 1] as number) - mean) / deviation > one;
      });
      expect(Math.abs(single - level)).toBeLessThan(room(level, trials));
      const ends = simulatedShare(14, trials, count, (x) => {
        const { deviation } = spread(x);
        return ((x[count - 1] as number) - (x[0] as number)) / deviation > both;
      });
      // Two pairs that share an end are counted twice in the bound: a tenth of the level at 25 results.
      expect(ends).toBeLessThan(level + room(level, trials));
      expect(ends).toBeGreaterThan(0.88 * level - room(level, trials));
    },
  );

  it('Cochran: eight variances of three results, on the safe side', () => {
    const critical = cochranCritical(0.05, 8, 3);
    const normal = seededNormal(15);
    let found = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      // A variance of three results is half of a sum of two squared deviates.
      const variances = Array.from({ length: 8 }, () => normal() ** 2 + normal() ** 2);
      const total = variances.reduce((sum, one) => sum + one, 0);
      if (Math.max(...variances) / total > critical) found += 1;
    }
    expect(Math.abs(found / trials - 0.05)).toBeLessThan(room(0.05, trials));
  });
});

describe("Grubbs' bound against the exact recursion", () => {
  it.each([3, 4, 8, 14])('is exact at 5 %% for %i results', (count) => {
    const critical = grubbsCritical(0.05, count);
    expect(Math.abs(exactLargestDeviateProbability(critical, count) - 0.05)).toBeLessThan(3e-6);
  });

  it('is on the safe side, by less than 1 % of the level, for more results', () => {
    for (const count of [20, 30, 50]) {
      const exact = exactLargestDeviateProbability(grubbsCritical(0.05, count), count);
      expect(exact).toBeLessThan(0.05 + 1e-5);
      expect(exact).toBeGreaterThan(0.0495);
    }
  });

  it('is never below the exact probability', () => {
    for (const deviate of [1, 1.4, 1.8, 2.2, 2.6]) {
      const bound = grubbsProbability(deviate, 12);
      expect(bound).toBeGreaterThan(exactLargestDeviateProbability(deviate, 12) - 2e-6);
    }
  });
});

describe('distributions', () => {
  it('run from 1 to 0 and fall on the way', () => {
    for (const ratio of ['r10', 'r11', 'r22'] as const) {
      const steps = [0, 0.2, 0.4, 0.6, 0.8, 1].map((value) => dixonProbability(value, 10, ratio));
      expect(steps[0]).toBeCloseTo(1, 9);
      expect(steps[5]).toBe(0);
      expect(steps).toEqual(steps.toSorted((a, b) => b - a));
    }
    const pairs = [0, 0.1, 0.3, 0.5, 0.9, 1].map((value) => grubbsPairProbability(value, 9));
    expect(pairs[0]).toBe(0);
    expect(pairs[5]).toBeCloseTo(1, 5);
    expect(pairs).toEqual(pairs.toSorted((a, b) => a - b));
  });

  it('of critical values give the level back', () => {
    expect(dixonProbability(dixonCritical(0.03, 12, 'r21'), 12, 'r21')).toBeCloseTo(0.03, 9);
    expect(grubbsPairProbability(grubbsPairCritical(0.03, 12), 12)).toBeCloseTo(0.03, 7);
    expect(grubbsProbability(grubbsCritical(0.03, 12), 12)).toBeCloseTo(0.03, 12);
  });
});

const samples = fc.uniqueArray(fc.integer({ min: -500, max: 500 }), {
  minLength: 4,
  maxLength: 12,
});

describe('laws of the outlier tests', () => {
  const run = (results: number[]) =>
    outlierTests({
      data: { kind: 'results', results, side: 'either', dixonRatio: 'by-number' },
      unit: '1',
      significancePercent: 5,
    });

  it('do not depend on order, unit or origin, and mirror with the results', () => {
    fc.assert(
      fc.property(samples, fc.integer({ min: 1, max: 9 }), (results, factor) => {
        const plain = run(results).tests.map((test) => test.statistic);
        const moved = run(results.toReversed().map((x) => x * factor + 1000)).tests;
        moved.forEach((test, index) => {
          expect(test.statistic).toBeCloseTo(plain[index] ?? Number.NaN, 9);
        });
        const mirrored = run(results.map((x) => -x)).tests;
        const statistic = (tests: typeof mirrored, name: string, side: string) =>
          tests.find((test) => test.test === name && test.side === side)?.statistic ?? Number.NaN;
        for (const name of ['grubbs-one', 'grubbs-pair-same-side', 'dixon']) {
          expect(statistic(mirrored, name, 'highest')).toBeCloseTo(
            statistic(run(results).tests, name, 'lowest'),
            9,
          );
        }
      }),
      { seed: 31, numRuns: 8 },
    );
  });
});
