import { describe, expect, it } from 'vitest';
import { normalQuantile } from '../quantity/normal.ts';
import { type CapabilityInput, capability, capabilityCalculation } from './capability.ts';
import { indexValues } from './capability-indices.ts';
import { normalityTest } from './normality-test.ts';
import { orderedPercentile } from './ordered-percentile.ts';
import { movingRangeSpread } from './within-spread.ts';

/** Normal scores in an order that mixes high and low: a sample as normal as can be. */
function scores(count: number, mean: number, deviation: number): number[] {
  return Array.from({ length: count }, (_, index) => {
    const place = (index * 37) % count;
    return mean + deviation * normalQuantile((place + 0.5) / count);
  });
}

const base: CapabilityInput = {
  data: { kind: 'individuals', values: scores(100, 31.1, 0.02) },
  method: 'normal',
  lowerLimit: 31,
  upperLimit: 31.2,
  target: 31.1,
  confidence: 0.95,
};

describe('capability by normal theory', () => {
  const output = capability(base);

  it('agrees with its definition', () => {
    const s = output.overall.standardDeviation ?? 0;
    expect(output.overall.potential?.value).toBeCloseTo(0.2 / (6 * s), 12);
    expect(output.overall.actual.value).toBeCloseTo(0.1 / (3 * s), 8);
    expect(output.aboutTarget?.value).toBeCloseTo(0.2 / (6 * s), 8);
    expect(output.observedOutsidePieces).toBe(0);
  });

  it('bounds stand around the value, the one-sided one above the two-sided', () => {
    for (const index of [output.overall.potential, output.overall.actual, output.within?.actual]) {
      if (!index) throw new Error('no index');
      const { lowerBound, leastAtConfidence, value, upperBound } = index;
      const order = [lowerBound, leastAtConfidence, value, upperBound].map(Number);
      expect(order).toEqual([...order].sort((a, b) => a - b));
    }
  });

  it('one limit has an index to that limit only', () => {
    const { upperLimit: _, target: __, ...oneSided } = base;
    const { overall, aboutTarget } = capability({ ...oneSided });
    expect(overall.potential).toBeNull();
    expect(overall.toUpperLimit).toBeNull();
    expect(overall.actual.value).toBe(overall.toLowerLimit?.value);
    expect(aboutTarget).toBeNull();
  });

  it('subgroups that wander have a Cpk above their Ppk', () => {
    const readings = scores(120, 0, 1);
    const subgroups = Array.from({ length: 24 }, (_, group) =>
      readings.slice(5 * group, 5 * group + 5).map((value) => value + 1.2 * Math.sin(group)),
    );
    const wandering = capability({
      data: { kind: 'subgroups', subgroups },
      method: 'normal',
      lowerLimit: -6,
      upperLimit: 6,
      confidence: 0.9,
    });
    expect(wandering.within?.degreesOfFreedom).toBe(96);
    expect(wandering.within?.actual.value).toBeGreaterThan(wandering.overall.actual.value);
  });

  it('warns of few readings and counts those outside', () => {
    const few = capability({
      ...base,
      data: { kind: 'individuals', values: scores(12, 31.1, 0.02) },
      upperLimit: 31.12,
    });
    expect(few.words).toContain('12 readings are few');
    expect(few.observedOutsidePieces).toBeGreaterThan(0);
    expect(few.words).toContain('of the readings are outside');
  });

  it('draws the process between its limits', () => {
    const [chart] = capabilityCalculation.draw?.(base, output) ?? [];
    if (chart?.kind !== 'chart') throw new Error('no chart');
    expect(chart.marks?.map((mark) => mark.x)).toEqual([31, 31.1, 31.2]);
    expect(chart.series.map((series) => series.label)).toEqual(['overall', 'within']);
  });
});

