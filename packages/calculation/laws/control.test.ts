import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { capability } from '../src/control/capability.ts';
import { oneSidedIndex } from '../src/control/capability-indices.ts';
import { exactCountLimits } from '../src/control/count-limits.ts';
import { cusum } from '../src/control/cusum.ts';
import { ewma } from '../src/control/ewma.ts';
import { rangeMoments } from '../src/control/range-moments.ts';
import { pointsOfRule, runRules } from '../src/control/run-rules.ts';
import { shewhartAttributes } from '../src/control/shewhart-attributes.ts';
import { shewhartVariables } from '../src/control/shewhart-variables.ts';
import { vMaskOfTabular, vMaskSignals } from '../src/control/v-mask.ts';
import { movingRangeSpread } from '../src/control/within-spread.ts';
import { seededNormal } from './simulation.ts';

const seed = 1931;
/** Readings in 64ths, so that sums and shifts by whole numbers are exact. */
const readings = (least: number, most: number) =>
  fc.array(
    fc.integer({ min: -512, max: 512 }).map((value) => value / 64),
    { minLength: least, maxLength: most },
  );

describe('run rules', () => {
  it('do not change when up and down are exchanged', () => {
    fc.assert(
      fc.property(readings(1, 60), fc.constantFrom(...runRules), (values, rule) => {
        const mirrored = values.map((value) => -value);
        expect(pointsOfRule(rule, mirrored)).toEqual(pointsOfRule(rule, values));
      }),
      { seed, numRuns: 300 },
    );
  });

  it('see nothing in the future: what comes later changes no earlier signal', () => {
    fc.assert(
      fc.property(
        readings(1, 40),
        readings(0, 20),
        fc.constantFrom(...runRules),
        (past, future, rule) => {
          const all = pointsOfRule(rule, [...past, ...future]);
          expect(all.filter((index) => index < past.length)).toEqual(pointsOfRule(rule, past));
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  it('a rule that asks for more is fulfilled less often', () => {
    fc.assert(
      fc.property(readings(1, 80), (values) => {
        const nine = pointsOfRule('nelson-2', values);
        const eight = new Set(pointsOfRule('western-electric-4', values));
        expect(nine.every((index) => eight.has(index))).toBe(true);
      }),
      { seed, numRuns: 200 },
    );
  });
});

describe('charts of measured values', () => {
  const groups = fc
    .integer({ min: 2, max: 6 })
    .chain((size) => fc.array(readings(size, size), { minLength: 3, maxLength: 15 }));

  it('move with the readings and scale with their unit', () => {
    fc.assert(
      fc.property(groups, (subgroups) => {
        fc.pre(subgroups.some((group) => group.some((value) => value !== group[0])));
        const chart = (change: (value: number) => number) =>
          shewhartVariables({
            data: {
              chart: 'mean-range',
              subgroups: subgroups.map((group) => group.map(change)),
            },
            limits: { from: 'data' },
            rules: ['nelson-2', 'nelson-5'],
          });
        const plain = chart((value) => value);
        const scaled = chart((value) => 4 * value);
        const moved = chart((value) => value + 100);
        expect(scaled.centreLine).toBe(4 * plain.centreLine);
        expect(scaled.standardDeviation).toBe(4 * plain.standardDeviation);
        expect(scaled.signals).toEqual(plain.signals);
        expect(moved.standardDeviation).toBe(plain.standardDeviation);
        expect(moved.centreLine).toBeCloseTo(plain.centreLine + 100, 9);
      }),
      { seed, numRuns: 60 },
    );
  });

  it('single readings and their charts do not depend on what follows phase one', () => {
    fc.assert(
      fc.property(readings(5, 20), readings(1, 10), (first, later) => {
        fc.pre(first.some((value) => value !== first[0]));
        const chart = (values: number[]) =>
          shewhartVariables({
            data: { chart: 'individuals', values },
            limits: { from: 'data', phaseOneCount: first.length },
            rules: [],
          });
        const alone = chart(first);
        const longer = chart([...first, ...later]);
        expect(longer.location.slice(0, first.length)).toEqual(alone.location);
      }),
      { seed, numRuns: 100 },
    );
  });
});

describe('charts of counts', () => {
  it('p and np tell the same', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 3, maxLength: 30 }),
        (counts) => {
          const total = counts.reduce((sum, count) => sum + count, 0);
          fc.pre(total > 0 && total < 40 * counts.length);
          const common = {
            limits: { from: 'data' as const },
            limitKind: { kind: 'probability' as const, falseAlarmProbability: 0.01 },
            rules: ['nelson-2' as const],
          };
          const samples = counts.map((count) => ({ nonconformingPieces: count, sizePieces: 40 }));
          const fraction = shewhartAttributes({ ...common, data: { chart: 'p', samples } });
          const number = shewhartAttributes({
            ...common,
            data: { chart: 'np', sizePieces: 40, nonconformingPieces: counts },
          });
          expect(number.outside).toEqual(fraction.outside);
          expect(number.dispersionRatio).toBeCloseTo(fraction.dispersionRatio, 9);
        },
      ),
      { seed, numRuns: 200 },
    );
  });

  it('exact limits keep their probability, and no narrower limits would', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 300, noNaN: true }),
        fc.double({ min: 0.0005, max: 0.2, noNaN: true }),
        (mean, alpha) => {
          const limits = exactCountLimits({ kind: 'poisson', mean }, alpha);
          expect(limits.falseAlarmProbability).toBeLessThanOrEqual(alpha);
          const wider = exactCountLimits({ kind: 'poisson', mean }, alpha / 2);
          expect(wider.lower).toBeLessThanOrEqual(limits.lower);
          expect(wider.upper).toBeGreaterThanOrEqual(limits.upper);
        },
      ),
      { seed, numRuns: 200 },
    );
  });
});

