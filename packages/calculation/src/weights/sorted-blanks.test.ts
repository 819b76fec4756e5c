import { describe, expect, it } from 'vitest';
import { sampleMoments } from '../quantity/sample-moments.ts';
import { massSummary } from './mass-summary.ts';
import { sorterEdge, sorterEdgeCalculation } from './sorter-edge.ts';
import { truncatedNormal, truncatedNormalCalculation } from './truncated-normal.ts';

const cut = truncatedNormalCalculation.example;
const edge = sorterEdgeCalculation.example;
const even = Array.from({ length: 40 }, (_, index) => 31.1 + 0.001 * index);

describe('massSummary', () => {
  it('has mean and variance of compensated sums, far from zero too', () => {
    const masses = even.map((mass) => mass + 1e5);
    const { mean, standardDeviation } = sampleMoments(masses);
    const found = massSummary(masses);
    expect(found.mean).toBeCloseTo(mean, 9);
    expect(found.variance / (((standardDeviation ?? 0) ** 2 * 39) / 40)).toBeCloseTo(1, 9);
  });
});

describe('truncatedNormal', () => {
  it('without edges is the plain normal distribution', () => {
    const result = truncatedNormal({
      ...cut,
      lightEdge: { kind: 'none' },
      heavyEdge: { kind: 'none' },
    });
    expect(result.meanGrams).toBeCloseTo(result.plainMeanGrams, 12);
    expect(result.standardDeviationGrams).toBeCloseTo(result.plainStandardDeviationGrams, 12);
    expect(result.informationGain).toBeCloseTo(0, 8);
    // Standard errors of a plain normal distribution: s/√n and s/√(2n).
    const s = result.plainStandardDeviationGrams;
    expect(result.meanStandardErrorGrams).toBeCloseTo(s / Math.sqrt(30), 12);
    expect(result.standardDeviationStandardErrorGrams).toBeCloseTo(s / Math.sqrt(60), 12);
    expect(result.better).toBe('plain');
  });

  it('takes the lightest piece for an unknown edge, and pays for it in information', () => {
    const unknown = truncatedNormal({ ...cut, lightEdge: { kind: 'unknown' } });
    expect(unknown.lightEdgeGrams).toBe(31.101);
    const known = truncatedNormal({ ...cut, lightEdge: { kind: 'known', massGrams: 31.101 } });
    expect(known.informationGain - unknown.informationGain).toBeCloseTo(2, 10);
    expect(unknown.words).toContain('too light');
  });

  it('mirrors: the heavy edge of mirrored masses says the same', () => {
    const mirrored = truncatedNormal({
      massesGrams: cut.massesGrams.map((mass) => 62 - mass),
      lightEdge: { kind: 'none' },
      heavyEdge: { kind: 'known', massGrams: 62 - 31.1 },
    });
    const plain = truncatedNormal(cut);
    expect(62 - mirrored.meanGrams).toBeCloseTo(plain.meanGrams, 8);
    expect(mirrored.cutHeavyFraction).toBeCloseTo(plain.cutLightFraction, 7);
  });

  it('refuses a known edge inside the masses, equal masses, and masses without a maximum', () => {
    expect(() =>
      truncatedNormal({ ...cut, lightEdge: { kind: 'known', massGrams: 31.12 } }),
    ).toThrow('up to that of the lightest piece, 31.101 g');
    expect(() =>
      truncatedNormal({ ...cut, heavyEdge: { kind: 'known', massGrams: 31.12 } }),
    ).toThrow('from that of the heaviest piece, 31.195 g');
    expect(() => truncatedNormal({ ...cut, massesGrams: [31.2, 31.2, 31.2, 31.2, 31.2] })).toThrow(
      'not all equal',
    );
    const falling = [31.1, 31.101, 31.102, 31.104, 31.107, 31.112, 31.12, 31.14, 31.19, 31.3];
    expect(() => truncatedNormal({ ...cut, massesGrams: falling })).toThrow(
      'as wide as the exponential distribution',
    );
  });
});

describe('sorterEdge', () => {
  it('gives the estimates of the outermost pieces', () => {
    const result = sorterEdge({ ...edge, nearestPieces: 2, confidence: 0.75 });
    // 2·31.101 − 31.104, and r = 3 for k = 2 at 75 %.
    expect(result.spacingEstimateGrams).toBeCloseTo(31.098, 10);
    expect(result.spacingBoundGrams).toBeCloseTo(31.101 - 3 * 0.003, 10);
    expect(result.edgeGrams).toBe(31.101);
    expect(result.edgeToGrams).toBe(31.101);
  });

  it('mirrors to the heavy side', () => {
    const light = sorterEdge(edge);
    const heavy = sorterEdge({
      ...edge,
      side: 'heavy',
      massesGrams: edge.massesGrams.map((mass) => 62 - mass),
      unsorted: { kind: 'known', meanGrams: 62 - 31.118, standardDeviationGrams: 0.032 },
    });
    expect(heavy.edgeToGrams).toBeCloseTo(62 - (light.edgeFromGrams ?? 0), 9);
    expect(heavy.cutFraction).toBeCloseTo(light.cutFraction, 9);
    expect(heavy.words).toContain('heavy pieces');
  });

  it('does not see a cut where there was none', () => {
    const result = sorterEdge({ ...edge, side: 'heavy' });
    expect(result.verdict).toBe('not-shown');
    expect(result.edgeToGrams).toBeNull();
    expect(result.words).toContain('no edge at all');
  });

  it('a blurred edge may lie above the lightest piece', () => {
    const result = sorterEdge({ ...edge, sorterRepeatabilityGrams: 0.004 });
    expect(result.edgeToGrams as number).toBeGreaterThan(31.101);
    expect(result.edgeFromGrams as number).toBeLessThan(31.101);
  });

  it.each([
    [{ nearestPieces: 31 }, 'at most the 30 pieces'],
    [{ massesGrams: new Array<number>(30).fill(31.1) }, 'not all equal'],
    [{ otherEdgeGrams: 31.12 }, 'beyond the outermost piece of the other side'],
    [{ otherEdgeGrams: 31.3, sorterRepeatabilityGrams: 0.01 }, 'no other edge beside a blurred'],
  ])('refuses %j', (change, accepted) => {
    expect(() => sorterEdge({ ...edge, ...change })).toThrow(accepted);
  });

  it('refuses to fit masses that fall off like an exponential distribution', () => {
    const massesGrams = [31.1, 31.101, 31.102, 31.104, 31.107, 31.112, 31.12, 31.14, 31.19, 31.3];
    expect(() => sorterEdge({ ...edge, massesGrams, unsorted: { kind: 'estimated' } })).toThrow(
      'known distribution of the unsorted masses',
    );
  });
});
