import { describe, expect, it } from 'vitest';
import { dip } from './dip.ts';
import { secondMode, secondModeCalculation } from './second-mode.ts';
import { twoComponents, twoComponentsCalculation } from './two-components.ts';
import { uniformDips } from './uniform-dips.ts';

const mixed = twoComponentsCalculation.example;
const equal = new Array<number>(30).fill(31.1);

describe('twoComponents', () => {
  it('finds both sortings with their shares, means and the mass that parts them', () => {
    const result = twoComponents(mixed);
    // Twenty masses each, so well apart that shares and means are those of the two halves.
    const half = (from: number) =>
      mixed.massesGrams.slice(from, from + 20).reduce((sum, mass) => sum + mass, 0) / 20;
    expect(result.lighter.share).toBeCloseTo(0.5, 6);
    expect(result.lighter.meanGrams).toBeCloseTo(half(0), 6);
    expect(result.heavier.meanGrams).toBeCloseTo(half(20), 6);
    expect(result.lighter.shareStandardError).toBeCloseTo(0.5 / Math.sqrt(40), 5);
    expect(result.divideGrams as number).toBeGreaterThan(31.124);
    expect(result.divideGrams as number).toBeLessThan(31.172);
    expect(result.modesGrams).toHaveLength(2);
    expect(result.words).toContain('very strongly');
  });

  it('with equal deviations has one deviation', () => {
    const result = twoComponents({ ...mixed, standardDeviations: 'equal' });
    expect(result.lighter.standardDeviationGrams).toBe(result.heavier.standardDeviationGrams);
  });

  it('refuses equal masses and masses in which no second heap can be fitted', () => {
    expect(() => twoComponents({ ...mixed, massesGrams: equal })).toThrow('not all equal');
    const massesGrams = [...equal.slice(0, 19), 31.2];
    expect(() => twoComponents({ ...mixed, massesGrams })).toThrow('two heaps can be fitted');
  });
});

describe('secondMode', () => {
  const example = secondModeCalculation.example;

  it('leaves the test of heaps out when it is not asked for', () => {
    const result = secondMode({ ...example, heapsTest: { kind: 'none' } });
    expect(result.heapsProbability).toBeNull();
    expect(result.fittedModes).toBeNull();
    expect(result.verdict).toBe('two-modes');
    expect(result.words).toContain('the lot is mixed');
  });

  it('states the standard error of the simulated probability', () => {
    const result = secondMode({ ...example, heapsTest: { kind: 'none' }, dipSamples: 400 });
    const p = result.dipProbability;
    expect(result.dipProbabilityStandardError).toBeCloseTo(Math.sqrt((p * (1 - p)) / 400), 12);
  });

  it('refuses equal masses, and a bootstrap that would not end', () => {
    expect(() => secondMode({ ...example, massesGrams: equal })).toThrow('not all equal');
    const massesGrams = Array.from({ length: 1000 }, (_, index) => 31 + 0.001 * index);
    expect(() =>
      secondMode({
        ...example,
        massesGrams,
        heapsTest: { kind: 'bootstrap', samples: 500, standardDeviations: 'free' },
      }),
    ).toThrow('at most 400 samples for 1000 masses');
  });
});

describe('dips', () => {
  it('refuse an empty list and counts below one', () => {
    expect(() => dip([])).toThrow('at least one mass');
    expect(() => uniformDips(0, 10, 1)).toThrow('whole number of 1 or more');
  });

  it('of up to three uniform values are always the least', () => {
    expect([...uniformDips(3, 5, 1)]).toEqual(new Array(5).fill(1 / 6));
  });
});
