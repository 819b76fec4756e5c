import { describe, expect, it } from 'vitest';
import { dimensionConformity } from '../../../src/physical/dimension-conformity.ts';
import { type GrainSizeInput, grainSize } from '../../../src/physical/grain-size.ts';
import { vickers } from '../../../src/physical/vickers.ts';
import values from './values.json' with { type: 'json' };

function expectRelative(found: number | null, expected: number, tolerance = 1e-11): void {
  expect(Math.abs((found ?? Number.NaN) / expected - 1)).toBeLessThan(tolerance);
}

interface Statistics {
  readonly mean: number;
  readonly standardDeviation: number;
  readonly half: number;
  readonly grainSize: number;
}

function expectGrains(input: GrainSizeInput, expected: Statistics): void {
  const output = grainSize(input);
  expectRelative(output.meanCount, expected.mean);
  expectRelative(output.countStandardDeviation, expected.standardDeviation);
  expectRelative(output.relativeAccuracyPercent, (100 * expected.half) / expected.mean);
  expectRelative(output.grainSize, expected.grainSize);
}

describe('grain statistics', () => {
  it.each(values.intercepts)('of $counts.length fields of intercepts', (one) => {
    const fields = one.counts.map((intercepts) => ({
      lineLengthMillimetres: one.lineLengthMillimetres,
      intercepts,
    }));
    expectGrains(
      { count: { method: 'intercepts', fields }, magnification: one.magnification },
      one,
    );
  });

  it.each(values.areas)('of $inside.length fields in a $shape', (one) => {
    const fields = one.inside.map((grainsInside, at) => ({
      areaSquareMillimetres: 5000,
      grainsInside,
      grainsOnEdge: one.edge[at] ?? 0,
    }));
    const shape = one.shape as 'circle' | 'rectangle';
    expectGrains({ count: { method: 'planimetric', shape, fields }, magnification: 100 }, one);
  });
});

describe('hardness statistics', () => {
  it.each(values.hardness)('of $first.length indentations', (one) => {
    const output = vickers({
      testForceNewtons: one.force,
      indentations: one.first.map((first, at) => ({
        label: `${at}`,
        firstDiagonalMillimetres: first,
        secondDiagonalMillimetres: one.second[at] ?? 0,
      })),
      spacingGroup: 'steel and copper alloys',
      diagonalStandardUncertaintyMillimetres: 0,
      forceRelativeStandardUncertaintyPercent: 0,
    });
    expectRelative(output.meanHardness, one.mean);
    expectRelative(output.standardDeviation, one.standardDeviation);
    expectRelative(output.intervalUpper, one.mean + one.half);
    expectRelative(output.intervalLower, one.mean - one.half);
  });
});

describe('probability that a size conforms', () => {
  it.each(values.sizes)('at $reading mm', (one) => {
    const output = dimensionConformity({
      rule: 'probability 95 %',
      dimensions: [
        {
          label: 'size',
          readingsMillimetres: [one.reading],
          lowerLimitMillimetres: one.lower,
          upperLimitMillimetres: one.upper,
          standardUncertaintyMillimetres: one.u,
        },
      ],
    });
    expectRelative(output.dimensions[0]?.conformanceProbability ?? 0, one.inside, 1e-10);
    const verdict =
      one.inside >= 0.95 ? 'conforms' : one.inside <= 0.05 ? 'does not conform' : 'undecided';
    expect(output.verdict).toBe(verdict);
  });
});