describe('capability by percentiles', () => {
  it('from the points of a fitted distribution', () => {
    const output = capability({
      data: { kind: 'percentiles', lowPoint: 1, median: 3, highPoint: 9 },
      method: 'percentile',
      lowerLimit: 0,
      upperLimit: 12,
      confidence: 0.95,
    });
    // (12 − 0)/(9 − 1); min((12 − 3)/(9 − 3), (3 − 0)/(3 − 1)).
    expect(output.overall.potential?.value).toBe(1.5);
    expect(output.overall.actual).toMatchObject({ value: 1.5, lowerBound: null });
    expect(output.words).toBe('Ppk 1.50.');
    expect(capabilityCalculation.draw?.({ ...base, method: 'percentile' }, output)).toEqual([]);
  });

  it('from many normal readings agrees with normal theory, but for the place of the percentile', () => {
    const count = 5003;
    const data = { kind: 'individuals' as const, values: scores(count, 31.1, 0.02) };
    const byPercentile = capability({ ...base, data, method: 'percentile' });
    const byNormal = capability({ ...base, data });
    const ratio = byPercentile.overall.actual.value / byNormal.overall.actual.value;
    // The scores stand at (i − 1/2)/n, the percentile is sought at (n + 1)p.
    const z = normalQuantile(((count + 1) * 0.00135 - 0.5) / count);
    expect(ratio).toBeCloseTo(3 / -z, 3);
  });
});

describe('refusals', () => {
  const refused = (change: Partial<CapabilityInput>) => () => capability({ ...base, ...change });

  it('readings that cannot be normal, with the way out', () => {
    const values = scores(100, 0, 1).map((z) => Math.exp(z));
    expect(refused({ data: { kind: 'individuals', values } })).toThrow(
      /not normal \(Anderson–Darling .*740 readings or more/,
    );
  });

  it('no limit, or limits in the wrong order', () => {
    const { lowerLimit: _, upperLimit: __, ...open } = base;
    expect(() => capability({ ...open })).toThrow('a lower limit, an upper limit, or both');
    expect(refused({ lowerLimit: 32 })).toThrow('a lower limit below the upper limit 31.2');
  });

  it('too few readings for the method', () => {
    expect(refused({ data: { kind: 'individuals', values: [1, 2, 3] } })).toThrow('at least 8');
    expect(refused({ method: 'percentile' })).toThrow('740 readings or more');
  });

  it('no spread', () => {
    const values = Array.from({ length: 10 }, () => 1);
    expect(refused({ data: { kind: 'individuals', values } })).toThrow('not all equal');
    expect(() =>
      indexValues({ lowerLimit: 0, upperLimit: 1 }, { middle: 0.5, widthBelow: 0, widthAbove: 1 }),
    ).toThrow('fine enough');
  });

  it('a method that does not fit the data', () => {
    const percentiles = { kind: 'percentiles' as const, lowPoint: 1, median: 2, highPoint: 3 };
    expect(refused({ data: percentiles })).toThrow('percentile, where the data are percentiles');
    const summary = { kind: 'summary' as const, mean: 1, standardDeviation: 1, countPieces: 9 };
    expect(refused({ data: summary, method: 'percentile' })).toThrow('normal, where the data');
    expect(refused({ data: { ...percentiles, median: 4 }, method: 'percentile' })).toThrow(
      'a median between the outer points',
    );
  });
});

describe('its parts', () => {
  it('percentiles beyond the ends give the ends, and a fraction outside 0 to 1 is refused', () => {
    expect(orderedPercentile([1, 2, 3], 0.01, 'n+1')).toBe(1);
    expect(orderedPercentile([1, 2, 3], 0.99, 'n+1')).toBe(3);
    expect(() => orderedPercentile([1], 2, 'n+1')).toThrow('from 0 to 1');
    expect(() => orderedPercentile([], 0.5, 'n+1')).toThrow('at least one reading');
  });

  it('the degrees of freedom of moving ranges tend to 0.605 for each reading', () => {
    // 0.605 is the efficiency against s in Cryer and Ryan (1990), from memory.
    const many = Array.from({ length: 10_001 }, (_, index) => index % 2);
    expect(movingRangeSpread(many).degreesOfFreedom / 10_000).toBeCloseTo(0.605, 3);
  });

  it('a reading a thousand deviations out has no probability left', () => {
    const values = [...scores(500, 0, 1), 1e4];
    expect(normalityTest(values).probability).toBe(0);
  });
});
