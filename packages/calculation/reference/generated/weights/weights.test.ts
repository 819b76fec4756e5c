import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { dip } from '../../../src/weights/dip.ts';
import { truncatedNormal } from '../../../src/weights/truncated-normal.ts';
import { fitTwoNormals } from '../../../src/weights/two-normals.ts';
import values from './values.json' with { type: 'json' };

const coins = readFileSync(new URL('../../euro-coin-weights/values.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => Number(line.split(',')[2]));

interface Expected {
  readonly low: number | null;
  readonly high: number | null;
  readonly mean: number;
  readonly sd: number;
  readonly meanError: number;
  readonly sdError: number;
  readonly logLikelihood: number;
}

function expectCut(massesGrams: readonly number[], expected: Expected): void {
  const edge = (mass: number | null) =>
    mass === null ? { kind: 'none' as const } : { kind: 'known' as const, massGrams: mass };
  const found = truncatedNormal({
    massesGrams: [...massesGrams],
    lightEdge: edge(expected.low),
    heavyEdge: edge(expected.high),
  });
  expect(Math.abs(found.meanGrams - expected.mean)).toBeLessThan(1e-4 * expected.meanError);
  expect(Math.abs(found.standardDeviationGrams - expected.sd)).toBeLessThan(
    1e-4 * expected.sdError,
  );
  expect(Math.abs(found.meanStandardErrorGrams / expected.meanError - 1)).toBeLessThan(1e-3);
  expect(Math.abs(found.standardDeviationStandardErrorGrams / expected.sdError - 1)).toBeLessThan(
    1e-3,
  );
  expect(Math.abs(found.logLikelihood - expected.logLikelihood)).toBeLessThan(1e-6);
}

describe('the dip against linear programming', () => {
  it('agrees for every small sample, with and without equal values', () => {
    expect(values.dips).toHaveLength(36);
    for (const { values: sample, dip: expected } of values.dips) {
      expect(Math.abs(dip(sample).dip - expected)).toBeLessThan(1e-9);
    }
  });
});

describe('normal distributions that were cut', () => {
  it.each(values.cuts)('$name', (cut) => expectCut(cut.values, cut));

  it('2000 coins of which only those between 7.5 g and 7.58 g are kept', () => {
    const { cut } = values.coins;
    const kept = coins.filter((mass) => mass >= 7.5 && mass <= 7.58);
    expect(kept).toHaveLength(cut.count);
    expectCut(kept, cut);
  });
});

describe('two normal heaps', () => {
  function expectHeaps(
    masses: readonly number[],
    expected: { share: number; means: number[]; sds: number[]; logLikelihood: number },
  ): void {
    const fit = fitTwoNormals(masses, false);
    if (!fit) throw new Error('no fit');
    const error = (place: number) => 1e-4 * Math.sqrt(fit.covariance[place]?.[place] ?? 0);
    expect(Math.abs(fit.share - expected.share)).toBeLessThan(error(0));
    for (const side of [0, 1] as const) {
      expect(Math.abs(fit.means[side] - (expected.means[side] as number))).toBeLessThan(
        error(1 + side),
      );
      expect(Math.abs(fit.standardDeviations[side] - (expected.sds[side] as number))).toBeLessThan(
        error(3 + side),
      );
    }
    expect(Math.abs(fit.logLikelihood - expected.logLikelihood)).toBeLessThan(1e-6);
  }

  it('150 masses', () => expectHeaps(values.heaps.values, values.heaps));

  it('2000 coins: a handful of strays beside one heap', () => {
    expectHeaps(coins, values.coins.strays);
  });
});