describe('cumulative sums', () => {
  it('signal exactly where the V-mask does', () => {
    fc.assert(
      fc.property(
        readings(1, 60),
        fc.integer({ min: 1, max: 64 }),
        fc.integer({ min: 8, max: 320 }),
        (values, k, h) => {
          // Sixty-fourths: both roads are exact, so that even ties must agree.
          const design = { referenceValue: k / 64, decisionInterval: h / 64, standardDeviation: 1 };
          const output = cusum({ ...design, values, target: 0, headstart: 0 });
          const exact = { leadDistanceValues: h / k, slopePerValue: k / 64 };
          expect(vMaskOfTabular(design)).toEqual(exact);
          const numbers = (beyond: (point: (typeof output.points)[number]) => boolean) =>
            output.points.filter(beyond).map((point) => point.number);
          const mask = vMaskSignals(values, 0, exact);
          // h/k may not be exact in binary: a sum that meets h to the last place is left aside.
          fc.pre(
            output.points.every((point) => point.upperSum !== h / 64 && point.lowerSum !== h / 64),
          );
          expect(numbers((point) => point.upperSum > h / 64)).toEqual(mask.high);
          expect(numbers((point) => point.lowerSum > h / 64)).toEqual(mask.low);
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  it('exchange their arms when the readings are mirrored about the target', () => {
    fc.assert(
      fc.property(readings(1, 40), (values) => {
        const design = { target: 0, standardDeviation: 1, headstart: 1 };
        const common = { ...design, referenceValue: 0.5, decisionInterval: 4 };
        const plain = cusum({ ...common, values });
        const mirrored = cusum({ ...common, values: values.map((value) => -value) });
        expect(mirrored.points.map((point) => point.upperSum)).toEqual(
          plain.points.map((point) => point.lowerSum),
        );
      }),
      { seed, numRuns: 100 },
    );
  });
});

describe('weighted averages', () => {
  it('are the written-out sum of weights', () => {
    fc.assert(
      fc.property(
        readings(1, 30),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        (values, smoothing) => {
          const output = ewma({
            values,
            target: 3,
            standardDeviation: 1,
            smoothing,
            limitFactor: 3,
            limits: 'exact',
          });
          const rest = 1 - smoothing;
          const written = values.reduce(
            (sum, value, index) => sum + smoothing * rest ** (values.length - 1 - index) * value,
            3 * rest ** values.length,
          );
          expect(output.latestAverage).toBeCloseTo(written, 10);
        },
      ),
      { seed, numRuns: 60 },
    );
  });
});

describe('capability', () => {
  it('does not depend on the unit or the order of subgroups, and Cpk never exceeds Cp', () => {
    const normal = seededNormal(7);
    const subgroups = Array.from({ length: 12 }, () => Array.from({ length: 5 }, normal));
    const found = (change: (value: number) => number, groups = subgroups) =>
      capability({
        data: { kind: 'subgroups', subgroups: groups.map((group) => group.map(change)) },
        method: 'normal',
        lowerLimit: change(-5),
        upperLimit: change(4),
        confidence: 0.95,
      });
    const plain = found((value) => value);
    const other = found((value) => 8 * value + 256, [...subgroups].reverse());
    expect(other.overall.actual.value).toBeCloseTo(plain.overall.actual.value, 9);
    expect(other.within?.actual.lowerBound).toBeCloseTo(plain.within?.actual.lowerBound ?? 0, 9);
    expect(plain.overall.actual.value).toBeLessThanOrEqual(plain.overall.potential?.value ?? 0);
  });

  it('the lower bound of Bissell holds in about 95 of 100 samples', () => {
    const normal = seededNormal(1990);
    const [count, trials] = [50, 4000];
    const trueIndex = 1.2;
    let covered = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const sample = Array.from({ length: count }, normal);
      const mean = sample.reduce((sum, value) => sum + value, 0) / count;
      const squares = sample.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      // A limit far on the other side: the index to the lower limit alone.
      const index = (mean + 3 * trueIndex) / (3 * Math.sqrt(squares / (count - 1)));
      const knowledge = { count, degreesOfFreedom: count - 1, confidence: 0.95 };
      if ((oneSidedIndex(index, knowledge).leastAtConfidence ?? 0) <= trueIndex) covered += 1;
    }
    // Standard error of the simulated share 0.0034; the approximation is off by about a hundredth.
    expect(covered / trials).toBeGreaterThan(0.925);
    expect(covered / trials).toBeLessThan(0.965);
  });

  it('the spread of the mean moving range is that of its degrees of freedom', () => {
    const normal = seededNormal(1989);
    const trials = 6000;
    const spreads = Array.from({ length: trials }, () =>
      movingRangeSpread(Array.from({ length: 20 }, normal)),
    );
    const values = spreads.map((one) => one.standardDeviation);
    const mean = values.reduce((sum, value) => sum + value, 0) / trials;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (trials - 1);
    // Unbiased, and 1/(2ν) its variance; the standard error of a variance of 6000 values is 2 %.
    expect(mean).toBeCloseTo(1, 1.8);
    const expected = 1 / (2 * (spreads[0]?.degreesOfFreedom ?? 1));
    expect(Math.abs(variance / expected - 1)).toBeLessThan(0.08);
  });
});

describe('the range of normal readings', () => {
  it('has the simulated mean and standard deviation', () => {
    const normal = seededNormal(1925);
    const [size, trials] = [7, 40_000];
    const ranges = Array.from({ length: trials }, () => {
      const sample = Array.from({ length: size }, normal);
      return Math.max(...sample) - Math.min(...sample);
    });
    const mean = ranges.reduce((sum, value) => sum + value, 0) / trials;
    const squares = ranges.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    const moments = rangeMoments(size)[size];
    // Four standard errors: d3/√trials, and about d3/√(2·trials) of the standard deviation.
    const error = (moments?.standardDeviation ?? 0) / Math.sqrt(trials);
    expect(Math.abs(mean - (moments?.mean ?? 0))).toBeLessThan(4 * error);
    expect(Math.abs(Math.sqrt(squares / trials) - (moments?.standardDeviation ?? 0))).toBeLessThan(
      4 * error,
    );
  });

  it('grows with the number of readings, and spreads less and less', () => {
    const moments = rangeMoments(100);
    for (let size = 4; size <= 100; size += 1) {
      expect(moments[size]?.mean).toBeGreaterThan(moments[size - 1]?.mean ?? 9);
      expect(moments[size]?.standardDeviation).toBeLessThan(
        moments[size - 1]?.standardDeviation ?? 0,
      );
    }
  });
});
