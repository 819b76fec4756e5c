import { medianVarianceRatio } from '@cupel/calculation';
import fc from 'fast-check';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import {
  type MeltUncertaintyInput,
  meltUncertainty,
  meltUncertaintyInput,
  meltUncertaintyOutput,
} from './melt-uncertainty.ts';

type Portion = MeltUncertaintyInput['determinations'][number];

const parts = { own: 0.1, run: 0.1, method: 0.02 };

const portion = (
  blank: string,
  finenessPerMille: number,
  more: { run?: string; own?: number; shared?: number; method?: number } = {},
): Portion => ({
  run: more.run ?? 'R-1',
  label: `${blank}-${finenessPerMille}`,
  blank,
  finenessPerMille,
  ownStandardUncertaintyPerMille: more.own ?? parts.own,
  runStandardUncertaintyPerMille: more.shared ?? parts.run,
  methodStandardUncertaintyPerMille: more.method ?? parts.method,
});

const ofMean = (determinations: Portion[]) =>
  meltUncertainty({ statistic: 'mean', determinations });

/** Standard normal numbers from a seed, by the method of Box and Muller. */
function normals(seed: number): () => number {
  const generator = xoroshiro128plus(seed);
  return () => {
    const radius = Math.sqrt(-2 * Math.log(1 - uniformFloat64(generator)));
    return radius * Math.cos(2 * Math.PI * uniformFloat64(generator));
  };
}

