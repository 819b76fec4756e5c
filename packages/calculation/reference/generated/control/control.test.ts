import { describe, expect, it } from 'vitest';
import { oneSidedIndex, potentialIndex } from '../../../src/control/capability-indices.ts';
import { meanStandardDeviationFactor } from '../../../src/control/control-constants.ts';
import { type CountModel, exactCountLimits } from '../../../src/control/count-limits.ts';
import { cusumAverageRunLength } from '../../../src/control/cusum-run-length.ts';
import { ewmaAverageRunLength } from '../../../src/control/ewma-run-length.ts';
import { normalityTest } from '../../../src/control/normality-test.ts';
import { rangeMoments } from '../../../src/control/range-moments.ts';
import { shewhartVariables } from '../../../src/control/shewhart-variables.ts';
import shapes from '../scipy/values.json' with { type: 'json' };
import values from './values.json' with { type: 'json' };

const relative = (value: number | null | undefined, expected: number): number =>
  Math.abs((value ?? Number.NaN) / expected - 1);

describe('constants of the normal range and standard deviation', () => {
  const moments = rangeMoments(100);

  it.each(values.ranges)('d2 and d3 of $size readings', ({ size, mean, standardDeviation }) => {
    expect(relative(moments[size]?.mean, mean)).toBeLessThan(1e-13);
    expect(relative(moments[size]?.standardDeviation, standardDeviation)).toBeLessThan(1e-12);
  });

  it.each(values.c4)('c4 of $size readings', ({ size, value }) => {
    expect(relative(meanStandardDeviationFactor(size), value)).toBeLessThan(1e-14);
  });
});

describe('exact limits of counts', () => {
  it.each(values.limits)('%j', (one) => {
    const model: CountModel =
      one.sizePieces !== undefined && one.fraction !== undefined
        ? { kind: 'binomial', sizePieces: one.sizePieces, fraction: one.fraction }
        : { kind: 'poisson', mean: one.mean ?? Number.NaN };
    const limits = exactCountLimits(model, one.alpha);
    expect([limits.lower, limits.upper]).toEqual([one.lower, one.upper]);
    expect(relative(limits.falseAlarmProbability, one.outside)).toBeLessThan(1e-10);
  });
});

describe('run lengths that no table gives', () => {
  it.each(values.runLengths.cusumSteady)('steady cumulative sum %j', (one) => {
    const found = cusumAverageRunLength({ ...one, sides: 'one' }, one.shift, 'steady');
    expect(relative(found, one.value)).toBeLessThan(1e-9);
  });

  it.each(values.runLengths.ewmaSteady)('steady weighted average %j', (one) => {
    const found = ewmaAverageRunLength({ ...one, sides: 'two' }, one.shift, 'steady');
    expect(relative(found, one.value)).toBeLessThan(1e-9);
  });

  it.each(values.runLengths.ewmaOneSided)('one-sided weighted average %j', (one) => {
    const found = ewmaAverageRunLength({ ...one, sides: 'one' }, one.shift);
    expect(relative(found, one.value)).toBeLessThan(1e-9);
  });
});

describe('intervals and probability limits', () => {
  it.each(values.bounds)('χ² interval %j', (one) => {
    const found = potentialIndex(one.value, { count: 1, ...one });
    expect(relative(found.lowerBound, one.lower)).toBeLessThan(1e-12);
    expect(relative(found.upperBound, one.upper)).toBeLessThan(1e-12);
    expect(relative(found.leastAtConfidence, one.least)).toBeLessThan(1e-12);
  });

  it('one-sided and two-sided bounds of Bissell are one formula at two confidences', () => {
    const knowledge = { count: 40, degreesOfFreedom: 39 };
    const two = oneSidedIndex(1.2, { ...knowledge, confidence: 0.9 });
    const one = oneSidedIndex(1.2, { ...knowledge, confidence: 0.95 });
    expect(one.leastAtConfidence).toBeCloseTo(two.lowerBound ?? 0, 12);
  });

  it.each(values.spread)('upper limit of a standard deviation %j', ({ size, alpha, factor }) => {
    const readings = Array.from({ length: size }, (_, index) => index);
    const output = shewhartVariables({
      data: { chart: 'mean-standard-deviation', subgroups: [readings, readings] },
      limits: { from: 'standard', mean: 0, standardDeviation: 2 },
      spreadAlarmProbability: alpha,
      rules: [],
    });
    expect(relative(output.spread[0]?.upperLimit, 2 * factor)).toBeLessThan(1e-12);
  });

  it('upper limit of a standard deviation against a pooled one', () => {
    const { numerator, denominator, f } = values.precision;
    const summaries = Array.from({ length: denominator / numerator }, () => ({
      mean: 0,
      standardDeviation: 1,
      sizePieces: numerator + 1,
    }));
    const output = shewhartVariables({
      data: { chart: 'summaries', summaries },
      limits: { from: 'data' },
      spreadEstimate: 'pooled',
      spreadAlarmProbability: 0.01,
      rules: [],
    });
    expect(relative(output.spread[0]?.upperLimit, Math.sqrt(f))).toBeLessThan(1e-12);
  });
});

describe('test of normality', () => {
  it.each(shapes.shapes)('statistic of the sample "$name"', ({ values: sample, statistic }) => {
    expect(relative(normalityTest(sample).statistic, statistic)).toBeLessThan(1e-9);
  });

  /** Upper percentage points of the statistic, table 4.7 case 3, from memory. */
  const critical = [
    [0.15, 0.561],
    [0.1, 0.631],
    [0.05, 0.752],
    [0.025, 0.873],
    [0.01, 1.035],
  ] as const;

  /** A sample whose statistic is near a wanted one: normal scores with a stretched upper tail. */
  function sampleWith(statistic: number): number[] {
    const scores = Array.from({ length: 200 }, (_, index) => {
      const p = (index + 0.5) / 200;
      return Math.log(p / (1 - p));
    });
    let low = 0;
    let high = 3;
    for (let step = 0; step < 60; step += 1) {
      const middle = (low + high) / 2;
      const sample = scores.map((score) => score * (1 + middle * Math.abs(score)));
      if (normalityTest(sample).statistic < statistic) low = middle;
      else high = middle;
    }
    return scores.map((score) => score * (1 + low * Math.abs(score)));
  }

  it.each(critical)('gives %f at the tabulated point %f, to two digits', (probability, point) => {
    const found = normalityTest(sampleWith(point));
    expect(found.statistic).toBeCloseTo(point, 6);
    expect(relative(found.probability, probability)).toBeLessThan(0.03);
  });
});
