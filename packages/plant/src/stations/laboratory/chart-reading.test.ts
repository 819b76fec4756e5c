import { ewmaAverageRunLength, shewhartVariables } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import type { ChartPointRow } from './chart-books.ts';
import { phaseOneOf, readChart } from './chart-reading.ts';
import { type ChartSubject, rangesOfDuplicates } from './chart-subjects.ts';

const pointsOf = (values: readonly number[], change: Partial<ChartPointRow>[] = []) =>
  values.map(
    (value, index): ChartPointRow => ({
      chart: 'surcharge.lark-8',
      number: index + 1,
      value,
      assayRun: `R-${index + 1}`,
      melt: 'M-1',
      instrument: 'B-1',
      labels: [],
      entry: index + 10,
      instant: '2026-03-02T07:00:00.000Z',
      author: 'assayer',
      state: 'counts',
      why: null,
      ...change[index],
    }),
  );

const read = (points: readonly ChartPointRow[], subject: ChartSubject = 'surcharge') =>
  readChart({ subject, phaseOne: phaseOneOf(points), newest: points });

function judged(points: readonly ChartPointRow[], subject: ChartSubject = 'surcharge') {
  const reading = read(points, subject);
  if (reading.state !== 'judged') throw new RangeError(reading.words);
  return reading;
}

/** Twenty values about 1 without any pattern: by turns two up and two down. */
const quiet = [
  1, 1.1, 0.9, 1.05, 0.95, 1.02, 1.08, 0.92, 0.97, 1.03, 1, 0.94, 1.06, 1.01, 0.96, 1.07, 0.93,
  1.04, 0.98, 0.99,
];

describe('readChart', () => {
  it('gives the limits of the ten flow rates of the NIST/SEMATECH handbook, 6.3.2.2', () => {
    // Printed there: centre 50.81, upper limit 55.8041, lower limit 45.8159.
    const values = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
    const { limits } = judged(pointsOf(values));
    expect(limits.centreLine).toBeCloseTo(50.81, 10);
    expect(limits.upperLimit).toBeCloseTo(55.8041, 2);
    expect(limits.lowerLimit).toBeCloseTo(45.8159, 2);
    expect(limits).toMatchObject({ points: 10, isProvisional: true });
  });

  it('sets the limits from the first 20 points and judges what comes after by them', () => {
    const { limits, signals } = judged(pointsOf([...quiet, 5]));
    const alone = shewhartVariables({
      data: { chart: 'individuals', values: quiet },
      limits: { from: 'data' },
      rules: [],
    });
    expect(limits).toMatchObject({ points: 20, through: 20, isProvisional: false });
    expect(limits.centreLine).toBe(alone.centreLine);
    expect(limits.standardDeviation).toBe(alone.standardDeviation);
    expect(signals.map(({ rule, points }) => [rule, points])).toEqual([
      ['Western Electric rule 1', [21]],
      ['Weighted average', [21]],
    ]);
  });

  it('names the rule and the points of a run on one side', () => {
    const { signals } = judged(
      pointsOf([...quiet, 1.01, 1.02, 1.01, 1.02, 1.01, 1.02, 1.01, 1.02]),
    );
    expect(signals).toContainEqual({
      rule: 'Western Electric rule 4',
      points: [21, 22, 23, 24, 25, 26, 27, 28],
      words:
        'Points 21 to 28: eight or more in a row above the centre line (Western Electric rule 4).',
    });
  });

  it('judges ranges by their limits only, since they are skew', () => {
    const run = [1.01, 1.02, 1.01, 1.02, 1.01, 1.02, 1.01, 1.02];
    const { signals } = judged(pointsOf([...quiet, ...run]), 'duplicate-range');
    expect(signals.map(({ rule }) => rule)).not.toContain('Western Electric rule 4');
  });

  it('signals only beyond the limits while they are provisional', () => {
    // The stray at the end draws the centre line above all the others.
    const { signals } = judged(pointsOf([...quiet.slice(0, 15), 5]));
    expect(signals.map(({ rule, points }) => [rule, points])).toEqual([
      ['Western Electric rule 1', [16]],
    ]);
  });

  it('has no lower limit below 0 for a range', () => {
    const { limits, drawings } = judged(pointsOf([0.1, 0.4, 0.2, 0.5, 0.1]), 'duplicate-range');
    expect(limits.lowerLimit).toBe(0);
    expect(drawings[0]?.levels?.map(({ label }) => label)).toEqual(['upper limit', 'centre line']);
    expect(judged(pointsOf([0.1, 0.4, 0.2, 0.5, 0.1])).limits.lowerLimit).toBeLessThan(0);
  });

  it('a void run is judged but sets no limits', () => {
    const change = [{}, {}, { state: 'void' as const, why: 'spread' }];
    const values = [1, 1.1, 9, 0.95, 1.05, 1, 1.1, 0.95, 1.05, 1, 1.02];
    const { limits, signals } = judged(pointsOf(values, change));
    expect(limits.points).toBe(10);
    expect(limits.centreLine).toBeLessThan(1.1);
    expect(signals[0]).toMatchObject({ rule: 'Western Electric rule 1', points: [3] });
  });

  it('a point left out is drawn and not judged, and the others keep their numbers', () => {
    const change = [{}, {}, { state: 'left out' as const, why: 'cracked cupel' }];
    const { signals, drawings } = judged(pointsOf([1, 1.1, 9, ...quiet, 5], change));
    expect(signals.map(({ points }) => points)).toEqual([[24], [24]]);
    const [runs] = drawings;
    expect(runs?.series.find(({ label }) => label === 'left out')).toMatchObject({
      x: [3],
      y: [9],
    });
    expect(runs?.series[0]?.x.slice(0, 3)).toEqual([1, 2, 4]);
    expect(runs?.series.find(({ label }) => label === 'outside')?.x).toEqual([24]);
    // Twenty points count up to point 21.
    expect(runs?.marks).toEqual([{ x: 21.5, label: 'limits set' }]);
  });

  it('draws runs, moving ranges and weighted averages, and says when limits are provisional', () => {
    const { drawings, calculations } = judged(pointsOf(quiet.slice(0, 5)));
    expect(drawings.map(({ title }) => title)).toEqual([
      'Surcharge, runs one by one (limits provisional)',
      'Surcharge, from one run to the next (limits provisional)',
      'Surcharge, weighted average (limits provisional)',
    ]);
    expect(calculations).toEqual(['shewhart-variables version 1', 'ewma version 1']);
  });

  it.each([
    ['one point', [1]],
    ['equal points', [1, 1, 1]],
  ])('has no limits from %s', (_what, values) => {
    const reading = read(pointsOf(values));
    expect(reading.state).toBe('no limits');
  });
});

describe('the weighted average', () => {
  it('crosses its limits every 500 points in control', () => {
    const length = ewmaAverageRunLength({ smoothing: 0.2, limitFactor: 2.962, sides: 'two' }, 0);
    expect(length).toBeGreaterThan(490);
    expect(length).toBeLessThan(510);
  });
});

describe('rangesOfDuplicates', () => {
  const one = (label: string, finenessPerMille: number) => ({ label, finenessPerMille });

  it('takes determinations two by two, and leaves the odd one', () => {
    const ranges = rangesOfDuplicates([one('a', 916.5), one('b', 916.75), one('c', 917)]);
    expect(ranges).toEqual([{ subject: 'duplicate-range', value: 0.25, labels: ['a', 'b'] }]);
    expect(rangesOfDuplicates([one('a', 916)])).toEqual([]);
  });
});