describe('the uncertainty of the fineness of a melt', () => {
  it('gives the figure of its own example', () => {
    const found = ofMean([portion('A', 916.8), portion('B', 916.8)]);
    expect(found.standardUncertaintyPerMille).toBeCloseTo(0.1241, 4);
  });

  it('averages the own parts and leaves the part that a run shares whole', () => {
    // 0.1²/2 + 0.1² + 0.02² = 0.0154, summed by hand from JCGM 100:2008, 5.2.2.
    const found = ofMean([portion('A', 916.8), portion('B', 916.8)]);
    expect(found.standardUncertaintyPerMille ** 2).toBeCloseTo(0.0154, 12);
    const more = ofMean(['A', 'B', 'C', 'D'].map((blank) => portion(blank, 916.8)));
    expect(more.standardUncertaintyPerMille ** 2).toBeCloseTo(0.01 / 4 + 0.01 + 0.0004, 12);
  });

  it('lets the part of a run fall only with the number of runs, and that of the method never', () => {
    // Two runs: 0.1²/2 + 2·(0.1/2)² + 0.02², by hand.
    const found = ofMean([portion('A', 916.8), portion('B', 916.8, { run: 'R-2' })]);
    expect(found.standardUncertaintyPerMille ** 2).toBeCloseTo(0.005 + 0.005 + 0.0004, 12);
    const method = found.budget.find((line) => line.contribution === 'shared by the method');
    expect(method?.standardUncertaintyPerMille).toBeCloseTo(0.02, 12);
  });

  it('takes the spread of the determinations where it exceeds their own parts', () => {
    // s² = 0.08 of 916.6 and 917.0; the independent part of the mean is then s²/2 = 0.04.
    const found = ofMean([portion('A', 916.6), portion('B', 917)]);
    expect(found.spreadStandardDeviationPerMille ** 2).toBeCloseTo(0.08, 12);
    expect(found.betweenBlanksStandardDeviationPerMille ** 2).toBeCloseTo(0.07, 12);
    expect(found.standardUncertaintyPerMille ** 2).toBeCloseTo(0.04 + 0.01 + 0.0004, 12);
  });

  it('counts a blank that was determined three times as one blank', () => {
    // n = 4, blanks of 3 and 1: s² = 0.04 from 916.6 ×3 and 917.0 (mean 916.7), own 0:
    // s_B² = 0.04·3/(4 − 10/4) = 0.08, part of the mean 0.08·10/16 = 0.05.
    const none = { own: 0, shared: 0, method: 0 };
    const found = ofMean([
      portion('A', 916.6, none),
      portion('A', 916.6, none),
      portion('A', 916.6, none),
      portion('B', 917, none),
    ]);
    expect(found.betweenBlanksStandardDeviationPerMille ** 2).toBeCloseTo(0.08, 12);
    expect(found.standardUncertaintyPerMille ** 2).toBeCloseTo(0.05, 12);
    expect(found.effectiveDegreesOfFreedom).toBeCloseTo(1, 12);
  });

  it('has degrees of freedom after Welch and Satterthwaite, and none where the spread says nothing', () => {
    // JCGM 100:2008, G.4.1: ν = u⁴ / (u_between⁴ / 1) with u² = 0.0504 and u_between² = 0.035.
    const found = ofMean([portion('A', 916.6), portion('B', 917)]);
    expect(found.effectiveDegreesOfFreedom).toBeCloseTo((0.0504 / 0.035) ** 2, 9);
    const agreeing = ofMean([portion('A', 916.8), portion('B', 916.8)]);
    expect(agreeing.effectiveDegreesOfFreedom).toBeNull();
  });

  it('gives the true variance of the mean on average in a simulation of blanks, runs and portions', () => {
    const normal = normals(7);
    const spread = { between: 0.3, own: 0.1, run: 0.15, method: 0.05 };
    const rounds = 40_000;
    let errors = 0;
    let claimed = 0;
    for (let round = 0; round < rounds; round += 1) {
      const runs = [normal() * spread.run, normal() * spread.run];
      const method = normal() * spread.method;
      // Four blanks, each with its own deviation; a run shifts its two portions alike.
      const determinations = ['A', 'B', 'C', 'D'].map((blank, index) => {
        const run = index % 2;
        const own = normal() * spread.between + normal() * spread.own;
        const found = 916.7 + own + (runs[run] ?? 0) + method;
        return portion(blank, found, { ...spread, run: `R-${run}`, shared: spread.run });
      });
      const mean = determinations.reduce((sum, one) => sum + one.finenessPerMille, 0) / 4;
      errors += (mean - 916.7) ** 2;
      claimed += ofMean(determinations).standardUncertaintyPerMille ** 2;
    }
    // Runs that differ raise the spread too: s² holds 0.15²·2/3, hence the claim is above the truth
    // by 0.15²·(2/3)/4 = 0.00375; truncation at zero adds less than 1 % of the variance here.
    const doubled = (spread.run ** 2 * (2 / 3)) / 4;
    expect((claimed / rounds - doubled) / (errors / rounds)).toBeGreaterThan(0.97);
    expect((claimed / rounds - doubled) / (errors / rounds)).toBeLessThan(1.03);
  });

  it('never claims less than the shared parts, and its shares add to 100 %', () => {
    const fineness = fc.double({ min: 900, max: 999, noNaN: true });
    const part = fc.double({ min: 0.001, max: 1, noNaN: true });
    const determination = fc.tuple(fc.constantFrom('A', 'B', 'C'), fineness, part);
    const several = fc
      .array(determination, { minLength: 2, maxLength: 4 })
      .filter((list) => new Set(list.map(([blank]) => blank)).size > 1);
    fc.assert(
      fc.property(several, part, part, (list, shared, method) => {
        const found = ofMean(
          list.map(([blank, value, own]) => portion(blank, value, { own, shared, method })),
        );
        const least = Math.hypot(shared, method) * (1 - 1e-12);
        expect(found.standardUncertaintyPerMille).toBeGreaterThanOrEqual(least);
        const shares = found.budget.reduce((sum, line) => sum + line.sharePercent, 0);
        expect(shares).toBeCloseTo(100, 9);
        expect(meltUncertaintyOutput.safeParse(found).success).toBe(true);
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });

  it('refuses determinations of one blank, and fewer than two', () => {
    expect(() => ofMean([portion('A', 916.6), portion('A', 917)])).toThrow(
      '2 determinations of one blank; accepted: of at least two blanks',
    );
    const one = { statistic: 'mean', determinations: [portion('A', 916.6)] };
    expect(meltUncertaintyInput.safeParse(one).success).toBe(false);
  });
});

describe('the median of four', () => {
  it('has the variance that the order statistics of four normal results give', () => {
    // Joint density of the second and third of four: 24·Φ(x)·φ(x)·φ(y)·(1 − Φ(y)) for x < y.
    const step = 0.02;
    const grid = Array.from({ length: 801 }, (_, index) => -8 + index * step);
    const density = grid.map((x) => Math.exp(-x * x * 0.5) / Math.sqrt(2 * Math.PI));
    let below = 0;
    const distribution = density.map((value, index) => {
      below += index === 0 ? 0 : (step * (value + (density[index - 1] ?? 0))) / 2;
      return below;
    });
    let variance = 0;
    for (const [i, x] of grid.entries()) {
      for (let j = i; j < grid.length; j += 1) {
        const y = grid[j] ?? 0;
        const joint =
          24 *
          (distribution[i] ?? 0) *
          (density[i] ?? 0) *
          (density[j] ?? 0) *
          (1 - (distribution[j] ?? 0));
        // The diagonal belongs to the triangle by half.
        variance += (i === j ? 0.5 : 1) * joint * ((x + y) / 2) ** 2 * step * step;
      }
    }
    expect(4 * variance).toBeCloseTo(medianVarianceRatio(4), 3);
  });

  it('makes the independent parts greater and leaves the shared ones', () => {
    const four = ['A', 'B', 'C', 'D'].map((blank) => portion(blank, 916.8));
    const found = meltUncertainty({ statistic: 'median of four', determinations: four });
    const expected = (medianVarianceRatio(4) * 0.01) / 4 + 0.01 + 0.0004;
    expect(found.standardUncertaintyPerMille ** 2).toBeCloseTo(expected, 12);
  });
});
