import { describe, expect, it } from 'vitest';
import { pointsOfRule, type RunRule } from './run-rules.ts';
import { nameOfRule, namePoints, runSignals, tellSignals } from './run-signals.ts';

const repeat = (count: number, value: number): number[] =>
  Array.from({ length: count }, () => value);
const zigzag = (count: number): number[] =>
  Array.from({ length: count }, (_, index) => (index % 2 === 0 ? 0.3 : -0.3));
const climb = (count: number): number[] => Array.from({ length: count }, (_, index) => 0.1 * index);

/** Each rule with a series that just fulfils it at its last point, and one that just does not. */
const boundaries: readonly [RunRule, number[], number[]][] = [
  ['western-electric-1', [0, 3.01], [0, 3]],
  ['western-electric-2', [2.1, 0, 2.1], [2.1, 0, 0, 2.1]],
  ['western-electric-2', [0, -2.1, -2.1], [0, 2.1, -2.1]],
  ['western-electric-3', [1.1, 1.1, 0, 1.1, 1.1], [1.1, 1.1, 0, 0, 1.1, 1.1]],
  ['western-electric-4', repeat(8, 0.1), repeat(7, 0.1)],
  ['nelson-1', [-3.01], [-3]],
  ['nelson-2', repeat(9, -0.1), [...repeat(8, -0.1), 0]],
  ['nelson-3', climb(6), climb(5)],
  ['nelson-3', climb(6).reverse(), [...climb(5), 0.4]],
  ['nelson-4', zigzag(14), zigzag(13)],
  ['nelson-5', [2.5, 2.5], [2.5, 1.9]],
  ['nelson-6', repeat(4, 1.2), repeat(3, 1.2)],
  ['nelson-7', zigzag(15), [...zigzag(14), 1]],
  ['nelson-8', [1.1, -1.1, 1.1, -1.1, 2, -2, 1.5, -1.5], [1.1, -1.1, 1.1, 0.9, 2, -2, 1.5, -1.5]],
];

describe('run rules', () => {
  it.each(boundaries)('%s is fulfilled by %j and not by %j', (rule, fulfilled, missed) => {
    expect(pointsOfRule(rule, fulfilled)).toEqual([fulfilled.length - 1]);
    expect(pointsOfRule(rule, missed)).toEqual([]);
  });

  it('does not count two of three when the last point is outside the zone', () => {
    expect(pointsOfRule('nelson-5', [2.5, 2.5, 0])).toEqual([1]);
  });

  it('a flat step ends a zigzag, and a new one starts with it', () => {
    const series = [...zigzag(8), -0.3, ...zigzag(13)];
    expect(pointsOfRule('nelson-4', series)).toEqual([series.length - 1]);
  });

  it('trends are those of the plotted values, sides those of the deviations', () => {
    const values = [1, 2, 3, 4, 5, 6];
    expect(pointsOfRule('nelson-3', repeat(6, 0.5), values)).toEqual([5]);
    expect(pointsOfRule('nelson-2', repeat(9, 0.5), [...values, 7, 8, 9])).toEqual([8]);
  });

  it('draws an unbroken stretch together and says what it is', () => {
    const [signal, ...rest] = runSignals(['nelson-2'], [-1, ...repeat(11, 0.2)]);
    expect(rest).toEqual([]);
    expect(signal).toMatchObject({ rule: 'nelson-2', firstSignalPoint: 10 });
    expect(signal?.points).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    expect(signal?.words).toBe(
      'Points 2 to 12: nine or more in a row above the centre line (Nelson test 2).',
    );
  });

  it('names only the points in the zone', () => {
    const [signal] = runSignals(['western-electric-3'], [-1.5, 0, -1.5, -1.5, -1.5]);
    expect(signal?.points).toEqual([1, 3, 4, 5]);
    expect(signal?.words).toContain(
      'four out of five in a row more than 1 standard deviation below',
    );
  });

  it.each([
    ['nelson-1', [3.5], 'more than 3 standard deviations'],
    ['nelson-3', climb(7), 'six or more in a row steadily rising'],
    ['nelson-3', climb(7).reverse(), 'six or more in a row steadily falling'],
    ['nelson-4', zigzag(14), '14 or more in a row going up and down'],
    ['nelson-7', zigzag(15), '15 or more in a row within 1 standard deviation'],
    ['nelson-8', repeat(8, 1.5), 'eight or more in a row with none within 1'],
  ] as const)('says for %s what was seen', (rule, series, words) => {
    expect(runSignals([rule], series)[0]?.words).toContain(words);
  });

  it('tells six signals in full and counts the rest', () => {
    const signals = Array.from({ length: 9 }, (_, index) => ({ words: `Signal ${index + 1}.` }));
    const told = tellSignals(signals);
    expect(told).toHaveLength(7);
    expect(told[6]).toBe('3 more signals of the run rules.');
    expect(tellSignals(signals.slice(0, 2))).toEqual(['Signal 1.', 'Signal 2.']);
  });

  it('names rules and points as printed', () => {
    expect(nameOfRule('western-electric-2')).toBe('Western Electric rule 2');
    expect(namePoints([3])).toBe('Point 3');
    expect(namePoints([3, 5])).toBe('Points 3, 5');
    expect(namePoints([1, 3, 5, 7, 9, 11, 13, 15, 17, 19])).toBe(
      'Points 1, 3, 5, 7, 9, 11, 13, 15 and 2 more',
    );
  });
});
